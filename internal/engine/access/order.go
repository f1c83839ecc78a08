package access

import (
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
)

// key puts choices into order: of the first number that differs, the smaller
// goes first.
type key [keys]int64

const (
	byVerdict = iota
	byIdea
	byStrain
	byCautions
	bySensitivity
	byWish
	byReserve
	keys
)

// because holds the codes of why the first choice goes before another, and why
// one goes behind the one before; read only. Strain has none: there the choice
// that goes behind says why a lighter one is asked.
var because = [...]struct{ before, behind string }{
	byVerdict:     {"access.better-verdict", "access.worse-verdict"},
	byIdea:        {"access.in-kit", "access.not-at-hand"},
	byCautions:    {"access.fewer-cautions", "access.more-cautions"},
	bySensitivity: {"access.least-sensitive", "access.too-sensitive"},
	byWish:        {"access.wished", "access.other-wished"},
	byReserve:     {"access.more-reserve", "access.less-reserve"},
	keys:          {"access.not-apart", "access.not-apart"},
}

func keyOf(in *Input, c *Choice) key {
	k := key{byVerdict: int64(c.Indoors), bySensitivity: -int64(heft(c.control.OperateGF)), byReserve: -int64(c.Reserve)}
	if answered(in.Needs.RoughGround, true) {
		k[byVerdict] = int64(c.Outdoors)
	}
	if !c.lighter.Empty() {
		k[byStrain] = 1
	}
	for i := range c.Reasons {
		if r := &c.Reasons[i]; r.Verdict != Feasible && (!r.Advisory || r.Caution) {
			k[byCautions]++
		}
	}
	if in.Needs.WishSite == c.Site {
		k[byWish]--
	}
	if in.Needs.WishControl == c.Control {
		k[byWish]--
	}
	if usual(c.control) {
		k[byIdea] = 1
	}
	return k
}

// heft tells heavy, light and very light controls apart.
func heft(gf float64) int {
	switch {
	case micro(gf) > micro(strength.RoughHeavy):
		return 2
	case micro(gf) > micro(strength.LightControl):
		return 1
	}
	return 0
}

// lighter says why a lighter class than this is asked for: pain or strain with
// the chosen control, or a fast course. It is not asked of the lightest.
func lighter(in *Input, c *Choice, reserve *quantity.Quantity) message.Message {
	if c.control.OperateGF > 0 && heft(c.control.OperateGF) == 0 {
		return message.Message{}
	}
	same := in.Setup != nil && in.Setup.Site == c.Site && heft(c.control.OperateGF) >= heft(in.Setup.OperateGF)
	switch {
	case same && in.PainAsked && in.Pain > micro(strength.PainMild):
		return message.New("access.lighter-for-pain", message.Exact("pain", in.Pain))
	case same && (in.Strain || in.Alarm):
		return message.New("access.lighter-for-strain")
	case in.Needs.Course == "fast" && reserve.Has() && reserve.Value < micro(strength.ReserveRoomy):
		return message.New("access.lighter-for-course", message.Number("roomy", strength.ReserveRoomy))
	}
	return message.Message{}
}

// rank puts what is not refused into the order of choice.
func rank(in *Input, list []Choice) {
	order := make([]*Choice, 0, len(list))
	for i := range list {
		if list[i].Indoors == NotFeasible || list[i].RuledOut {
			continue
		}
		order = append(order, &list[i])
		for j := len(order) - 1; j > 0 && order[j].key.first(&order[j-1].key) < 0; j-- {
			order[j], order[j-1] = order[j-1], order[j]
		}
	}
	for i, c := range order {
		c.Rank = i + 1
		if i > 0 {
			at := c.key.differs(&order[i-1].key)
			c.add(message.New("access.place", message.Count("rank", c.Rank), message.Inner("why", c.why(at, because[at].behind))))
		}
	}
	if len(order) == 0 {
		return
	}
	main := order[0]
	main.Role = "main"
	switch {
	case len(order) == 1:
	case main.Indoors == Unknown:
		main.add(message.New("access.first-to-measure", message.List("merits", merits(order))))
	default:
		main.add(message.New("access.first-choice", message.List("merits", merits(order))))
	}
	main.add(lasts(in, main))
	second := fallback(in, order)
	switch {
	case second != nil:
		second.Role = "fallback"
		second.add(message.New("access.fallback"))
		second.add(lasts(in, second))
	case in.sites() < 2:
		main.add(message.New("access.second-site"))
	default:
		main.add(message.New("access.no-fallback"))
	}
}

// why says what sets a choice behind another, by where their keys part.
func (c *Choice) why(at int, code string) message.Message {
	if at == byStrain {
		return c.lighter
	}
	return message.New(code)
}

// first compares two keys; what it returns is below 0 when k goes first, above
// 0 when other does.
func (k *key) first(other *key) int64 {
	return k[k.differs(other)%keys] - other[k.differs(other)%keys]
}

// differs returns where two keys part, or keys when they do not.
func (k *key) differs(other *key) int {
	for i := range k {
		if k[i] != other[i] {
			return i
		}
	}
	return keys
}

// merits lists what sets the first choice apart from any of the others.
func merits(order []*Choice) []message.Message {
	var list []message.Message
	for at := range because {
		for _, c := range order[1:] {
			if order[0].key.differs(&c.key) == at {
				list = append(list, c.why(at, because[at].before))
				break
			}
		}
	}
	return list
}

// fallback is the best choice at another site than the first, or else the next
// one that is more than the same kind over again. It is nothing that is refused
// where the person must drive; and as long as one site alone was measured, the
// answer is to measure another.
func fallback(in *Input, order []*Choice) *Choice {
	var next *Choice
	main := order[0]
	for _, c := range order[1:] {
		switch {
		case answered(in.Needs.RoughGround, true) && c.Outdoors == NotFeasible:
		case c.Site != main.Site:
			return c
		case next == nil && !usual(c.control):
			next = c
		}
	}
	if in.sites() < 2 {
		return nil
	}
	return next
}

// sites counts the sites where force was measured and that are not ruled out.
func (in *Input) sites() int {
	n := 0
	for i := range in.Analysis.Sites {
		if _, out := in.ruledOut(in.Analysis.Sites[i].ID); !out && in.Analysis.Sites[i].HasForce() {
			n++
		}
	}
	return n
}

// lasts says how fast force may fall before the reserve is too small at the end
// of the wait. The pace itself takes readings of several visits.
func lasts(in *Input, c *Choice) message.Message {
	n := &in.Needs
	left := float64((c.Reserve.Float() - strength.ReserveWorkable) * c.control.OperateGF)
	if n.WaitWeeks == nil || n.Course != "slow" && n.Course != "fast" || left <= 0 {
		return message.Message{}
	}
	weeks := *n.WaitWeeks + strength.AfterDelivery
	return message.New("access.lasts", message.Number("reserve", strength.ReserveWorkable), message.Number("weeks", strength.AfterDelivery), message.Number("fall", left/weeks))
}
