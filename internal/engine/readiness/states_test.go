package readiness_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/decimal"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/readiness"
	"doorsill/internal/engine/strength"
)

// limited is a ready visit with one more item that limits the level to
// Accompanied under one condition.
func limited(when checklist.Condition, head readiness.Head) *ready {
	r := newReady()
	r.item("saf-one").Weight = 100 // that the section is covered
	item := checklist.Item{ID: "saf-new", Type: checklist.TypeHelp, Weight: 1, NA: true, NAReasons: []string{"nowhere"},
		Asks:    []checklist.Ask{{Fact: "no-plan"}},
		Effects: []checklist.Effect{{Effect: checklist.LimitAccompanied, When: []checklist.Condition{when}}}}
	r.add("saf", item, head)
	return r
}

// TestStatesOfConditions: an answer, not tested, and not applicable with and
// without a reason that the item names.
func TestStatesOfConditions(t *testing.T) {
	answered, open := readiness.Head{Level: "4"}, readiness.Head{}
	otherwise := readiness.Head{State: readiness.NotApplicable}
	named := readiness.Head{State: readiness.NotApplicable, Named: true, Reason: "nowhere"}
	poor := readiness.Head{Level: "1"}
	for _, c := range []struct {
		states string
		raised string
	}{
		{"not-tested", "open poor"},
		{"not-applicable", "named otherwise poor"},
		{"not-applicable-otherwise", "otherwise poor"},
		{"not-tested not-applicable-otherwise", "open otherwise poor"},
	} {
		var raised []string
		for name, head := range map[string]readiness.Head{"answered": answered, "open": open, "otherwise": otherwise, "named": named, "poor": poor} {
			when := checklist.Condition{Levels: []string{"1", "0"}, States: strings.Fields(c.states)}
			if limited(when, head).judge().Level == readiness.Accompanied {
				raised = append(raised, name)
			}
		}
		want := strings.Fields(c.raised)
		slices.Sort(raised)
		if slices.Sort(want); !slices.Equal(raised, want) {
			t.Errorf("%s: limited by %v, want %v", c.states, raised, want)
		}
	}
}

// TestNotTestedWithAQuestionBeside: the question counts as yes until somebody
// answers it, also while the item is open.
func TestNotTestedWithAQuestionBeside(t *testing.T) {
	when := checklist.Condition{States: []string{"not-tested"}, Facts: []string{"no-plan"}}
	for name, c := range map[string]struct {
		facts map[string]bool
		want  readiness.Level
	}{"open": {nil, readiness.Accompanied}, "yes": {map[string]bool{"no-plan": true}, readiness.Accompanied}, "no": {map[string]bool{"no-plan": false}, readiness.WiderGround}} {
		if got := limited(when, readiness.Head{Facts: c.facts}).judge().Level; got != c.want {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}

// TestWhatIsNotTestedIsNoFinding: such a limit stands with what is untested, and
// on the way up as a thing to test.
func TestWhatIsNotTestedIsNoFinding(t *testing.T) {
	result := limited(checklist.Condition{States: []string{"not-tested"}}, readiness.Head{}).judge()
	if len(result.Effects) != 0 || len(result.Untested) != 1 || failed(result) != "untested-accompanied" {
		t.Errorf("raised %v, untested %v, failed %q", result.Effects, result.Untested, failed(result))
	}
	if got, want := english(result.Up[0].Say), "Test “saf-new”. While it is open the level is not above Accompanied."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	poor := limited(checklist.Condition{Levels: []string{"1"}, States: []string{"not-tested"}}, readiness.Head{Level: "1"}).judge()
	if len(poor.Effects) != 1 || len(poor.Untested) != 0 {
		t.Errorf("a poor answer: raised %v, untested %v", poor.Effects, poor.Untested)
	}
}

// TestANamedReasonIsPrinted with the level that rests on it.
func TestANamedReasonIsPrinted(t *testing.T) {
	when := checklist.Condition{States: []string{"not-applicable-otherwise"}}
	result := limited(when, readiness.Head{State: readiness.NotApplicable, Named: true, Reason: "nowhere"}).judge()
	const want = "The level holds only while this is so. saf-new does not apply: nowhere."
	if len(result.Notes) != 1 || english(result.Notes[0]) != want {
		t.Errorf("notes %v, want %q", result.Notes, want)
	}
	if notes := limited(when, readiness.Head{State: readiness.NotApplicable}).judge().Notes; len(notes) != 0 {
		t.Errorf("another reason: notes %v", notes)
	}
}

// TestARateOnTooLittleRaisesWhatItAlreadyIs: it can only become worse.
func TestARateOnTooLittleRaisesWhatItAlreadyIs(t *testing.T) {
	for count, want := range map[int]readiness.Level{0: readiness.WiderGround, 1: readiness.HomeGround, 2: readiness.HomeGround, 3: readiness.Accompanied} {
		r := newReady()
		r.item("ind-one").Weight = 100 // that the section is covered
		r.add("ind", checklist.Item{ID: "ind-contacts", Type: checklist.TypeCount, Better: "low", Bands: bandsDownTo(0, 1, 2), Weight: 1, From: checklist.FromContacts,
			Effects: []checklist.Effect{
				{Effect: checklist.LimitAccompanied, When: []checklist.Condition{{Bands: []int{4}}}},
				{Effect: checklist.LimitHomeGround, When: []checklist.Condition{{Bands: []int{2, 3}}}},
			}}, readiness.Head{})
		r.in.Trial.Contacts = quantity.Quantity{Origin: quantity.Measured, Thin: true, Value: decimal.Int(count)}
		if got := r.judge().Level; got != want {
			t.Errorf("%d on too little: %v, want %v", count, got, want)
		}
	}
}

// TestOwnStopOpen: only a tired reading of the driver's own stop with a reserve of
// two shows it.
func TestOwnStopOpen(t *testing.T) {
	measured := func(origin quantity.Origin, reserve float64) quantity.Quantity {
		value, _ := decimal.Of(reserve)
		return quantity.Quantity{Origin: origin, Value: value}
	}
	for name, c := range map[string]struct {
		stop, power quantity.Quantity
		want        readiness.Level
	}{
		"nothing":                {want: readiness.Accompanied},
		"two":                    {stop: measured(quantity.Measured, 2), want: readiness.WiderGround},
		"less than two":          {stop: measured(quantity.Measured, 1.99), want: readiness.Accompanied},
		"assumed":                {stop: measured(quantity.Assumed, 9), want: readiness.Accompanied},
		"that of another one":    {power: measured(quantity.Measured, 9), want: readiness.Accompanied},
		"that asks for no force": {stop: quantity.Quantity{Origin: quantity.NotAsked, Value: decimal.Int(9)}, want: readiness.Accompanied},
	} {
		r := limited(checklist.Condition{States: []string{"not-applicable"}, Facts: []string{checklist.FactOwnStopOpen}},
			readiness.Head{State: readiness.NotApplicable, Named: true, Reason: "nowhere"})
		r.in.Analysis.Own[strength.StopSwitch], r.in.Analysis.Own[strength.PowerSwitch] = c.stop, c.power
		if got := r.judge().Level; got != c.want {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}

// TestWhatIsNotTestedCountsAsNothingAtAGate: of a hundred weights 72 are well, 23
// poor and 5 open. Without the open ones that is 76 of 100, with them 72, and
// Home ground asks for 75 at the hand-over.
func TestWhatIsNotTestedCountsAsNothingAtAGate(t *testing.T) {
	for well, want := range map[int]readiness.Level{72: readiness.Accompanied, 74: readiness.Accompanied, 75: readiness.WiderGround} {
		r := newReady()
		for _, id := range []string{"hnd-one", "hnd-teach", "hnd-limits"} {
			r.item(id).Weight = 0
		}
		for i := range 100 {
			level := "yes"
			switch {
			case i >= 95:
				level = ""
			case i >= well:
				level = "no"
			}
			r.add("hnd", checklist.Item{ID: fmt.Sprintf("hnd-x%d", i), Type: checklist.TypeYesNo, Weight: 1}, readiness.Head{Level: level})
		}
		result := r.judge()
		if result.Level != want {
			t.Errorf("%d well: %v, want %v", well, result.Level, want)
		}
		if well == 72 {
			const say = "hnd comes to 72 of 100 while some of it is not tested; 75 is needed."
			for _, g := range result.Gates {
				if g.Level == readiness.HomeGround && g.Code == "score-hnd" && (g.Met || english(g.Say) != say) {
					t.Errorf("%q, want %q", english(g.Say), say)
				}
			}
		}
	}
}

// TestAnAnswerApartFromNotTestedCoversNothing: whatever the other said, the item
// counts as not tested, so that a worse answer beside it never lifts the level.
func TestAnAnswerApartFromNotTestedCoversNothing(t *testing.T) {
	for name, c := range map[string]struct {
		beside *readiness.Head
		want   readiness.Level
	}{
		"alone":                      {nil, readiness.HomeGround},
		"not tested":                 {&readiness.Head{}, readiness.Practise},
		"does not apply":             {&readiness.Head{State: readiness.NotApplicable}, readiness.Practise},
		"another that is as it says": {&readiness.Head{State: readiness.Answered, Level: "2"}, readiness.HomeGround},
	} {
		r := newReady()
		item := checklist.Item{ID: "saf-new", Type: checklist.TypeHelp, Weight: 1, NA: true,
			Effects: []checklist.Effect{{Effect: checklist.LimitHomeGround, When: []checklist.Condition{{Levels: []string{"2"}}}}}}
		r.item("saf-one").Weight = 4
		r.add("saf", item, readiness.Head{Level: "2"})
		if c.beside != nil {
			c.beside.Item = r.head("saf-new").Item
			r.in.Heads = append(r.in.Heads, *c.beside)
		}
		if got := r.judge(); got.Level != c.want || len(got.Effects) != 1 {
			t.Errorf("%s: %v with %d effects, want %v with 1", name, got.Level, len(got.Effects), c.want)
		}
	}
}
