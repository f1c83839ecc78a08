package access

import (
	"doorsill/internal/decimal"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/say"
	"doorsill/internal/engine/strength"
)

// reasons applies every rule that has something to say about the control. While
// the base moves no other rule means anything.
func reasons(in *Input) []Reason {
	steady, given := base(in)
	if in.Needs.Base == baseMoves {
		return []Reason{steady}
	}
	list := append(make([]Reason, 0, 14),
		force(in), travel(in), noise(in), release(in), pain(in), fading(in), hold(in))
	for _, rule := range [...]func(*Input) (Reason, bool){rough, wet, helper, balance, grading} {
		if reason, applies := rule(in); applies {
			list = append(list, reason)
		}
	}
	if given {
		list = append(list, steady)
	}
	return list
}

// term is a rule that is about a word or a kind and not about a quantity. The
// changes are for Marginal, Unknown and NotFeasible.
type term struct {
	id, item string
	change   [NotFeasible]string
}

// The terms, read only. Moisture is rule 6, the helper rule 9, balance rule 10,
// grading rule 13 and the base rule 14.
var (
	wetTerm = term{id: "wet", item: "ctl-wet", change: [...]string{
		"A sealed control, a cover that is fitted and wiped, or a drier site.",
		"Note whether the site is dry, damp or wet.",
		"A control that is sealed against splash, or a drier site.",
	}}
	helperTerm = term{id: "helper", change: [...]string{
		"Try it with the helper in the usual gloves, or fit a separate attendant control.",
		"Read off the control what it asks.",
		"Fit a separate attendant control.",
	}}
	gradingTerm = term{id: "grading", item: "ctl-grade", change: [...]string{
		"A longer throw, a lower speed, practice; else think of switches.",
		"Ask for a small, a middle and a full command.",
		"Treat it as a switched control, or use switches.",
	}}
	baseTerm = term{id: "base", change: [...]string{
		"Settle the seat and stiffen the mount, then measure again.",
		"Fix the base and the mount first, then measure again.",
		"",
	}}
)

func (t *term) reason(v Verdict, sentence string) Reason {
	r := Reason{Rule: t.id, Item: t.item, Verdict: v, Say: sentence}
	if v != Feasible {
		r.Change = t.change[v-1]
	}
	return r
}

// wet counts a control as sealed from the second digit of its code that stands
// for splashing water.
func wet(in *Input) (Reason, bool) {
	how, site, seal := "", say.Words{strength.SiteWords(in.Setup.Site)}, float64(in.control.Seal)
	for _, m := range in.Moist {
		if m.Site == in.Setup.Site {
			how = m.How
		}
	}
	switch {
	case how == "":
		r := wetTerm.reason(Unknown, say.Line("How wet the {} gets is not noted.", site))
		r.Item, r.Advisory = "", true
		return r, true
	case how == "dry":
		return wetTerm.reason(Feasible, say.Line("Dry at the {}.", site)), true
	}
	v, words := Marginal, append(say.Words{how}, site[0])
	if how == "wet" {
		v = NotFeasible
	}
	switch {
	case in.control.Seal >= strength.SealSplash:
		return wetTerm.reason(Feasible, say.Line("{^} at the {}, and sealed: {0} as the second digit of the IEC 60529 code, {0} (splash) is asked.", words, seal, strength.SealSplash)), true
	case in.control.Seal >= 0:
		return wetTerm.reason(v, say.Line("{^} at the {}, and not sealed: {0} as the second digit of the IEC 60529 code, {0} (splash) is asked.", words, seal, strength.SealSplash)), true
	}
	return wetTerm.reason(v, say.Line("{^} at the {}, and no sealing of the control is known.", words)), true
}

// helper asks what a helper's hand needs who drives with the same control.
func helper(in *Input) (Reason, bool) {
	c, asked := &in.control, in.Setup.OperateGF
	switch {
	case in.Needs.HelperDrives != Yes:
		return Reason{}, false
	case asked == 0 && c.proportional():
		return helperTerm.reason(Unknown, "A helper drives with this control too, and the force that it asks is not entered."), true
	case asked > strength.HelperHand:
		return helperTerm.reason(Feasible, say.Line("A helper drives with this control too: {1} gf suits a hand.", nil, asked)), true
	case asked <= strength.LightControl:
		return helperTerm.reason(NotFeasible, say.Line("A helper drives with this control too: {1} gf is too light for that.", nil, asked)), true
	case c.Attendant:
		return helperTerm.reason(Feasible, say.Line("A helper drives with this control too: {1} gf, listed as fit for a helper.", nil, asked)), true
	}
	return helperTerm.reason(Marginal, say.Line("A helper drives with this control too: {1} gf is light for a hand.", nil, asked)), true
}

// gradeWords say how much help grading took, by level.
var gradeWords = [...]string{"not yet", "with hands", "with words", "alone but slowly", "alone"} // read only

// grading only matters for a control that answers to how far it is moved, and
// is only known of the site that was driven with.
func grading(in *Input) (Reason, bool) {
	if !in.control.proportional() || in.elsewhere {
		return Reason{}, false
	}
	if !in.GradeAsked {
		r := gradingTerm.reason(Unknown, "Small, middle and full commands were not tried.")
		r.Item, r.Advisory = "", true
		return r, true
	}
	v := [...]Verdict{NotFeasible, Marginal, Marginal, Feasible, Feasible}[in.Grade]
	return gradingTerm.reason(v, say.Line("Small, middle and full commands on request: {}.", say.Words{gradeWords[in.Grade]})), true
}

func base(in *Input) (Reason, bool) {
	switch in.Needs.Base {
	case "stable":
		return baseTerm.reason(Feasible, "The base is stable and the mount stiff."), true
	case "adjustable":
		return baseTerm.reason(Marginal, "The base or the mount had to be adjusted today."), true
	case baseMoves:
		return baseTerm.reason(Unknown, "The base or the mount moves, so there is no verdict on any control."), true
	}
	return Reason{}, false
}

// balance compares the weakest needed direction with the strongest. It is a
// note and no bar, unless one direction cannot be given at all.
func balance(in *Input) (Reason, bool) {
	site := in.Analysis.At(in.Setup.Site)
	weak, strong := extremes(site, in.Setup.Needed)
	if weak == strength.NoDirection || in.Setup.OperateGF == 0 {
		return Reason{}, false
	}
	least, _ := site.Force[weak].Usable()
	most, _ := site.Force[strong].Usable()
	share, _ := decimal.Ratio(least, most)
	r := Reason{Rule: "balance"}
	r.Say = say.Line("Weakest {}, {1-} gf; strongest {}, {1-} gf; {2-} of it.", say.Words{weak.String(), strong.String()}, least, most, share.Float())
	if least == most {
		r.Say = say.Line("All directions alike, {1-} gf.", nil, least)
	}
	_, key := in.reverse()
	r.Say += key
	switch {
	case least == 0:
		r.Verdict = NotFeasible
		r.Change = "Three directions and a mode key for the fourth, or switches."
	case share < micro(strength.BalanceEven):
		r.Verdict, r.Advisory = Marginal, true
		r.Change = say.Line("A note and no bar. {}A shorter throw {} (less way, the same force), a shifted mount{}.",
			say.Words{turned(strong), weak.String(), switched(in, weak)})
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

func turned(strong strength.Direction) string {
	if strong == strength.Forward {
		return ""
	}
	return say.Line("Turned axes, so that {} drives forward. ", say.Words{strong.String()})
}

func switched(in *Input, weak strength.Direction) string {
	if weak != strength.Reverse || !in.control.ModeJack {
		return ""
	}
	return say.Line(", or reverse by a key that is shown to work with a switch reserve of {0}", nil, strength.SwitchProven)
}

// reverse reports whether a proven key takes reverse off the needed directions,
// and says why or why not once such a key was shown.
func (in *Input) reverse() (off bool, sentence string) {
	f := quantity.Quantity{}
	if in.Analysis != nil {
		f = in.Analysis.Own[strength.ModeSwitch]
	}
	switch {
	case in.Needs.ReverseKey != Yes:
		return false, ""
	case !in.control.ModeJack:
		return false, " There is no jack for a mode key, so reverse cannot be switched and stays needed."
	case !f.Has():
		return false, " Reverse stays needed: the switch reserve of the reverse key is not measured."
	case f.Value < micro(strength.SwitchProven):
		return false, say.Line(" Reverse stays needed: the switch reserve of the reverse key is {2-}, {0} is asked.", nil, f.Value.Float(), strength.SwitchProven)
	}
	return true, say.Line(" Reverse is switched: the reverse key has a switch reserve of {2-}.", nil, f.Value.Float())
}

// Needed returns the directions that the chosen control must be given by the
// driver: those of the set-up, without reverse when a proven key gives it.
func (in *Input) Needed() []strength.Direction {
	own := *in
	own.control = in.own()
	return own.needed()
}

func (in *Input) needed() []strength.Direction {
	asked := in.Asked
	if asked == nil && in.Setup != nil {
		asked = in.Setup.Needed
	}
	if asked == nil {
		asked = []strength.Direction{strength.Forward, strength.Reverse, strength.Left, strength.Right}
	}
	off, _ := in.reverse()
	if !off {
		return asked
	}
	kept := make([]strength.Direction, 0, len(asked))
	for _, d := range asked {
		if d != strength.Reverse {
			kept = append(kept, d)
		}
	}
	if len(kept) == 0 {
		return asked
	}
	return kept
}
