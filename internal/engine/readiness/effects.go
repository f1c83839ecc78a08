package readiness

import (
	"slices"

	"doorsill/internal/checklist"
	"doorsill/internal/decimal"
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
)

// Raised is an effect that an answer raises.
type Raised struct {
	// Effect is one of checklist.Effects.
	Effect string
	// Item is a place in the checklist, or -1 where a Barrier raises the effect.
	Item    int
	Barrier *Barrier
	// Assumed: a question beside the item was not answered and counts as true.
	Assumed bool
	// Say names the answer and what it forbids.
	Say message.Message
}

// derived are the facts that nobody is asked.
type derived struct{ headBorne, lightControl, releaseMissed, personContact, ownStopOpen bool }

func derive(in *Input) derived {
	d := derived{releaseMissed: in.Analysis.Missed > 0, personContact: in.Trial.PersonContact, ownStopOpen: !in.Analysis.OwnStopProven()}
	if in.Setup != nil {
		d.headBorne = strength.PartOf(in.Setup.Site) == strength.Head
		d.lightControl = micro(in.Setup.OperateGF) <= micro(strength.LightControl)
	}
	return d
}

// raise notes which effects of the item the answer raises.
func (a *Answer) raise(it *item, h *Head, facts derived) {
	for i := range it.Effects {
		for _, when := range it.Effects[i].When {
			if holds, assumed := a.holds(when, h, facts); holds {
				a.raised |= 1 << i
				if a.State != NotTested || !a.stateIn(when.States, h) {
					a.known |= 1 << i
				}
				if assumed {
					a.assumed |= 1 << i
				}
			}
		}
	}
}

// holds reports whether a condition holds, and whether that rests on a question
// that was not answered and counts as true. An item that was not tested raises
// an effect where the condition names that state, by a rate that can only become
// worse, and by what is known to have happened.
func (a *Answer) holds(when checklist.Condition, h *Head, facts derived) (holds, assumed bool) {
	named := allows(&when, a.Level, a.Band) || a.stateIn(when.States, h)
	onlyEvents := false
	if !named {
		if !bare(&when) || a.State == NotApplicable || a.State == NotTested && len(when.Facts) == 0 {
			return false, false
		}
		onlyEvents = a.State == NotTested
	}
	for _, id := range when.Facts {
		is, known := facts.fact(id, h)
		if !is || onlyEvents && (!known || !event(id)) {
			return false, false
		}
		assumed = assumed || !known
	}
	return true, assumed
}

// bare reports whether a condition asks for facts alone.
func bare(when *checklist.Condition) bool {
	return len(when.Levels) == 0 && len(when.Bands) == 0 && len(when.States) == 0
}

// stateIn reports whether the answer's state is one of those that a condition
// names.
func (a *Answer) stateIn(states []string, h *Head) bool {
	for _, state := range states {
		switch state {
		case checklist.StateNotTested:
			if a.State == NotTested {
				return true
			}
		case checklist.StateNotApplicable:
			if a.State == NotApplicable {
				return true
			}
		case checklist.StateNAOtherwise:
			if a.State == NotApplicable && !h.Named {
				return true
			}
		}
	}
	return false
}

// allows reports whether an answer is one of the levels or in one of the bands
// of a condition.
func allows(when *checklist.Condition, level string, band int) bool {
	for _, each := range when.Levels {
		if each == level {
			return true
		}
	}
	for _, each := range when.Bands {
		if each == band {
			return true
		}
	}
	return false
}

// fact returns whether a fact is true, and whether anybody said or measured so;
// one that nobody answered counts as true.
func (d derived) fact(id string, h *Head) (is, known bool) {
	switch id {
	case checklist.FactHeadBorne:
		return d.headBorne, true
	case checklist.FactLightControl:
		return d.lightControl, true
	case checklist.FactReleaseMissed:
		return d.releaseMissed, true
	case checklist.FactPersonContact:
		return d.personContact, true
	case checklist.FactUnequalSides:
		apart := h.Left - h.Right
		return max(apart, -apart) >= decimal.Int(strength.SidesUnequal), true
	case checklist.FactOwnStopOpen:
		return d.ownStopOpen, true
	}
	is, known = h.Facts[id]
	return is || !known, known
}

// event reports whether a fact is something that happened or was said, and not
// a mere property of the set-up.
func event(id string) bool {
	return id == checklist.FactReleaseMissed || id == checklist.FactPersonContact || id == checklist.FactUnequalSides || !slices.Contains(checklist.DerivedFacts(), id)
}

// effects lists what is raised, the gravest first, then in checklist order. A
// limit that is raised because nothing is known stands apart, so that an empty
// visit does not look like one full of findings.
func (j *judge) effects() {
	for k := range effects {
		effect := effects[k].id
		for i := range j.Answers {
			a := &j.Answers[i]
			if a.raised == 0 {
				continue
			}
			for e := range j.items[i].Effects {
				if a.raised&(1<<e) == 0 || j.items[i].Effects[e].Effect != effect || j.raisedAlready(effect, i) {
					continue
				}
				if raised := j.raisedBy(effect, i, a.assumed&(1<<e) != 0); a.known&(1<<e) != 0 {
					j.Effects = append(j.Effects, raised)
				} else {
					j.Untested = append(j.Untested, raised)
				}
			}
		}
		j.barriers(effect)
	}
}

func (j *judge) raisedAlready(effect string, item int) bool {
	for _, r := range j.Effects {
		if r.Effect == effect && r.Item == item {
			return true
		}
	}
	return false
}

func (j *judge) raisedBy(effect string, i int, assumed bool) Raised {
	r := Raised{Effect: effect, Item: i, Assumed: assumed}
	item, answer, raises := message.Word("item", j.items[i].ID), message.Inner("answer", j.answer(i)), message.Word("effect", effect)
	if assumed {
		r.Say = message.New("readiness.raised-assumed", item, answer, raises)
		return r
	}
	if fact := j.factBehind(i, effect); fact.Empty() {
		r.Say = message.New("readiness.raised", item, answer, raises)
	} else {
		r.Say = message.New("readiness.raised-with", item, answer, message.Inner("fact", fact), raises)
	}
	return r
}

// effects are ordered from the gravest, each with the highest level that it
// allows; read only.
var effects = [...]struct {
	id    string
	limit Level
}{
	{checklist.Stop, Pause},
	{checklist.StopControl, Pause},
	{checklist.StopVehicle, WiderGround},
	{checklist.LimitPractise, Practise},
	{checklist.LimitAccompanied, Accompanied},
	{checklist.LimitHomeGround, HomeGround},
}

// gravity orders effects: the larger the graver.
func gravity(id string) int {
	for i := range effects {
		if effects[i].id == id {
			return len(effects) - i
		}
	}
	return 0
}

// limitOf returns the highest level that an effect allows; one that this program
// does not know forbids nothing.
func limitOf(id string) Level {
	if g := gravity(id); g > 0 {
		return effects[len(effects)-g].limit
	}
	return WiderGround
}

// factBehind names the fact without which the answer would not raise the
// effect, or returns an empty message.
func (j *judge) factBehind(i int, effect string) message.Message {
	it, a := &j.items[i], &j.Answers[i]
	fact := ""
	for _, e := range it.Effects {
		if e.Effect != effect {
			continue
		}
		for _, when := range e.When {
			if !bare(&when) && !allows(&when, a.Level, a.Band) && !a.stateIn(when.States, &Head{Named: a.named}) {
				continue
			}
			if len(when.Facts) == 0 {
				return message.Message{}
			}
			fact = when.Facts[0]
		}
	}
	return factMessage(fact)
}

func factMessage(fact string) message.Message {
	switch fact {
	case "":
		return message.Message{}
	case checklist.FactHeadBorne:
		return message.New("fact.head-borne")
	case checklist.FactLightControl:
		return message.New("fact.light-control", message.Count("most", strength.LightControl))
	case checklist.FactReleaseMissed:
		return message.New("fact.release-missed")
	case checklist.FactPersonContact:
		return message.New("fact.person-contact")
	case checklist.FactUnequalSides:
		return message.New("fact.unequal-sides", message.Count("apart", strength.SidesUnequal))
	case checklist.FactOwnStopOpen:
		return message.New("fact.own-stop-open", message.Number("least", strength.ReserveTight))
	}
	return message.New("fact.asked", message.Word("fact", fact))
}

// answer states what stands for an item: "level 1", "no", "2.4 s".
func (j *judge) answer(i int) message.Message {
	it, a := &j.items[i], &j.Answers[i]
	switch {
	case a.State == NotApplicable:
		return message.New("answer.not-applicable")
	case a.State == NotTested:
		return message.New("answer.not-tested")
	case it.From == checklist.FromRelease && j.in.Analysis.Missed > 0:
		return message.New("answer.release-missed")
	case it.Type == checklist.TypeYesNo:
		return message.New("answer.yes-no", message.Word("answer", a.Level))
	case a.Level != "":
		return message.New("answer.level", message.Word("level", a.Level))
	}
	return it.shownOf(a)
}
