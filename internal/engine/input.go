package engine

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"doorsill/internal/checklist"
	"doorsill/internal/decimal"
	"doorsill/internal/engine/passage"
	"doorsill/internal/engine/readiness"
	"doorsill/internal/engine/strength"
	"doorsill/internal/model"
	"doorsill/internal/record"
	"doorsill/internal/validation"
)

// visit is a visit as the packages below take it: without readings that are
// slips, and without what is due again because a setting was changed since.
type visit struct {
	setup    *strength.Setup
	heads    []readiness.Head
	readings []strength.Reading
	runs     []model.Run
	override *readiness.Override
	kit      []model.PackedControl
	needs    *model.NeedsNoted    // empty until something was noted
	chair    *model.ChairMeasured // empty until it was measured
	places   []model.Place
	checks   []*passage.QuickCheck // of each place
	settings []model.Setting
	due      []string // items by id
	// use is the chosen control and site, empty before one is chosen.
	use model.InUse
	// apart are answers about other controls, and the ids of the items that have
	// no other.
	apart    []model.AnswerGiven
	unchosen []string
	blank    []string // parts beside the checklist that nobody filled in
}

// inputOf takes a visit in. It refuses one with a part that cannot be, and an
// answer that does not fit the checklist.
func inputOf(list *readiness.Checklist, v *model.Visit) (*visit, *validation.Error) {
	if err := v.Check(); err != nil {
		return nil, err
	}
	in := &visit{due: record.DueAgain(v), kit: v.Kit, needs: new(model.NeedsNoted), chair: new(model.ChairMeasured), places: v.Places, settings: v.Settings}
	if v.Setup != nil {
		in.setup, in.use = setupOf(&v.Setup.SetupChosen), v.Setup.InUse()
	}
	if err := in.takeAnswers(list, v.Answers); err != nil {
		return nil, err
	}
	if v.Needs != nil {
		in.needs = &v.Needs.NeedsNoted
	}
	in.takeReadings(v.Readings)
	for i := range v.Runs {
		run := v.Runs[i]
		run.Assume(in.use)
		in.runs = append(in.runs, run)
	}
	if v.Override != nil {
		in.override = overrideOf(&v.Override.OverrideMade)
	}
	if v.Chair != nil {
		in.chair = &v.Chair.ChairMeasured
	}
	in.blank = blankIn(v)
	return in, nil
}

// blankIn names the parts of the visit beside the checklist that nobody filled in.
func blankIn(v *model.Visit) (blank []string) {
	for _, part := range [...]struct {
		name   string
		filled bool
	}{
		{readiness.BlankConsent, strings.TrimSpace(v.Notes["consent"]) != ""},
		{readiness.BlankStopHolder, strings.TrimSpace(v.Notes["stop-holder"]) != ""},
		{readiness.BlankHome, v.Chair != nil && len(v.Places) > 0},
		{readiness.BlankMount, v.Mount != nil},
		{readiness.BlankSettings, len(v.Settings) > 0},
		{readiness.BlankPlan, v.Plan != nil && (v.Plan.Recheck != "" || v.Plan.Note != "")},
	} {
		if !part.filled {
			blank = append(blank, part.name)
		}
	}
	return blank
}

func setupOf(s *model.SetupChosen) *strength.Setup {
	setup := &strength.Setup{
		Class: s.Class, Control: s.Control, Site: s.Site, StartGF: s.StartGF, OperateGF: s.OperateGF, TravelMM: s.TravelMM, SwitchPressGF: s.SwitchPressGF,
		Mode: s.DriveMode, SeparateStop: s.SeparateStop || s.StopPressGF > 0, BreathKPa: s.BreathKPa,
	}
	setup.OwnPressGF[strength.PowerSwitch], setup.OwnPressGF[strength.ModeSwitch] = s.PowerPressGF, s.ModePressGF
	setup.OwnPressGF[strength.StopSwitch] = s.StopPressGF
	for d := range setup.Throw {
		const whole = 100
		setup.Throw[d] = whole
		if throw, set := s.Throw[strength.Direction(d).String()]; set {
			setup.Throw[d] = throw
		}
	}
	needed := s.Needed
	if len(needed) == 0 {
		needed = model.Directions()
	}
	for _, id := range needed {
		d, _ := strength.DirectionOf(id) // one of model.Directions, as was checked
		setup.Needed = append(setup.Needed, d)
	}
	return setup
}

func (in *visit) takeReadings(readings []model.Reading) {
	in.readings = make([]strength.Reading, 0, len(readings))
	for i := range readings {
		if r := &readings[i]; r.Slip == "" && !r.Due {
			taken := r.ReadingTaken
			taken.Assume(in.use)
			in.readings = append(in.readings, readingOf(&taken))
		}
	}
}

// readingOf turns a reading into gf, mm or s. What, direction and unit were
// checked.
func readingOf(r *model.ReadingTaken) strength.Reading {
	what := r.What
	if r.Switch != "" {
		what = "switch-" + r.Switch
	}
	one := strength.Reading{What: strength.WhatOf(what), Site: r.Site, Tired: r.State == model.FatigueTired, Supported: r.Supported, Missed: r.Missed, Value: r.Value, Class: r.Class, Control: r.Control}
	one.Direction, _ = strength.DirectionOf(r.Direction)
	if one.What.IsForce() {
		one.Value, _ = strength.ToGF(r.Value, r.Unit)
	}
	return one
}

// overrideOf counts the characters of the explanation without the spaces, tabs
// and line ends at both ends.
func overrideOf(o *model.OverrideMade) *readiness.Override {
	trim := func(text string) string { return strings.Trim(text, " \t\r\n") }
	level := readiness.LevelOf(o.Level) // one of model.Levels, as was checked
	return &readiness.Override{
		Level: level, Reason: o.Reason, TextLength: utf8.RuneCountInString(trim(o.Text)),
		Mitigation: trim(o.Mitigation) != "", Agreed: trim(o.Agreed) != "",
		From: dayOf(o.From), Until: dayOf(o.Until),
	}
}

// dayOf is a date as days since 1 January 1970, or readiness.NoDay.
func dayOf(date string) int {
	day, ok := validation.DayOf(date)
	if !ok {
		return readiness.NoDay
	}
	return day
}

// takeAnswers takes every answer of every item, also those that wait for a
// choice. An answer that is due again counts as not given, and so does one about
// another control than the chosen one; an earlier one about the chosen one stands
// again when it is chosen anew.
func (in *visit) takeAnswers(list *readiness.Checklist, answers []model.Answer) *validation.Error {
	in.heads = make([]readiness.Head, 0, len(answers)+4)
	for i := range answers {
		heads, apart := len(in.heads), len(in.apart)
		for j := range answers[i].Heads {
			given := &answers[i].Heads[j]
			if bad := list.CheckAnswer(&given.AnswerGiven); bad != nil {
				return bad.Within("heads[" + strconv.Itoa(j) + "]").Within("answers[" + strconv.Itoa(i) + "]")
			}
			in.takeAnswer(list, given)
		}
		for j := range answers[i].Others {
			given := &answers[i].Others[j]
			if bad := list.CheckAnswer(&given.AnswerGiven); bad != nil {
				return bad.Within("others[" + strconv.Itoa(j) + "]").Within("answers[" + strconv.Itoa(i) + "]")
			}
			in.takeAnswer(list, given)
		}
		if len(in.apart) > apart && len(in.heads) == heads {
			in.unchosen = append(in.unchosen, answers[i].Item)
		}
	}
	// A result follows from what was answered: what is noted of answers stands in
	// the order of a folded visit, whatever the order they came in.
	slices.SortStableFunc(in.heads, func(a, b readiness.Head) int {
		return cmp.Compare(list.At(a.Item).ID, list.At(b.Item).ID)
	})
	return nil
}

func (in *visit) takeAnswer(list *readiness.Checklist, given *model.Given) {
	answer := given.AnswerGiven
	answer.Assume(in.use)
	switch {
	case answer.OfControl() && in.setup != nil && !answer.InUse().Same(in.use):
		in.apart = append(in.apart, answer)
	case !given.Due:
		at, _ := list.Find(given.Item) // as was checked
		in.heads = append(in.heads, headOf(at, list.At(at), &answer))
	}
}

// headOf is one answer to the item at a place. Of a computed item only the state
// and the side questions count.
func headOf(at int, it *checklist.Item, a *model.AnswerGiven) readiness.Head {
	h := readiness.Head{Item: at, State: stateOf(a.State), Facts: a.Facts}
	if h.State == readiness.NotApplicable && it.NamedReason(a.Reason) {
		h.Named, h.Reason = true, strings.TrimSpace(a.Reason)
	}
	if h.State != readiness.Answered || it.From != "" {
		return h
	}
	h.Level = a.Level
	switch {
	case a.Number != nil:
		h.Number, h.HasNumber = exactly(*a.Number), true
	case a.Left != nil && a.Right != nil:
		h.Left, h.Right, h.HasNumber = exactly(*a.Left), exactly(*a.Right), true
		h.Number = h.Left + h.Right
	}
	return h
}

// exactly is a number of an answer; the checklist bounds it.
func exactly(x float64) decimal.Micro {
	m, _ := decimal.Of(x)
	return m
}

func stateOf(state string) readiness.State {
	switch state {
	case model.StateAnswered:
		return readiness.Answered
	case model.StateNotApplicable:
		return readiness.NotApplicable
	}
	return readiness.NotTested
}
