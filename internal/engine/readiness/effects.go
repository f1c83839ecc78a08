package readiness

import (
	"doorsill/internal/checklist/rules"
	"doorsill/internal/decimal"
	"doorsill/internal/engine/say"
	"doorsill/internal/engine/strength"
)

// Raised is an effect that an answer raises.
type Raised struct {
	Effect string
	Item   int
	// Assumed: a question beside the item was not answered and counts as true.
	Assumed bool
	Say     string
}

// derived are the facts that nobody is asked.
type derived struct{ headBorne, lightControl, releaseMissed, personContact bool }

func derive(in *Input) derived {
	d := derived{releaseMissed: in.Analysis.Missed > 0, personContact: in.Trial.PersonContact}
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
				if assumed {
					a.assumed |= 1 << i
				}
			}
		}
	}
}

// holds reports whether a condition holds, and whether that rests on a question
// that was not answered and counts as true. An item that was not tested raises
// an effect only by what is known to have happened.
func (a *Answer) holds(when rules.Condition, h *Head, facts derived) (holds, assumed bool) {
	if a.State == NotApplicable {
		return false, false
	}
	bare := len(when.Levels) == 0 && len(when.Bands) == 0
	if a.State == NotTested && (!bare || len(when.Facts) == 0) {
		return false, false
	}
	if !bare && !allows(&when, a.Level, a.Band) {
		return false, false
	}
	for _, id := range when.Facts {
		is, known := facts.fact(id, h)
		if !is || a.State == NotTested && (!known || !event(id)) {
			return false, false
		}
		assumed = assumed || !known
	}
	return true, assumed
}

// allows reports whether an answer is one of the levels or in one of the bands
// of a condition.
func allows(when *rules.Condition, level string, band int) bool {
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
	case rules.FactHeadBorne:
		return d.headBorne, true
	case rules.FactLightControl:
		return d.lightControl, true
	case rules.FactReleaseMissed:
		return d.releaseMissed, true
	case rules.FactPersonContact:
		return d.personContact, true
	case rules.FactUnequalSides:
		apart := h.Left - h.Right
		return max(apart, -apart) >= decimal.Int(strength.SidesUnequal), true
	}
	return asked(h.Facts, id)
}

// event reports whether a fact is something that happened or was said, and not
// a mere property of the set-up.
func event(id string) bool { return id != rules.FactHeadBorne && id != rules.FactLightControl }

// asked looks an asked fact up in "fact=1,fact=0".
func asked(facts, id string) (is, known bool) {
	for facts != "" {
		end := 0
		for end < len(facts) && facts[end] != ',' {
			end++
		}
		if n := len(id); end == n+2 && facts[:n] == id && facts[n] == '=' {
			return facts[n+1] == '1', true
		}
		facts = facts[min(end+1, len(facts)):]
	}
	return true, false
}

// effects lists what is raised, the gravest first, then in checklist order.
func (j *judge) effects() {
	for k := range effects {
		effect := effects[k].id
		for i := range j.Answers {
			a := &j.Answers[i]
			if a.raised == 0 {
				continue
			}
			for e := range j.items[i].Effects {
				if a.raised&(1<<e) != 0 && j.items[i].Effects[e].Effect == effect && !j.raisedAlready(effect, i) {
					j.Effects = append(j.Effects, j.raisedBy(effect, i, a.assumed&(1<<e) != 0))
				}
			}
		}
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

func (j *judge) raisedBy(id string, i int, assumed bool) Raised {
	with := ""
	if facts := j.factsBehind(i, id); assumed {
		with = "; the question beside it is not answered and counts as the more cautious answer"
	} else if facts != "" {
		with = ", with " + facts
	}
	return Raised{id, i, assumed, say.Line("{}: {}{}. {}", append(j.answered(i), with, effectOf(id).words))}
}

// effect is what an effect does and how it is called.
type effect struct {
	id, name string
	// limit is the highest level that it allows.
	limit Level
	words string
}

// effects are ordered from the gravest; read only.
var effects = [...]effect{
	{rules.Stop, "STOP", Pause, "STOP: no driving with any control until this is answered anew."},
	{rules.StopControl, "STOP-CONTROL", Pause, "STOP-CONTROL: this control at this site may not be used until this is answered anew."},
	{rules.StopVehicle, "STOP-VEHICLE", WiderGround, "STOP-VEHICLE: may not travel seated in a vehicle."},
	{rules.LimitPractise, "LIMIT to Practise", Practise, "LIMIT: the level is not above Practise while this stands."},
	{rules.LimitAccompanied, "LIMIT to Accompanied", Accompanied, "LIMIT: the level is not above Accompanied while this stands."},
	{rules.LimitHomeGround, "LIMIT to Home ground", HomeGround, "LIMIT: the level is not above Home ground while this stands."},
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

// effectOf returns an effect; one that this program does not know forbids
// nothing.
func effectOf(id string) *effect {
	if g := gravity(id); g > 0 {
		return &effects[len(effects)-g]
	}
	return &effect{id, id, WiderGround, ""}
}

// factsBehind names the facts without which the answer would not raise the
// effect, or returns "".
func (j *judge) factsBehind(i int, effect string) string {
	it, a := &j.items[i], &j.Answers[i]
	words := ""
	for _, e := range it.Effects {
		if e.Effect != effect {
			continue
		}
		for _, when := range e.When {
			bare := len(when.Levels) == 0 && len(when.Bands) == 0
			if !bare && !allows(&when, a.Level, a.Band) {
				continue
			}
			if len(when.Facts) == 0 {
				return ""
			}
			words = factWords(when.Facts[0])
		}
	}
	return words
}

func factWords(fact string) string {
	switch fact {
	case rules.FactHeadBorne:
		return "a control that is carried by the head"
	case rules.FactLightControl:
		return say.Line("a control of {0} gf or less", nil, strength.LightControl)
	case rules.FactReleaseMissed:
		return "a release that did not come"
	case rules.FactPersonContact:
		return "contact with a person"
	case rules.FactUnequalSides:
		return say.Line("left and right {0} or more apart", nil, strength.SidesUnequal)
	}
	return say.Line("the question beside it answered yes ({})", say.Words{fact})
}

// answerWords says what stands for an item: "level 1", "no", "2.4 s".
func (j *judge) answerWords(i int) string {
	it, a := &j.items[i], &j.Answers[i]
	switch {
	case a.State == NotApplicable:
		return "does not apply"
	case a.State == NotTested:
		return "not tested"
	case it.From == rules.FromRelease && j.in.Analysis.Missed > 0:
		return "a release did not come"
	case it.Type == rules.YesNo:
		return a.Level
	case a.Level != "":
		return "level " + a.Level
	}
	return it.shown(a.Value)
}
