package readiness

import (
	"doorsill/internal/checklist"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
)

// Gate is one condition of a level.
type Gate struct {
	Level Level
	Met   bool
	// Code is the id of the condition; scores are "score-" and the section.
	Code string
	// Say says what the condition asks and what stands.
	Say message.Message
	// open: it is not met because something is not known yet.
	open bool
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
		level := LevelOf(g.Level)
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

// stopShown is the code of the condition that a separate stop was shown.
const stopShown = "stop-shown"

// condition is one thing that a level asks for. It gives either an effect that
// must not be raised and the message when it is not, or a test. A test that has
// nothing to say does not apply.
type condition struct {
	level  Level
	code   string
	effect string
	none   string
	test   func(*judge) (met bool, say message.Message)
	// asks: it asks for something to be known before moving. Where that alone
	// fails there is no level yet.
	asks bool
}

// conditions are in the order in which they are shown; a row without a code
// stands for the level's score gates. Read only.
var conditions = [...]condition{
	{level: Practise, code: "stop", effect: checklist.Stop, none: "readiness.no-stop"},
	{level: Practise, code: "stop-control", effect: checklist.StopControl, none: "readiness.no-stop-control"},
	{level: Practise, code: "control", test: (*judge).notRefused},
	{level: Practise, code: stopShown, test: (*judge).stopShown},
	{level: Practise, code: "before-moving", asks: true, test: (*judge).askedBeforeMoving},
	{level: Practise, code: "control-chosen", asks: true, test: (*judge).controlChosen},

	{level: Accompanied, code: "stops-answered", test: (*judge).stopsAnswered},
	{level: Accompanied, code: "control-known", test: (*judge).controlKnown},
	{level: Accompanied, code: "limit-practise", effect: checklist.LimitPractise, none: "readiness.no-limit-practise"},
	{level: Accompanied, code: "untested-practise", test: untested(checklist.LimitPractise)},
	{level: Accompanied, code: "control-practise", test: (*judge).forPracticeOnly},
	{level: Accompanied}, // scores
	{level: Accompanied, code: "teach-back", test: (*judge).taught},
	{level: Accompanied, code: "limits-written", test: (*judge).limitsWritten},

	{level: HomeGround, code: "limit-accompanied", effect: checklist.LimitAccompanied, none: "readiness.no-limit-accompanied"},
	{level: HomeGround, code: "untested-accompanied", test: untested(checklist.LimitAccompanied)},
	{level: HomeGround, code: "control-feasible", test: (*judge).feasibleIndoors},
	{level: HomeGround, code: "tired-force", test: (*judge).tiredForce},
	{level: HomeGround, code: "force-readings", test: (*judge).forceReadings},
	{level: HomeGround}, // scores

	{level: WiderGround, code: "limit-home-ground", effect: checklist.LimitHomeGround, none: "readiness.no-limit-home-ground"},
	{level: WiderGround, code: "untested-home-ground", test: untested(checklist.LimitHomeGround)},
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
			met, say := j.notRaised(c)
			j.gate(Gate{Level: c.level, Met: met, Code: c.code, Say: say})
		case c.test == nil:
			j.scores(c.level)
		default:
			met, say := c.test(j)
			j.gate(Gate{Level: c.level, Met: met, Code: c.code, Say: say, open: !met && (c.asks || c.code == stopShown && j.stopOpen())})
		}
	}
}

func (j *judge) gate(g Gate) {
	if !g.Say.Empty() {
		j.Gates = append(j.Gates, g)
	}
}

// notRaised is met when an effect is not raised.
func (j *judge) notRaised(c *condition) (met bool, say message.Message) {
	var raised []message.Message
	for i := range j.Effects {
		if r := &j.Effects[i]; r.Effect == c.effect {
			raised = append(raised, j.standing(r))
		}
	}
	if len(raised) == 0 {
		return true, message.New(c.none)
	}
	return false, message.New("readiness.open", message.Word("effect", c.effect), message.List("answers", raised))
}

func (j *judge) notRefused() (met bool, say message.Message) {
	return j.in.Access.Indoors != access.NotFeasible,
		message.New("readiness.control", message.Inner("verdict", j.in.Access.Say))
}

func (j *judge) feasibleIndoors() (met bool, say message.Message) {
	return j.in.Access.Indoors == access.Feasible,
		message.New("readiness.control-feasible", message.Inner("verdict", j.in.Access.Say))
}

func (j *judge) feasibleOutdoors() (met bool, say message.Message) {
	return j.in.Access.Outdoors == access.Feasible,
		message.New("readiness.control-outdoors", message.Inner("verdict", j.in.Access.Say))
}

// controlKnown is not met by a verdict that waits for something: what was not
// measured is not the same as what was not refused.
func (j *judge) controlKnown() (met bool, say message.Message) {
	return j.in.Access.Indoors != access.Unknown,
		message.New("readiness.control-known", message.Inner("verdict", j.in.Access.Say))
}

// askedBeforeMoving is met when everything is answered that the checklist wants
// to be known before anybody drives.
func (j *judge) askedBeforeMoving() (met bool, say message.Message) {
	var open []int
	asked := false
	for i := range j.items {
		if !j.items[i].BeforeMoving {
			continue
		}
		if asked = true; j.Answers[i].unanswered() {
			open = append(open, i)
		}
	}
	switch {
	case !asked:
		return true, message.Message{}
	case len(open) == 0:
		return true, message.New("readiness.before-moving")
	}
	return false, message.New("readiness.before-moving-open", message.Words("items", j.ids(open)))
}

// untested makes the test of a limit that holds because something was not tested;
// without such a limit it has nothing to say.
func untested(effect string) func(*judge) (bool, message.Message) {
	return func(j *judge) (met bool, say message.Message) {
		var open []int
		for _, r := range j.Untested {
			if r.Effect == effect {
				open = append(open, r.Item)
			}
		}
		if len(open) == 0 {
			return true, message.Message{}
		}
		return false, message.New("readiness.untested", message.Count("open", len(open)),
			message.Word("level", limitOf(effect).String()), message.Inner("items", j.titles(open)))
	}
}

func (j *judge) controlChosen() (met bool, say message.Message) {
	if j.in.Setup == nil {
		return false, message.New("readiness.control-open")
	}
	return true, message.New("readiness.control-chosen")
}

func (j *judge) forPracticeOnly() (met bool, say message.Message) {
	if j.in.Access.PractiseOnly {
		return false, message.New("readiness.control-practise", message.Inner("hold", j.in.Analysis.Hold.Say))
	}
	return true, message.Message{}
}

func (j *judge) stopsAnswered() (met bool, say message.Message) {
	open := j.unansweredGrave()
	if len(open) == 0 {
		return true, message.New("readiness.stops-answered")
	}
	return false, message.New("readiness.stops-open", message.Count("open", len(open)), message.Inner("items", j.titles(open)))
}

func (j *judge) stopShown() (met bool, say message.Message) {
	i, ok := j.byID[itemStop]
	if !ok {
		return false, message.New("readiness.no-item-stop", message.Word("id", itemStop))
	}
	if a := &j.Answers[i]; a.State == Answered && a.raised == 0 && a.Points == 100 {
		return true, message.New("readiness.stop-shown")
	}
	return false, message.New("readiness.stop-not-shown", message.Word("item", itemStop), message.Inner("answer", j.answer(i)))
}

// stopOpen reports whether nobody has looked, or was asked, whether there is a
// stop.
func (j *judge) stopOpen() bool {
	i, ok := j.byID[itemStop]
	return !ok || j.Answers[i].unanswered()
}

func (j *judge) taught() (met bool, say message.Message) {
	i, ok := j.byID[itemTeach]
	if !ok {
		return false, message.New("readiness.no-item-teach", message.Word("id", itemTeach))
	}
	item, answer := message.Word("item", itemTeach), message.Inner("answer", j.answer(i))
	least := message.Count("least", strength.TeachLeast)
	switch a := &j.Answers[i]; {
	case a.State == NotApplicable:
		return true, message.New("readiness.teach-not-applicable", item)
	case a.State == Answered && a.HasValue && a.Value >= micro(strength.TeachLeast):
		return true, message.New("readiness.taught", answer, least)
	}
	return false, message.New("readiness.not-taught", item, answer, least)
}

func (j *judge) limitsWritten() (met bool, say message.Message) {
	i, ok := j.byID[itemLimits]
	if !ok {
		return false, message.New("readiness.no-item-limits", message.Word("id", itemLimits))
	}
	if a := &j.Answers[i]; a.State == Answered && a.Points == 100 {
		return true, message.New("readiness.limits-written")
	}
	return false, message.New("readiness.limits-not-written", message.Word("item", itemLimits), message.Inner("answer", j.answer(i)))
}

func (j *judge) outdoorHelp() (met bool, say message.Message) {
	i, ok := j.byID[itemHelp]
	if !ok {
		return false, message.New("readiness.no-item-help", message.Word("id", itemHelp))
	}
	return j.Answers[i].State == Answered,
		message.New("readiness.outdoor-help", message.Word("item", itemHelp), message.Inner("answer", j.answer(i)))
}

// runs reports whether the trial was driven twice and once when tired.
func (j *judge) runs() (met bool, say message.Message) {
	drives, tired := message.Count("drives", j.in.Trial.Drives), message.Count("tired", j.in.Trial.Tired)
	if j.in.Trial.Drives >= strength.RunsWanted && j.in.Trial.Tired > 0 {
		return true, message.New("readiness.runs", drives, tired)
	}
	return false, message.New("readiness.runs-wanted", drives, tired)
}

func (j *judge) outdoorItems() (met bool, say message.Message) {
	for s := range j.Domains {
		if d := &j.Domains[s]; d.Code == sectionOut {
			return d.Answered >= strength.OutdoorLeast,
				message.New("readiness.outdoor-items", message.Count("answered", d.Answered),
					message.Count("items", j.sections[s].to-j.sections[s].from), message.Count("least", strength.OutdoorLeast))
		}
	}
	return false, message.New("readiness.no-section-out", message.Word("id", sectionOut))
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
		if j.items[i].grave && j.Answers[i].unanswered() {
			open = append(open, i)
		}
	}
	return open
}

// titles lists up to four items by name.
func (j *judge) titles(items []int) message.Message {
	const shown = 4
	ids := j.ids(items[:min(len(items), shown)])
	if more := len(items) - shown; more > 0 {
		return message.New("readiness.items-more", message.Words("items", ids), message.Count("more", more))
	}
	return message.New("readiness.items", message.Words("items", ids))
}

func (j *judge) ids(items []int) []string {
	ids := make([]string, len(items))
	for n, i := range items {
		ids[n] = j.items[i].ID
	}
	return ids
}

func (j *judge) scores(level Level) {
	for _, g := range j.gated {
		if g.level == level {
			met, say := j.scored(g)
			j.gate(Gate{Level: level, Met: met, Code: "score-" + g.code, Say: say})
		}
	}
}

// scored compares a section with a gate. What is not tested counts as nothing
// there, so that leaving out a poor answer never lifts the score.

func (j *judge) scored(g gate) (met bool, say message.Message) {
	section, least := message.Word("section", g.code), message.Count("least", g.least)
	if g.section < 0 {
		return false, message.New("readiness.no-section", section, message.Word("level", g.level.String()))
	}
	d := &j.Domains[g.section]
	if d.Applicable == 0 {
		return false, message.New("readiness.score-nothing", section, least)
	}
	covered, asked := message.Count("covered", d.Coverage), message.Count("asked", strength.CoverageGate)
	switch {
	case !d.HasScore: // and so not covered either
		return false, message.New("readiness.score-range", section, message.Count("low", d.Low), message.Count("high", d.High), least, covered, asked)
	case !d.covers(strength.CoverageGate):
		return false, message.New("readiness.score-thin", section, message.Count("score", d.Score), least, covered, asked)
	}
	if d.Low < g.least && d.Score >= g.least {
		return false, message.New("readiness.score-untested", section, message.Count("low", d.Low), least)
	}
	return d.Low >= g.least, message.New("readiness.score", section, message.Count("score", d.Score), least)
}
