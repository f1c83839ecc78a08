package access

import (
	"doorsill/internal/engine/decimal"
	"doorsill/internal/engine/say"
	"doorsill/internal/engine/strength"
)

// Choice is the verdict on one control at one site.
type Choice struct {
	Control, Site     string
	Indoors, Outdoors Verdict
	// OperateGF is the control's force to full command, or 0.
	OperateGF float64
	// Rank is the place in the order of choice from 1, or 0 for what is not
	// feasible.
	Rank int
	// Role is main, fallback or empty.
	Role string
	// Wished says that the client named the control or the site.
	Wished bool
	Say    string
	// Reasons are the worst first.
	Reasons []Reason

	control *Control
	reserve decimal.Micro
	// lighter says why a lighter class than this is asked for, or is empty.
	lighter string
	key     key
}

// choices judges every control of the kit and every usual kind at every site
// where force was measured.
func choices(in *Input) []Choice {
	var list []Choice
	usual := strength.Classes()
	controls := make([]Control, 0, len(in.Kit)+len(usual))
	controls = append(controls, in.Kit...)
	for i := range usual {
		controls = append(controls, kind(&usual[i]))
	}
	for s := range in.Analysis.Sites {
		site := &in.Analysis.Sites[s]
		for i := range controls {
			if site.HasForce() && controls[i].suits(site.ID) {
				list = append(list, choose(in, &controls[i], site.ID))
			}
		}
	}
	if in.Needs.Base != baseMoves {
		rank(in, list)
	}
	return list
}

// suits leaves out what nobody would mount there: a helper's control, and
// breath or no-touch control away from the head.
func (c *Control) suits(site string) bool {
	switch c.Class {
	case "attendant":
		return false
	case "breath", "non-contact":
		return strength.PartOf(site) == strength.Head
	}
	return true
}

func choose(in *Input, c *Control, site string) Choice {
	own := *in
	own.control = *c
	own.elsewhere = in.Setup == nil || in.Setup.Site != site
	own.untried = own.elsewhere || !c.is(in.Setup)
	setup := strength.Setup{Class: c.Class, Site: site, StartGF: c.StartGF, OperateGF: c.OperateGF, TravelMM: c.TravelMM}
	setup.Needed = own.needed()
	for d := range setup.Throw {
		setup.Throw[d] = 100
	}
	if in.Setup != nil {
		setup.SwitchPressGF = in.Setup.SwitchPressGF
	}
	if !own.untried {
		setup.Throw = in.Setup.Throw
	}
	a := in.Analysis.For(&setup)
	own.Setup, own.Analysis = &setup, &a
	choice := Choice{Control: c.ID, Site: site, OperateGF: c.OperateGF, Reasons: reasons(&own), control: c, reserve: a.Reserve.Value}
	choice.Indoors, choice.Outdoors = count(choice.Reasons)
	choice.Say = sentence(site, choice.Indoors, choice.Outdoors, choice.Reasons) + jacks(c, &setup)
	choice.lighter = lighter(in, &choice, &a.Reserve)
	choice.key = keyOf(in, &choice)
	choice.Wished = choice.key[byWish] < 0
	worstFirst(choice.Reasons)
	return choice
}

// jacks says which switch cannot be plugged in, when the driver has one.
func jacks(c *Control, setup *strength.Setup) string {
	switch {
	case setup.SwitchPressGF == 0 || c.PowerJack && c.ModeJack:
		return ""
	case c.ModeJack:
		return " It has no jack for a power switch."
	case c.PowerJack:
		return " It has no jack for a mode switch."
	}
	return " It has no jack for a power or a mode switch."
}

// worstFirst sorts reasons: what counts by verdict, then notes, then what is
// well.
func worstFirst(list []Reason) {
	weight := func(r *Reason) int {
		switch {
		case r.Verdict == Feasible:
			return 0
		case r.Advisory:
			return 1
		}
		return 1 + int(r.Verdict)
	}
	for i := range list {
		for j := i; j > 0 && weight(&list[j]) > weight(&list[j-1]); j-- {
			list[j], list[j-1] = list[j-1], list[j]
		}
	}
}

// left says what remains when no stick fits at any measured site, and what was
// tried. It is nil while one may fit.
func left(list []Choice) *Reason {
	tried, refused, site := "", "", ""
	for i := range list {
		c := &list[i]
		switch {
		case !c.control.proportional():
			if c.Indoors == NotFeasible {
				refused += " " + c.control.Class
			}
			continue
		case c.Indoors != NotFeasible:
			return nil
		case c.Site != site:
			site = c.Site
			tried += say.Line("; at the {} {1} gf", say.Words{strength.SiteWords(site)}, c.control.OperateGF)
		case !c.repeats(list[:i]):
			tried += say.Line(", {1} gf", nil, c.control.OperateGF)
		}
	}
	if tried == "" {
		return nil
	}
	r := Reason{Rule: "none-left", Verdict: NotFeasible}
	r.Say = say.Line("No stick is feasible at any site that was measured. Tried: {}.", say.Words{tried[2:]})
	var open say.Words
	for _, o := range [...]struct{ class, words string }{
		{"-", "another site"}, {"switched", "switches"}, {"switched", "head pads"}, {"non-contact", "a control without touch"},
		{"breath", "breath control"}, {"attendant", "an attendant control"},
	} {
		if !contains(refused, o.class) {
			open = append(open, o.words)
		}
	}
	r.Change = say.Line("Left to try: {}. Nobody concludes that the person cannot drive before these were tried and listed.", say.Words{say.List(open, ", ")})
	return &r
}

// repeats reports whether as heavy a control was named before at the site.
func (c *Choice) repeats(before []Choice) bool {
	for i := range before {
		if before[i].Site == c.Site && before[i].control.OperateGF == c.control.OperateGF {
			return true
		}
	}
	return false
}

// contains reports whether a word stands in a list that parts them by spaces.
func contains(list, word string) bool {
	for i := 0; i+len(word) <= len(list); i++ {
		if list[i:i+len(word)] == word {
			return true
		}
	}
	return false
}
