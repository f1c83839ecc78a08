package readiness_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/decimal"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/readiness"
	"doorsill/internal/message"
	"doorsill/internal/phrase"
)

// steps are the steps to the next level: the item, or "-", and what is said.
func (r *ready) steps(t *testing.T) (level readiness.Level, steps []string) {
	t.Helper()
	list := readiness.Compile(r.set)
	result := r.judge()
	w := phrase.NewWriter(phrase.English(), readiness.Titles{r.set})
	for _, s := range result.Up {
		if s.Level != result.Level+1 {
			t.Errorf("a step to %v from %v", s.Level, result.Level)
		}
		id := "-"
		if s.Item >= 0 {
			id = list.At(s.Item).ID
		}
		steps = append(steps, id+": "+w.Text(&s.Say))
	}
	return result.Level, steps
}

func check(t *testing.T, name string, r *ready, level readiness.Level, want ...string) {
	t.Helper()
	got, steps := r.steps(t)
	if got != level || !slices.Equal(steps, want) {
		t.Errorf("%s: %v\n%s\nwant %v\n%s", name, got, strings.Join(steps, "\n"), level, strings.Join(want, "\n"))
	}
}

func raises(effect string, when checklist.Condition) []checklist.Effect {
	return []checklist.Effect{{Effect: effect, When: []checklist.Condition{when}}}
}

// TestNothingLeadsPastTheTop: also what forbids a vehicle is no step.
func TestNothingLeadsPastTheTop(t *testing.T) {
	r := newReady()
	r.item("eqp-one").Effects = raises(checklist.StopVehicle, checklist.Condition{Levels: []string{"4"}})
	check(t, "the top", r, readiness.WiderGround)
}

// TestStepsOfTheControl: what the verdict rests on and what would change it;
// notes and other places stay out.
func TestStepsOfTheControl(t *testing.T) {
	reason := func(rule string, verdict access.Verdict) access.Reason {
		return access.Reason{Rule: rule, Verdict: verdict, Say: message.New(rule + "."), Change: message.New("Change it.")}
	}
	travel, wet, rough := reason("Travel", access.Marginal), reason("Wet", access.Marginal), reason("Rough", access.Marginal)
	force, pain := reason("Force", access.NotFeasible), reason("Pain", access.Feasible)
	wet.Advisory, rough.OutdoorsOnly = true, true
	force.Item = "pos-one" // the first item of the checklist
	all := []access.Reason{force, travel, wet, rough, pain}
	marginal := []access.Reason{travel, wet, rough, pain}
	for _, c := range []struct {
		name              string
		indoors, outdoors access.Verdict
		reasons           []access.Reason
		level             readiness.Level
		want              []string
	}{
		{"refused", access.NotFeasible, access.NotFeasible, all, readiness.Pause, []string{"pos-one: Force. Change it."}},
		{"marginal", access.Marginal, access.Marginal, marginal, readiness.Accompanied, []string{"-: Travel. Change it."}},
		{"marginal outdoors", access.Feasible, access.Marginal, []access.Reason{wet, rough, pain}, readiness.HomeGround, []string{"-: Rough. Change it."}},
		{"not judged outdoors", access.Feasible, access.Unknown, []access.Reason{reason("Rough", access.Unknown)}, readiness.HomeGround, []string{"-: Rough. Change it."}},
	} {
		r := newReady()
		r.in.Access.Indoors, r.in.Access.Outdoors, r.in.Access.Reasons = c.indoors, c.outdoors, c.reasons
		check(t, c.name, r, c.level, c.want...)
	}
	// An item that is named already is not named again.
	r := newReady()
	r.item("pos-one").Effects = raises(checklist.StopControl, checklist.Condition{Levels: []string{"0"}})
	r.answer("pos-one", "0")
	r.in.Access.Indoors, r.in.Access.Reasons = access.NotFeasible, []access.Reason{force}
	check(t, "named already", r, readiness.Pause, "pos-one: pos-one: level 0; answer again with level 1 or better to lift “Not with this control”.")
}

// TestOutdoorsWithTooFewItems: below five that apply no answer lifts the count.
func TestOutdoorsWithTooFewItems(t *testing.T) {
	for apply, want := range map[int][]string{
		5: {"out-0: Test “out-0”: needs any answer for out."},
		4: {"-: Test more outdoors: 3 of 5 outdoor questions answered; at least 5 are needed. What does not apply or was not tested shows nothing.",
			"out-0: Test “out-0”: needs level 1 or better for out."},
	} {
		r := newReady()
		r.answer("out-0", "")
		r.item("out-0").Weight = 2
		if apply < 5 {
			r.head("out-1").State = readiness.NotApplicable
		}
		check(t, fmt.Sprintf("%d items apply", apply), r, readiness.HomeGround, want...)
	}
}

// TestWhatNothingClears: an item whose every answer raises something is asked
// for its best.
func TestWhatNothingClears(t *testing.T) {
	r := newReady()
	r.item("saf-one").Effects = raises(checklist.LimitPractise, checklist.Condition{Levels: []string{"4", "3", "2", "1", "0"}})
	r.answer("saf-one", "3")
	check(t, "every answer raises", r, readiness.Practise, "saf-one: saf-one: level 3; answer again with level 4 to lift “Held at Practise”.")
}

// TestAnUnansweredStopIsOneStep, also when something else raised its effect.
func TestAnUnansweredStopIsOneStep(t *testing.T) {
	r := newReady()
	r.item("saf-one").Effects = append(raises(checklist.Stop, checklist.Condition{Levels: []string{"0"}}),
		raises(checklist.LimitPractise, checklist.Condition{Facts: []string{"seen"}})...)
	r.answer("saf-one", "")
	check(t, "open", r, readiness.Practise, "saf-one: Answer “saf-one”. It can stop the driving, so it must be known.")
	r.head("saf-one").Facts = said("seen=1")
	check(t, "open, with what was seen", r, readiness.Practise,
		"saf-one: saf-one: not tested, with “seen” answered yes; needs level 3 or better, and must come out without that, to lift “Held at Practise”.")
}

// TestAHoldForPracticeIsNamedOnce, also when its item holds the level down.
func TestAHoldForPracticeIsNamedOnce(t *testing.T) {
	for _, limited := range []bool{false, true} {
		r := newReady()
		item := checklist.Item{ID: "ctl-hold", Type: checklist.TypeNumber, Better: "high", Bands: bandsDownTo(60, 30, 10), Unit: "s", From: checklist.FromHold, Weight: 1}
		want := "ctl-hold: Held for 9 s. At least 10 s are needed."
		if limited {
			item.Effects = raises(checklist.LimitPractise, checklist.Condition{Bands: []int{4}})
			want = "ctl-hold: ctl-hold: 9 s; answer again with 10 s or more to lift “Held at Practise”."
		}
		r.add("ctl", item, readiness.Head{})
		r.in.Access.PractiseOnly = true
		r.in.Analysis.Hold = held(9)
		check(t, fmt.Sprintf("limited %v", limited), r, readiness.Practise, want)
	}
}

func held(seconds int) quantity.Quantity {
	q := quantity.Quantity{Origin: quantity.Measured, Say: message.New(fmt.Sprintf("Held for %d s.", seconds))}
	q.Value = decimal.Int(seconds)
	return q
}

// withSection fills "pos", of which Accompanied asks 60, with help items of
// weight 1 that were answered like this, and with one that was not tried, unless
// its weight is 0. A level is worth 100, 85, 55, 20 and 0 (TRADE.md 5.1).
func withSection(untried int, levels ...string) *ready {
	r := newReady()
	r.item("pos-one").Weight = 0
	for _, level := range levels {
		r.add("pos", checklist.Item{ID: fmt.Sprintf("pos-%02d", len(r.set.Sections[0].Items)), Type: checklist.TypeHelp, Weight: 1}, readiness.Head{Level: level})
	}
	if untried > 0 {
		r.add("pos", checklist.Item{ID: "pos-new", Type: checklist.TypeHelp, Weight: untried}, readiness.Head{})
	}
	return r
}

func times(n int, level string) []string { return slices.Repeat([]string{level}, n) }

// TestTheFewestItemsOfASection: one that was never tried may do for two that
// went badly, and of two ways of one length the one that tries most is taken.
// Each is then asked for no more than what is enough.
func TestTheFewestItemsOfASection(t *testing.T) {
	for _, c := range []struct {
		name    string
		untried int
		levels  []string
		want    []string
	}{
		// 550 of 1,000: 45 are short of 59.5, which rounds up to 60.
		{"one tried", 0, times(10, "2"), []string{"pos-01: pos-01: from level 2 to level 4 for pos."}},
		// 1,650 of 3,000: three tried ones would do, at 45 each. With the new one
		// 1,950 of 3,300, and one tried makes that 1,995: of the 31.5 above 59.5
		// level 3 would take 45 at the new one, and takes 15 at the other.
		{"a new one for two tried", 3, times(30, "2"), []string{
			"pos-new: Test “pos-new”: needs level 4 for pos.", "pos-01: pos-01: from level 2 to level 3 or better for pos."}},
		// 1,100 of 2,000: two tried ones, or the new one and one tried: 1,345 of
		// 2,200 leave 36, and the new one at level 3 takes 30 of them.
		{"a new one for one tried", 2, times(20, "2"), []string{
			"pos-new: Test “pos-new”: needs level 3 or better for pos.", "pos-01: pos-01: from level 2 to level 4 for pos."}},
		// 510 of 1,000: level 3 brings the 85 that are short, and nothing to spare.
		{"exactly enough", 0, append(times(4, "0"), times(6, "3")...), []string{"pos-01: pos-01: from level 0 to level 3 or better for pos."}},
	} {
		check(t, c.name, withSection(c.untried, c.levels...), readiness.Practise, c.want...)
	}
}

// TestTheLeastThatHoldsNothingDown: a level that would hold the next one down is
// passed over on the way down; what forbids a vehicle alone is not.
func TestTheLeastThatHoldsNothingDown(t *testing.T) {
	// 540 of 1,000: level 2 brings the 55 that are short.
	r := withSection(0, "0", "0", "0", "1", "1", "4", "4", "4", "4", "4")
	check(t, "nothing is raised", r, readiness.Practise, "pos-01: pos-01: from level 0 to level 2 or better for pos.")
	for _, c := range []struct {
		effect, level, least string
	}{
		{checklist.LimitPractise, "3", "2"}, {checklist.LimitPractise, "2", "3"},
		{checklist.LimitAccompanied, "2", "2"}, {checklist.StopVehicle, "2", "2"},
	} {
		r.item("pos-01").Effects = raises(c.effect, checklist.Condition{Levels: []string{c.level}})
		check(t, "level "+c.level+" raises "+c.effect, r, readiness.Practise, "pos-01: pos-01: from level 0 to level "+c.least+" or better for pos.")
	}
}

// TestTheLeastThatEveryRuleWants: an answer that clears what an item raises is asked
// as good as the control, the gate that names the item and the score want it.
func TestTheLeastThatEveryRuleWants(t *testing.T) {
	pain := checklist.Item{ID: "ctl-pain", Type: checklist.TypeNumber, Better: "low", Bands: bandsDownTo(1, 3, 6), Unit: "0-10", Weight: 0,
		Effects: raises(checklist.LimitAccompanied, checklist.Condition{Bands: []int{4}})}
	hurts := access.Reason{Rule: "pain", Item: "ctl-pain", Verdict: access.Marginal}
	for name, c := range map[string]struct {
		level readiness.Level
		want  string
		make  func(*ready)
	}{
		"its effect alone": {readiness.Accompanied, "ctl-pain: ctl-pain: 8 of 10; answer again with 6 of 10 or less to lift “Held at Accompanied”.",
			func(r *ready) { r.add("ctl", pain, readiness.Head{Number: decimal.Int(8)}) }},
		"the control, too": {readiness.Accompanied, "ctl-pain: ctl-pain: 8 of 10; answer again with 3 of 10 or less to lift “Held at Accompanied”.",
			func(r *ready) {
				r.add("ctl", pain, readiness.Head{Number: decimal.Int(8)})
				r.in.Access.Indoors, r.in.Access.Outdoors, r.in.Access.Reasons = access.Marginal, access.Marginal, []access.Reason{hurts}
			}},
		"the control warns only": {readiness.Accompanied, "ctl-pain: ctl-pain: 8 of 10; answer again with 6 of 10 or less to lift “Held at Accompanied”.",
			func(r *ready) {
				r.add("ctl", pain, readiness.Head{Number: decimal.Int(8)})
				warns := hurts
				warns.Advisory = true
				r.in.Access.Reasons = []access.Reason{warns}
			}},
		"what is taught": {readiness.Practise, "hnd-teach: hnd-teach: 1 of 5; answer again with 3 of 5 or more to lift “Held at Practise”.",
			func(r *ready) {
				it := r.item("hnd-teach")
				it.Bands, it.Effects = bandsDownTo(5, 4, 3, 2), raises(checklist.LimitPractise, checklist.Condition{Bands: []int{5}})
				r.head("hnd-teach").Number = decimal.Int(1)
			}},
		"the limits": {readiness.Practise, "hnd-limits: hnd-limits: level 0; answer again with level 3 to lift “Held at Practise”.",
			func(r *ready) {
				it := r.item("hnd-limits")
				it.Type, it.Effects = checklist.TypeFit, raises(checklist.LimitPractise, checklist.Condition{Levels: []string{"0"}})
				r.answer("hnd-limits", "0")
			}},
		"the stop": {readiness.Pause, "mnt-stop: mnt-stop: level 0; answer again with level 3 to lift “No driving”.",
			func(r *ready) {
				it := r.item("mnt-stop")
				it.Type, it.Effects = checklist.TypeFit, raises(checklist.Stop, checklist.Condition{Levels: []string{"0"}})
				r.answer("mnt-stop", "0")
			}},
		"a score": {readiness.Practise, "pos-one: pos-one: level 0; answer again with level 2 or better to lift “Held at Practise”.",
			func(r *ready) { // 255 of 600 are 102 short of 59.5 in 100
				r.item("pos-one").Effects = raises(checklist.LimitPractise, checklist.Condition{Levels: []string{"0"}})
				r.answer("pos-one", "0")
				r.add("pos", checklist.Item{ID: "pos-two", Type: checklist.TypeHelp, Weight: 3}, readiness.Head{Level: "3"})
			}},
		"a score, whatever is beside it": {readiness.Practise, "pos-one: pos-one: level 0; answer again with level 2 or better to lift “Held at Practise”.",
			func(r *ready) {
				r.item("pos-one").Effects = raises(checklist.LimitPractise, checklist.Condition{Levels: []string{"0"}, Facts: []string{"seen"}})
				r.answer("pos-one", "0")
				r.head("pos-one").Facts = said("seen=1")
				r.add("pos", checklist.Item{ID: "pos-two", Type: checklist.TypeHelp, Weight: 3}, readiness.Head{Level: "3"})
			}},
		"either of the two": {readiness.Practise, "saf-one: saf-one: level 0, with “seen” answered yes; needs level 1 or better, or must come out without that, to lift “Held at Practise”.",
			func(r *ready) {
				r.item("saf-one").Effects = raises(checklist.LimitPractise, checklist.Condition{Levels: []string{"0"}, Facts: []string{"seen"}})
				r.item("saf-one").Weight = 0
				r.answer("saf-one", "0")
				r.head("saf-one").Facts = said("seen=1")
			}},
		"only what is beside it": {readiness.Practise, "saf-one: saf-one: level 4, with “seen” answered yes; must come out without that to lift “Held at Practise”.",
			func(r *ready) {
				r.item("saf-one").Effects = raises(checklist.LimitPractise, checklist.Condition{Facts: []string{"seen"}})
				r.head("saf-one").Facts = said("seen=1")
			}},
	} {
		r := newReady()
		c.make(r)
		check(t, name, r, c.level, c.want)
	}
}
