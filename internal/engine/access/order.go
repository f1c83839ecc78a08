package access

import (
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/say"
	"doorsill/internal/engine/strength"
)

// key puts choices into order: of the first number that differs, the smaller
// goes first.
type key [keys]int64

const (
	byVerdict = iota
	byStrain
	byCautions
	bySensitivity
	byWish
	byKit
	byReserve
	keys
)

// because says why the first choice goes before another, and why one goes behind
// the one before; read only.
var because = [...]struct{ before, behind string }{
	byVerdict:     {"a better verdict than others", "a worse verdict"},
	byStrain:      {"one class lighter is asked, because of {}", "one class lighter is asked, because of {}"},
	byCautions:    {"fewer cautions", "more cautions"},
	bySensitivity: {"the least sensitive kind that has the reserve", "more sensitive than it needs to be"},
	byWish:        {"the client's wish, all else being equal", "the client would rather have the other"},
	byKit:         {"it is in the kit and its own figures are known", "a kind in general, not a control at hand"},
	byReserve:     {"more reserve", "less reserve"},
	keys:          {"nothing sets it apart", "nothing sets it apart"},
}

func keyOf(in *Input, c *Choice) key {
	k := key{byVerdict: int64(c.Indoors), bySensitivity: -int64(heft(c.control.OperateGF)), byReserve: -int64(c.reserve)}
	if in.Needs.RoughGround == Yes {
		k[byVerdict] = int64(c.Outdoors)
	}
	if c.lighter != "" {
		k[byStrain] = 1
	}
	for i := range c.Reasons {
		if r := &c.Reasons[i]; r.Verdict != Feasible && !r.Advisory {
			k[byCautions]++
		}
	}
	if in.Needs.WishSite == c.Site {
		k[byWish]--
	}
	if in.Needs.WishControl == c.Control {
		k[byWish]--
	}
	if c.control.usual() {
		k[byKit] = 1
	}
	return k
}

// heft tells heavy, light and very light controls apart.
func heft(gf float64) int {
	switch {
	case gf > strength.RoughHeavy:
		return 2
	case gf > strength.LightControl:
		return 1
	}
	return 0
}

// lighter says why a lighter class than this is asked for: pain or strain with
// the chosen control, or a fast course.
func lighter(in *Input, c *Choice, reserve *quantity.Quantity) string {
	same := in.Setup != nil && in.Setup.Site == c.Site && heft(c.control.OperateGF) >= heft(in.Setup.OperateGF)
	switch {
	case same && in.PainAsked && in.Pain > micro(strength.PainMild):
		return say.Line("pain of {0+} with the chosen control", nil, in.Pain.Float())
	case same && (in.Strain || in.Alarm):
		return "strain with the chosen control"
	case in.Needs.Course == "fast" && reserve.Has() && reserve.Value < micro(strength.ReserveRoomy):
		return say.Line("a fast course and a reserve below {0}", nil, strength.ReserveRoomy)
	}
	return ""
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
			row := &because[c.key.differs(&order[i-1].key)]
			c.Say += say.Line(" Place {0}: {}.", say.Words{say.Line(row.behind, say.Words{c.lighter})}, float64(c.Rank))
		}
	}
	if len(order) == 0 {
		return
	}
	main, template := order[0], " First choice: {}."
	if main.Indoors == Unknown {
		template = " First to be measured further: {}."
	}
	main.Role = "main"
	if len(order) > 1 {
		main.Say += say.Line(template, say.Words{merits(order)})
	}
	main.Say += lasts(in, main)
	if second := fallback(order); second != nil {
		second.Role = "fallback"
		second.Say += " Kept as the fallback." + lasts(in, second)
	}
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
func merits(order []*Choice) string {
	var list say.Words
	for at := range because {
		for _, c := range order[1:] {
			if order[0].key.differs(&c.key) == at {
				list = append(list, say.Line(because[at].before, say.Words{c.lighter}))
				break
			}
		}
	}
	return say.List(list, "; ")
}

// fallback is the best choice at another site than the first, or else the next
// one that is more than the same kind over again.
func fallback(order []*Choice) *Choice {
	var next *Choice
	main := order[0]
	for _, c := range order[1:] {
		if c.Site != main.Site {
			return c
		}
		if next == nil && !(c.control.usual() && c.control.Class == main.control.Class) {
			next = c
		}
	}
	return next
}

// lasts says how fast force may fall before the reserve is too small at the end
// of the wait. The pace itself takes readings of several visits.
func lasts(in *Input, c *Choice) string {
	n := &in.Needs
	left := float64((c.reserve.Float() - strength.ReserveWorkable) * c.control.OperateGF)
	weeks := n.WaitWeeks.Value + strength.AfterDelivery
	if !n.WaitWeeks.Given || n.Course != "slow" && n.Course != "fast" || left <= 0 {
		return ""
	}
	return say.Line(" The reserve stays at {0} or more for the wait and {0} weeks after only if force falls by less than {1-} gf a week.",
		nil, strength.ReserveWorkable, strength.AfterDelivery, left/weeks)
}
