package access

import (
	"doorsill/internal/decimal"
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
)

// balance compares the weakest needed direction with the strongest. It is a
// note and no bar, unless one direction cannot be given at all.
func balance(c *candidate) (Reason, bool) {
	site := c.analysis.At(c.setup.Site)
	weak, strong := extremes(site, c.setup.Needed)
	if weak == strength.NoDirection || c.setup.OperateGF == 0 {
		return Reason{}, false
	}
	least, _ := site.Force[weak].Usable()
	most, _ := site.Force[strong].Usable()
	share, _ := decimal.Ratio(least, most)
	r := Reason{Rule: "balance", Say: message.New("access.balance",
		message.Word("weak", weak.String()), message.Number("least", least),
		message.Word("strong", strong.String()), message.Number("most", most), message.Exact("share", share))}
	if least == most {
		r.Say = message.New("access.balance-alike", message.Number("force", least))
	}
	if key := c.reverseKey(); !key.Empty() {
		r.Say = message.New("access.balance-with-key", message.Inner("balance", r.Say), message.Inner("key", key))
	}
	switch {
	case least == 0:
		r.Verdict = NotFeasible
		r.Change = message.New("access.balance-mend")
	case share < micro(strength.BalanceEven):
		r.Verdict, r.Advisory = Marginal, true
		r.Change = message.New("access.balance-improve", message.List("ways", c.evener(weak, strong)))
	}
	return r, true
}

// extremes returns the weakest needed direction and the strongest of all.
// Without readings in each needed direction there is none.
func extremes(site *strength.Site, needed []strength.Direction) (weak, strong strength.Direction) {
	least, most := 0.0, -1.0
	for _, d := range needed {
		usable, _ := site.Force[d].Usable()
		if !site.Force[d].Measured() {
			return strength.NoDirection, strength.NoDirection
		}
		if weak == strength.NoDirection || usable < least {
			weak, least = d, usable
		}
	}
	for d := strength.Forward; d <= strength.Right; d++ {
		if usable, _ := site.Force[d].Usable(); site.Force[d].Measured() && usable > most {
			strong, most = d, usable
		}
	}
	return weak, strong
}

// evener lists what makes the directions more alike.
func (c *candidate) evener(weak, strong strength.Direction) []message.Message {
	var ways []message.Message
	if strong != strength.Forward {
		ways = append(ways, message.New("access.turned-axes", message.Word("strong", strong.String())))
	}
	if weak == strength.Reverse && c.control.ModeJack {
		return append(ways, message.New("access.shorter-throw-or-key",
			message.Word("weak", weak.String()), message.Number("proven", strength.SwitchProven)))
	}
	return append(ways, message.New("access.shorter-throw", message.Word("weak", weak.String())))
}
