package access

import (
	"doorsill/internal/decimal"
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
	// RuledOut says that its site is not to drive; it has no rank.
	RuledOut bool
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
		setup.SwitchPressGF, setup.OwnPressGF = in.Setup.SwitchPressGF, in.Setup.OwnPressGF
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
	if why, out := in.ruledOut(site); out {
		choice.RuledOut = true
		choice.Say += say.Line(" The site is ruled out: {}.", say.Words{why})
	}
	return choice
}

// ruledOut reports whether a site is not to drive, and why, without the full
// stop at the end.
func (in *Input) ruledOut(site string) (why string, out bool) {
	for _, r := range in.RuledOut {
		if r.Site == site {
			return unstopped(r.Why), true
		}
	}
	return "", false
}

// unstopped leaves out spaces and full stops at the end, so that words of a
// therapist can stand inside a sentence.
func unstopped(text string) string {
	for text != "" && (text[len(text)-1] == '.' || text[len(text)-1] == ' ') {
		text = text[:len(text)-1]
	}
	return text
}

// jacks says which switch cannot be plugged in, when the driver has one.
func jacks(c *Control, setup *strength.Setup) string {
	power := setup.PressGF(strength.PowerSwitch) > 0 && !c.PowerJack
	mode := setup.PressGF(strength.ModeSwitch) > 0 && !c.ModeJack
	switch {
	case power && mode:
		return " It has no jack for a power or a mode switch."
	case power:
		return " It has no jack for a power switch."
	case mode:
		return " It has no jack for a mode switch."
	}
	return ""
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

// left says what remains when no stick fits at any measured site, what was
// tried, and which sites were ruled out and why. It is nil while one may fit at
// a site that is not ruled out.
func left(in *Input, list []Choice) *Reason {
	tried, refused, site := "", "", ""
	for i := range list {
		c := &list[i]
		switch {
		case c.RuledOut:
			continue
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
	rejected := in.rejected()
	if tried == "" && rejected == "" || len(list) == 0 {
		return nil
	}
	r := Reason{Rule: "none-left", Verdict: NotFeasible}
	r.Say = "Every site that was measured is ruled out."
	if tried != "" {
		r.Say = say.Line("No stick is feasible at any site that was measured. Tried: {}.", say.Words{tried[2:]})
	}
	r.Say += rejected
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

// rejected names every site that was ruled out, with why.
func (in *Input) rejected() string {
	var list say.Words
	for _, r := range in.RuledOut {
		list = append(list, say.Line("the {} ({})", say.Words{strength.SiteWords(r.Site), unstopped(r.Why)}))
	}
	if len(list) == 0 {
		return ""
	}
	return say.Line(" Ruled out: {}.", say.Words{say.List(list, ", ")})
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
