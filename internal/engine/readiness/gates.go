package readiness

import (
	"strconv"

	"doorsill/internal/checklist/rules"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/strength"
)

// Gate is one condition of a level.
type Gate struct {
	Level Level
	Met   bool
	// Code is the id of the condition; scores are "score-" and the section.
	Code string
	Say  string
}

// gate is a score condition made ready: the section, or -1 when the checklist
// has none with that code.
type gate struct {
	level   Level
	section int
	code    string
	least   int
}

func gatesOf(sections []section) []gate {
	var list []gate
	for _, g := range strength.Gates() {
		level, _ := LevelOf(g.Level)
		one := gate{level: level, section: -1, code: g.Section, least: g.Least}
		for s := range sections {
			if sections[s].code == g.Section {
				one.section = s
			}
		}
		list = append(list, one)
	}
	return list
}

// Items and sections of the standard checklist that gates name.
const (
	itemStop    = "mnt-stop"
	itemTeach   = "hnd-teach"
	itemLimits  = "hnd-limits"
	itemHelp    = "out-help"
	sectionOut  = "out"
	codeStop    = "stop"
	codeShown   = "stop-shown"
	codeAll     = "stops-answered"
	codeControl = "control"
)

// gates lists the conditions of every level above Pause.
func (j *judge) gates() {
	j.Gates = make([]Gate, 0, 40)
	j.practiseGates()
	j.accompaniedGates()
	j.homeGates()
	j.widerGates()
}

func (j *judge) gate(level Level, met bool, code, say string) {
	j.Gates = append(j.Gates, Gate{level, met, code, say})
}

func (j *judge) practiseGates() {
	j.effectGate(Practise, codeStop, "No STOP is open.", rules.Stop)
	j.effectGate(Practise, "stop-control", "No STOP-CONTROL is open.", rules.StopControl)
	control := j.in.Access.Indoors != access.NotFeasible
	j.gate(Practise, control, codeControl, "Chosen control: "+j.in.Access.Say)
	met, say := j.stopShown()
	j.gate(Practise, met, codeShown, say)
}

func (j *judge) stopShown() (met bool, say string) {
	i, ok := j.byID[itemStop]
	if !ok {
		return false, "This checklist does not ask whether a separate stop was shown (" + itemStop + "), so no level above Pause can be reached with it."
	}
	a := &j.Answers[i]
	if a.State == Answered && a.raised == 0 && a.Points == 100 {
		return true, "A separate stop was shown to work today."
	}
	return false, "No separate stop is shown (" + j.items[i].Title + ": " + j.answerWords(i) + "); nobody drives without one."
}

func (j *judge) accompaniedGates() {
	open := j.unansweredGrave()
	say := "Every item that can raise a STOP is answered."
	if len(open) > 0 {
		say = count(len(open), "item that can raise a STOP or STOP-CONTROL is", "items that can raise a STOP or STOP-CONTROL are") + " not answered: " + j.titles(open) + "."
	}
	j.gate(Accompanied, len(open) == 0, codeAll, say)
	if j.in.Setup == nil {
		j.gate(Accompanied, false, "control-chosen", "No control and site chosen yet.")
	} else {
		j.gate(Accompanied, true, "control-chosen", "A control and a site are chosen.")
	}
	j.effectGate(Accompanied, "limit-practise", "No answer limits the level to Practise.", rules.LimitPractise)
	if j.in.Access.PractiseOnly {
		j.gate(Accompanied, false, "control-practise", "The control is for practice only: "+j.in.Analysis.Hold.Say)
	}
	j.scoreGates(Accompanied)
	met, say := j.taught()
	j.gate(Accompanied, met, "teach-back", say)
	met, say = j.limitsWritten()
	j.gate(Accompanied, met, "limits-written", say)
}

func (j *judge) taught() (met bool, say string) {
	i, ok := j.byID[itemTeach]
	if !ok {
		return false, "This checklist does not count what a carer shows back (" + itemTeach + "), so Accompanied cannot be reached with it."
	}
	a, least := &j.Answers[i], strconv.Itoa(strength.TeachLeast)
	switch {
	case a.State == NotApplicable:
		return true, j.items[i].Title + " does not apply."
	case a.State == Answered && a.HasValue && a.Value >= micro(strength.TeachLeast):
		return true, "A named carer showed back " + j.answerWords(i) + "; " + least + " are asked."
	}
	return false, j.items[i].Title + ": " + j.answerWords(i) + "; a named carer shows back at least " + least + "."
}

func (j *judge) limitsWritten() (met bool, say string) {
	i, ok := j.byID[itemLimits]
	if !ok {
		return false, "This checklist does not ask whether the limits of driving are written down (" + itemLimits + "), so Accompanied cannot be reached with it."
	}
	if a := &j.Answers[i]; a.State == Answered && a.Points == 100 {
		return true, "Where, when and with whom is written down and agreed."
	}
	return false, "Where, when and with whom is not written down and agreed (" + j.items[i].Title + ": " + j.answerWords(i) + ")."
}

func (j *judge) homeGates() {
	j.effectGate(HomeGround, "limit-accompanied", "No answer limits the level to Accompanied.", rules.LimitAccompanied)
	j.gate(HomeGround, j.in.Access.Indoors == access.Feasible, "control-feasible", "Driving alone asks for a feasible control. "+j.in.Access.Say)
	j.scoreGates(HomeGround)
}

func (j *judge) widerGates() {
	j.effectGate(WiderGround, "limit-home-ground", "No answer limits the level to Home ground.", rules.LimitHomeGround)
	met, say := j.runs()
	j.gate(WiderGround, met, "runs", say)
	j.gate(WiderGround, j.in.Access.Outdoors == access.Feasible, "control-outdoors", "Driving alone outdoors asks for a control that is feasible outdoors. "+j.in.Access.Say)
	j.scoreGates(WiderGround)
	met, say = j.outdoorItems()
	j.gate(WiderGround, met, "outdoor-items", say)
	met, say = j.outdoorHelp()
	j.gate(WiderGround, met, "outdoor-help", say)
}

// runs reports whether the trial was driven twice and once when tired.
func (j *judge) runs() (met bool, say string) {
	t := j.in.Trial
	say = count(t.Drives, "run", "runs") + " driven, " + strconv.Itoa(t.Tired) + " of them tired"
	if t.Drives >= strength.RunsWanted && t.Tired > 0 {
		return true, say + "."
	}
	return false, say + "; two are asked, one of them tired."
}

func (j *judge) outdoorItems() (met bool, say string) {
	for s := range j.Domains {
		if d := &j.Domains[s]; d.Code == sectionOut {
			say = strconv.Itoa(d.Answered) + " of " + count(j.sections[s].to-j.sections[s].from, "outdoor item", "outdoor items") + " answered; at least " + strconv.Itoa(strength.OutdoorLeast) + " are asked. What does not apply or was not tested shows nothing."
			return d.Answered >= strength.OutdoorLeast, say
		}
	}
	return false, "This checklist has no outdoor section (" + sectionOut + "), so Wider ground cannot be reached with it."
}

func (j *judge) outdoorHelp() (met bool, say string) {
	i, ok := j.byID[itemHelp]
	if !ok {
		return false, "This checklist does not ask whether the driver can get help away from home (" + itemHelp + "), so Wider ground cannot be reached with it."
	}
	return j.Answers[i].State == Answered, "Getting help away from home (" + j.items[i].Title + "): " + j.answerWords(i) + "."
}

// effectGate is met when an effect is not raised.
func (j *judge) effectGate(level Level, code, none, effect string) {
	items := j.raising(effect)
	if len(items) == 0 {
		j.gate(level, true, code, none)
		return
	}
	say := ""
	for _, i := range items {
		if say != "" {
			say += "; "
		}
		say += j.items[i].Title + ": " + j.answerWords(i)
	}
	j.gate(level, false, code, effectName(effect)+" is open. "+say+".")
}

func effectName(effect string) string {
	switch effect {
	case rules.Stop:
		return "STOP"
	case rules.StopControl:
		return "STOP-CONTROL"
	case rules.StopVehicle:
		return "STOP-VEHICLE"
	}
	return "LIMIT to " + limitOf(effect).Name()
}

func (j *judge) raising(effect string) []int {
	var items []int
	for _, r := range j.Effects {
		if r.Effect == effect {
			items = append(items, r.Item)
		}
	}
	return items
}

func (j *judge) unansweredGrave() []int {
	var open []int
	for i := range j.items {
		if j.items[i].grave && j.Answers[i].State == NotTested {
			open = append(open, i)
		}
	}
	return open
}

// titles lists up to four items by name.
func (j *judge) titles(items []int) string {
	const shown = 4
	say := ""
	for n, i := range items {
		if n == shown {
			return say + " and " + strconv.Itoa(len(items)-shown) + " more"
		}
		if say != "" {
			say += ", "
		}
		say += j.items[i].Title
	}
	return say
}

func (j *judge) scoreGates(level Level) {
	for _, g := range j.gated {
		if g.level == level {
			met, say := j.scored(g)
			j.gate(level, met, "score-"+g.code, say)
		}
	}
}

func (j *judge) scored(g gate) (met bool, say string) {
	if g.section < 0 {
		return false, "This checklist has no section “" + g.code + "”, so " + g.level.Name() + " cannot be reached with it."
	}
	d, least := &j.Domains[g.section], strconv.Itoa(g.least)
	covered := d.covers(strength.CoverageGate)
	met = covered && d.HasScore && d.Score >= g.least
	switch {
	case d.Applicable == 0:
		say = d.Title + ": no item applies, so nothing is shown; " + least + " is asked."
	case !d.HasScore:
		say = d.Title + ": between " + strconv.Itoa(d.Low) + " and " + strconv.Itoa(d.High) + ", " + least + " is asked"
	default:
		say = d.Title + ": " + strconv.Itoa(d.Score) + ", " + least + " is asked"
	}
	if d.Applicable > 0 && !covered {
		return met, say + "; " + strconv.Itoa(d.Coverage) + " % of the weight is answered, " + strconv.Itoa(strength.CoverageGate) + " % is asked."
	}
	if d.Applicable > 0 {
		say += "."
	}
	return met, say
}
