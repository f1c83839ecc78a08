package access

import (
	"doorsill/internal/decimal"
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
	"doorsill/internal/model"
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
	// Say are sentences that are read one after the other: the verdict, what
	// keeps the control from being used, and its place in the order of choice.
	Say []message.Message
	// Reasons are the worst first.
	Reasons []Reason
	// Reserve is the force reserve; it has a meaning when HasReserve.
	Reserve    decimal.Micro
	HasReserve bool

	control *model.PackedControl
	// lighter says why a lighter class than this is asked for, or is empty.
	lighter message.Message
	key     key
}

// choices judges every control of the kit, and every usual kind of which none
// was measured, at every site where force was measured.
func choices(in *Input) []Choice {
	var list []Choice
	usual := strength.Classes()
	controls := make([]model.PackedControl, 0, len(in.Kit)+len(usual))
	controls = append(controls, in.Kit...)
	for i := range usual {
		if c := kind(&usual[i]); !in.hasKind(&c) {
			controls = append(controls, c)
		}
	}
	for s := range in.Analysis.Sites {
		site := &in.Analysis.Sites[s]
		for i := range controls {
			if site.HasForce() && suits(&controls[i], site.ID) {
				list = append(list, choose(in, &controls[i], site.ID))
			}
		}
	}
	if in.Needs.Base != baseMoves {
		rank(in, list)
	}
	return list
}

// hasKind reports whether a control of a kind was measured: then the kind in
// general says nothing more, and must not stand in for one that was refused.
func (in *Input) hasKind(general *model.PackedControl) bool {
	for i := range in.Kit {
		if c := &in.Kit[i]; c.Class == general.Class && c.OperateGF > 0 {
			return true
		}
	}
	s := in.Setup
	return s != nil && s.Class == general.Class && s.OperateGF > 0 && !isSetUp(general, s)
}

// suits leaves out what nobody would mount there: a helper's control, and
// breath or no-touch control away from the head.
func suits(c *model.PackedControl, site string) bool {
	switch c.Class {
	case "attendant":
		return false
	case "breath", "non-contact":
		return strength.PartOf(site) == strength.Head
	}
	return true
}

func choose(in *Input, c *model.PackedControl, site string) Choice {
	own := candidate{in: in, analysis: in.Analysis, control: c, elsewhere: in.Setup == nil || in.Setup.Site != site}
	own.untried = own.elsewhere || !isSetUp(c, in.Setup)
	setup := strength.Setup{Class: c.Class, Control: c.Name, Site: site, Borrow: own.untried, StartGF: c.StartGF, OperateGF: c.OperateGF, TravelMM: c.TravelMM}
	setup.Needed = own.needed()
	for d := range setup.Throw {
		setup.Throw[d] = 100
	}
	if in.Setup != nil {
		setup.SwitchPressGF, setup.OwnPressGF = in.Setup.SwitchPressGF, in.Setup.OwnPressGF
	}
	if !own.untried {
		setup.Control, setup.Mode = in.Setup.Control, in.Setup.Mode
		setup.SeparateStop, setup.BreathKPa = in.Setup.SeparateStop, in.Setup.BreathKPa
		setup.Throw, setup.StartGF = in.Setup.Throw, in.Setup.StartGF
	}
	a := in.Analysis.For(&setup)
	own.setup, own.analysis = &setup, &a
	choice := Choice{Control: c.ID, Site: site, OperateGF: c.OperateGF, Reasons: reasons(&own), control: c, Reserve: a.Reserve.Value, HasReserve: a.Reserve.Has()}
	choice.Indoors, choice.Outdoors = count(choice.Reasons)
	choice.add(sentence(site, choice.Indoors, choice.Outdoors, choice.Reasons))
	choice.add(jacks(c, &setup))
	choice.lighter = lighter(in, &choice, &a.Reserve)
	choice.key = keyOf(in, &choice)
	choice.Wished = choice.key[byWish] < 0
	worstFirst(choice.Reasons)
	if why, out := in.ruledOut(site); out {
		choice.RuledOut = true
		choice.add(message.New("access.ruled-out", message.Word("why", why)))
	}
	return choice
}

// add adds a sentence, if there is one.
func (c *Choice) add(sentence message.Message) {
	if !sentence.Empty() {
		c.Say = append(c.Say, sentence)
	}
}

// jacks says which switch cannot be plugged in, when the driver has one.
func jacks(c *model.PackedControl, setup *strength.Setup) message.Message {
	power := setup.PressGF(strength.PowerSwitch) > 0 && !c.PowerJack
	mode := setup.PressGF(strength.ModeSwitch) > 0 && !c.ModeJack
	switch {
	case power && mode:
		return message.New("access.no-jacks")
	case power:
		return message.New("access.no-power-jack")
	case mode:
		return message.New("access.no-mode-jack")
	}
	return message.Message{}
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
