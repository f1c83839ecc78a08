package readiness

import (
	"doorsill/internal/checklist/rules"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/say"
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
	itemStop   = "mnt-stop"
	itemTeach  = "hnd-teach"
	itemLimits = "hnd-limits"
	itemHelp   = "out-help"
	sectionOut = "out"
)

// condition is one thing that a level asks for. It gives either an effect that
// must not be raised and what to say when it is not, or a test. A test that has
// nothing to say does not apply.
type condition struct {
	level  Level
	code   string
	effect string
	none   string
	test   func(*judge) (met bool, sentence string)
}

// conditions are in the order in which they are shown; a row without a code
// stands for the level's score gates. Read only.
var conditions = [...]condition{
	{level: Practise, code: "stop", effect: rules.Stop, none: "No STOP is open."},
	{level: Practise, code: "stop-control", effect: rules.StopControl, none: "No STOP-CONTROL is open."},
	{level: Practise, code: "control", test: (*judge).notRefused},
	{level: Practise, code: "stop-shown", test: (*judge).stopShown},

	{level: Accompanied, code: "stops-answered", test: (*judge).stopsAnswered},
	{level: Accompanied, code: "control-chosen", test: (*judge).controlChosen},
	{level: Accompanied, code: "limit-practise", effect: rules.LimitPractise, none: "No answer limits the level to Practise."},
	{level: Accompanied, code: "control-practise", test: (*judge).forPracticeOnly},
	{level: Accompanied}, // scores
	{level: Accompanied, code: "teach-back", test: (*judge).taught},
	{level: Accompanied, code: "limits-written", test: (*judge).limitsWritten},

	{level: HomeGround, code: "limit-accompanied", effect: rules.LimitAccompanied, none: "No answer limits the level to Accompanied."},
	{level: HomeGround, code: "control-feasible", test: (*judge).feasibleIndoors},
	{level: HomeGround}, // scores

	{level: WiderGround, code: "limit-home-ground", effect: rules.LimitHomeGround, none: "No answer limits the level to Home ground."},
	{level: WiderGround, code: "runs", test: (*judge).runs},
	{level: WiderGround, code: "control-outdoors", test: (*judge).feasibleOutdoors},
	{level: WiderGround}, // scores
	{level: WiderGround, code: "outdoor-items", test: (*judge).outdoorItems},
	{level: WiderGround, code: "outdoor-help", test: (*judge).outdoorHelp},
}

// gates lists the conditions of every level above Pause.
func (j *judge) gates() {
	j.Gates = make([]Gate, 0, 40)
	for i := range conditions {
		switch c := &conditions[i]; {
		case c.effect != "":
			met, sentence := j.notRaised(c)
			j.gate(c.level, met, c.code, sentence)
		case c.test == nil:
			j.scores(c.level)
		default:
			met, sentence := c.test(j)
			j.gate(c.level, met, c.code, sentence)
		}
	}
}

func (j *judge) gate(level Level, met bool, code, sentence string) {
	if sentence != "" {
		j.Gates = append(j.Gates, Gate{level, met, code, sentence})
	}
}

// notRaised is met when an effect is not raised.
func (j *judge) notRaised(c *condition) (met bool, sentence string) {
	var raised say.Words
	for _, i := range j.raising(c.effect) {
		raised = append(raised, say.Line("{}: {}", j.answered(i)))
	}
	if len(raised) == 0 {
		return true, c.none
	}
	return false, say.Line("{} is open. {}.", say.Words{effectOf(c.effect).name, say.List(raised, "; ")})
}

func (j *judge) notRefused() (met bool, sentence string) {
	return j.in.Access.Indoors != access.NotFeasible, "Chosen control: " + j.in.Access.Say
}

func (j *judge) feasibleIndoors() (met bool, sentence string) {
	return j.in.Access.Indoors == access.Feasible, "Driving alone asks for a feasible control. " + j.in.Access.Say
}

func (j *judge) feasibleOutdoors() (met bool, sentence string) {
	return j.in.Access.Outdoors == access.Feasible, "Driving alone outdoors asks for a control that is feasible outdoors. " + j.in.Access.Say
}

func (j *judge) controlChosen() (met bool, sentence string) {
	if j.in.Setup == nil {
		return false, "No control and site chosen yet."
	}
	return true, "A control and a site are chosen."
}

func (j *judge) forPracticeOnly() (met bool, sentence string) {
	if j.in.Access.PractiseOnly {
		return false, "The control is for practice only: " + j.in.Analysis.Hold.Say
	}
	return true, ""
}

func (j *judge) stopsAnswered() (met bool, sentence string) {
	open := j.unansweredGrave()
	if len(open) == 0 {
		return true, "Every item that can raise a STOP is answered."
	}
	return false, say.Line("{0} {item that can raise a STOP or STOP-CONTROL is|items that can raise a STOP or STOP-CONTROL are} not answered: {}.",
		say.Words{j.titles(open)}, float64(len(open)))
}

// lookup returns the place of an item that a gate asks for by its id, or -1 and
// what to say about a checklist without it.
func (j *judge) lookup(id, asks, level string) (i int, absent string) {
	if i, ok := j.byID[id]; ok {
		return i, ""
	}
	return -1, say.Line("This checklist does not {} ({}), so {} be reached with it.", say.Words{asks, id, level})
}

func (j *judge) stopShown() (met bool, sentence string) {
	i, absent := j.lookup(itemStop, "ask whether a separate stop was shown", "no level above Pause can")
	if i < 0 {
		return false, absent
	}
	if a := &j.Answers[i]; a.State == Answered && a.raised == 0 && a.Points == 100 {
		return true, "A separate stop was shown to work today."
	}
	return false, say.Line("No separate stop is shown ({}: {}); nobody drives without one.", j.answered(i))
}

func (j *judge) taught() (met bool, sentence string) {
	i, absent := j.lookup(itemTeach, "count what a carer shows back", "Accompanied cannot")
	if i < 0 {
		return false, absent
	}
	words := j.answered(i)
	switch a := &j.Answers[i]; {
	case a.State == NotApplicable:
		return true, say.Line("{} does not apply.", words)
	case a.State == Answered && a.HasValue && a.Value >= micro(strength.TeachLeast):
		return true, say.Line("A named carer showed back {}; {0} are asked.", words[1:], strength.TeachLeast)
	}
	return false, say.Line("{}: {}; a named carer shows back at least {0}.", words, strength.TeachLeast)
}

func (j *judge) limitsWritten() (met bool, sentence string) {
	i, absent := j.lookup(itemLimits, "ask whether the limits of driving are written down", "Accompanied cannot")
	if i < 0 {
		return false, absent
	}
	if a := &j.Answers[i]; a.State == Answered && a.Points == 100 {
		return true, "Where, when and with whom is written down and agreed."
	}
	return false, say.Line("Where, when and with whom is not written down and agreed ({}: {}).", j.answered(i))
}

func (j *judge) outdoorHelp() (met bool, sentence string) {
	i, absent := j.lookup(itemHelp, "ask whether the driver can get help away from home", "Wider ground cannot")
	if i < 0 {
		return false, absent
	}
	return j.Answers[i].State == Answered, say.Line("Getting help away from home ({}): {}.", j.answered(i))
}

// runs reports whether the trial was driven twice and once when tired.
func (j *judge) runs() (met bool, sentence string) {
	drives, tired := j.in.Trial.Drives, j.in.Trial.Tired
	template := "{0} {run|runs} driven, {0} of them tired; two are asked, one of them tired."
	if met = drives >= strength.RunsWanted && tired > 0; met {
		template = "{0} {run|runs} driven, {0} of them tired."
	}
	return met, say.Line(template, nil, float64(drives), float64(tired))
}

func (j *judge) outdoorItems() (met bool, sentence string) {
	for s := range j.Domains {
		if d := &j.Domains[s]; d.Code == sectionOut {
			return d.Answered >= strength.OutdoorLeast,
				say.Line("{0} of {0} outdoor {item|items} answered; at least {0} are asked. What does not apply or was not tested shows nothing.",
					nil, float64(d.Answered), float64(j.sections[s].to-j.sections[s].from), strength.OutdoorLeast)
		}
	}
	return false, "This checklist has no outdoor section (" + sectionOut + "), so Wider ground cannot be reached with it."
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
	var list say.Words
	for _, i := range items[:min(len(items), shown)] {
		list = append(list, j.items[i].Title)
	}
	names := say.List(list, ", ")
	if more := len(items) - shown; more > 0 {
		return say.Line("{} and {0} more", say.Words{names}, float64(more))
	}
	return names
}

func (j *judge) scores(level Level) {
	for _, g := range j.gated {
		if g.level == level {
			met, sentence := j.scored(g)
			j.gate(level, met, "score-"+g.code, sentence)
		}
	}
}

func (j *judge) scored(g gate) (met bool, sentence string) {
	if g.section < 0 {
		return false, say.Line("This checklist has no section “{}”, so {} cannot be reached with it.", say.Words{g.code, g.level.Name()})
	}
	d, least := &j.Domains[g.section], float64(g.least)
	covered := d.covers(strength.CoverageGate)
	met = covered && d.HasScore && d.Score >= g.least
	words := say.Words{d.Title, ""}
	if d.Applicable == 0 {
		return met, say.Line("{}: no item applies, so nothing is shown; {0} is asked.", words, least)
	}
	if !covered {
		words[1] = say.Line("; {0} % of the weight is answered, {0} % is asked", nil, float64(d.Coverage), strength.CoverageGate)
	}
	if !d.HasScore {
		return met, say.Line("{}: between {0} and {0}, {0} is asked{}.", words, float64(d.Low), float64(d.High), least)
	}
	return met, say.Line("{}: {0}, {0} is asked{}.", words, float64(d.Score), least)
}
