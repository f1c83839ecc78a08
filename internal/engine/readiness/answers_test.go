package readiness_test

import (
	"slices"
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/decimal"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/readiness"
	"doorsill/internal/engine/strength"
)

// measuredAs is a quantity with a whole value.
func measuredAs(value int, thin bool) quantity.Quantity {
	return quantity.Quantity{Origin: quantity.Measured, Value: decimal.Int(value), Thin: thin}
}

// TestWhatIsCountedWhereThereIsNothingToCount: that no switch was pressed where there is
// none does not apply; a press, an answer, and what is measured otherwise count.
func TestWhatIsCountedWhereThereIsNothingToCount(t *testing.T) {
	for _, c := range []struct {
		name  string
		kind  string
		na    bool
		state readiness.State
		value int
		want  readiness.State
	}{
		{"none, and it does not apply", checklist.TypeCount, true, readiness.NotApplicable, 0, readiness.NotApplicable},
		{"one, and it does not apply", checklist.TypeCount, true, readiness.NotApplicable, 1, readiness.Answered},
		{"none", checklist.TypeCount, true, readiness.Answered, 0, readiness.Answered},
		{"none, and nobody said anything", checklist.TypeCount, true, readiness.NotTested, 0, readiness.Answered},
		{"none, and it always applies", checklist.TypeCount, false, readiness.NotApplicable, 0, readiness.Answered},
		{"a number that is no count", checklist.TypeNumber, true, readiness.NotApplicable, 0, readiness.Answered},
	} {
		item := []checklist.Item{{ID: "mnt-presses", Type: c.kind, Better: "low", Bands: bandsDownTo(0, 1), Weight: 1, From: checklist.FromPresses, NA: c.na}}
		r := judged("mnt", item, []readiness.Head{{State: c.state}}, func(in *readiness.Input) { in.Trial.Presses = measuredAs(c.value, false) })
		if got := r.Answers[0].State; got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	// The smallest rate that is one is no 0.
	item := []checklist.Item{{ID: "mnt-presses", Type: checklist.TypeCount, Better: "low", Bands: bandsDownTo(0, 1), Weight: 1, From: checklist.FromPresses, NA: true}}
	r := judged("mnt", item, []readiness.Head{{State: readiness.NotApplicable}}, func(in *readiness.Input) {
		in.Trial.Presses = quantity.Quantity{Origin: quantity.Measured, Value: 1}
	})
	if got := r.Answers[0].State; got != readiness.Answered {
		t.Errorf("a millionth: %v", got)
	}
}

// TestAComputedAnswer has value, band and worth of what was measured (TRADE.md 5.1: of
// four bands 100, 70, 35 and 0).
func TestAComputedAnswer(t *testing.T) {
	for value, want := range map[int]struct{ band, points int }{60: {1, 100}, 59: {2, 70}, 30: {2, 70}, 10: {3, 35}, 9: {4, 0}} {
		item := []checklist.Item{{ID: "ctl-hold", Type: checklist.TypeNumber, Better: "high", Bands: bandsDownTo(60, 30, 10), Unit: "s", From: checklist.FromHold, Weight: 1}}
		r := judged("ctl", item, nil, func(in *readiness.Input) { in.Analysis.Hold = measuredAs(value, false) })
		a := r.Answers[0]
		if a.State != readiness.Answered || !a.HasValue || a.Value != decimal.Int(value) || a.Band != want.band || a.Points != want.points || !a.Computed || a.Choice() {
			t.Errorf("%d s: %+v, want %+v", value, a, want)
		}
	}
	for _, c := range []struct {
		name  string
		q     quantity.Quantity
		state readiness.State
		want  readiness.State
	}{
		{"missing", quantity.Quantity{}, readiness.NotTested, readiness.NotTested},
		{"missing, and it does not apply", quantity.Quantity{}, readiness.NotApplicable, readiness.NotApplicable},
		{"without a meaning", quantity.Quantity{Origin: quantity.NotAsked}, readiness.NotTested, readiness.NotApplicable},
		{"of too few, in the best band, and it does not apply", measuredAs(60, true), readiness.NotApplicable, readiness.NotApplicable},
		{"of too few, in the best band", measuredAs(60, true), readiness.NotTested, readiness.NotTested},
		{"of too few, in the second band, and it does not apply", measuredAs(30, true), readiness.NotApplicable, readiness.NotTested},
	} {
		item := []checklist.Item{{ID: "ctl-hold", Type: checklist.TypeNumber, Better: "high", Bands: bandsDownTo(60, 30, 10), Unit: "s", From: checklist.FromHold, Weight: 1, NA: true,
			Effects: []checklist.Effect{{Effect: checklist.LimitPractise, When: []checklist.Condition{{Bands: []int{1}}}}}}}
		r := judged("ctl", item, []readiness.Head{{State: c.state}}, func(in *readiness.Input) { in.Analysis.Hold = c.q })
		if a := r.Answers[0]; a.State != c.want || a.HasValue || a.Band != 0 || len(r.Effects)+len(r.Untested) > 0 {
			t.Errorf("%s: %+v, raised %v %v, want %v", c.name, a, raised(r), r.Untested, c.want)
		}
	}
}

// TestAReleaseThatDidNotCome is the worst there is, however prompt the others were, and
// says nothing of another item.
func TestAReleaseThatDidNotCome(t *testing.T) {
	for missed, want := range map[int]int{0: 2, 1: 3, 2: 3} {
		items := []checklist.Item{
			{ID: "ctl-release", Type: checklist.TypeNumber, Better: "low", Bands: bandsDownTo(1.5, 2.5), Unit: "s", From: checklist.FromRelease, Weight: 1},
			{ID: "ctl-hold", Type: checklist.TypeNumber, Better: "high", Bands: bandsDownTo(30, 10), Unit: "s", From: checklist.FromHold, Weight: 1},
		}
		r := judged("ctl", items, nil, func(in *readiness.Input) {
			in.Analysis.Release, in.Analysis.Hold, in.Analysis.Missed = measuredAs(2, false), measuredAs(60, false), missed
		})
		if r.Answers[0].Band != want || r.Answers[1].Band != 1 {
			t.Errorf("%d missed: band %d, of the hold %d", missed, r.Answers[0].Band, r.Answers[1].Band)
		}
		code := "value.unit"
		if missed > 0 {
			code = "answer.release-missed"
		}
		for _, cost := range r.Costs {
			if got := cost.Say.Arg("answer").Messages[0].Code; cost.Item == 0 && got != code {
				t.Errorf("%d missed: said as %s", missed, got)
			}
		}
	}
}

// TestAnswersWithSides keep both, and say the one that was noticed less, the left where
// both are alike.
func TestAnswersWithSides(t *testing.T) {
	item := []checklist.Item{{ID: "per-sides", Type: checklist.TypeCount, Better: "high", Bands: bandsDownTo(12, 9), Of: 12, Sides: true, Weight: 1}}
	for sides, want := range map[[2]int]string{{6, 2}: "right 2 6", {1, 6}: "left 1 6", {3, 3}: ""} {
		r := judged("per", item, []readiness.Head{{State: readiness.Answered, Number: decimal.Int(sides[0] + sides[1]), Left: decimal.Int(sides[0]), Right: decimal.Int(sides[1]), HasNumber: true}})
		a := r.Answers[0]
		if a.Left != decimal.Int(sides[0]) || a.Right != decimal.Int(sides[1]) {
			t.Errorf("%v: left %v, right %v", sides, a.Left, a.Right)
		}
		say, got := r.Costs[0].Say.Arg("answer").Messages[0], ""
		if side := say.Arg("side"); side != nil {
			got = side.Word + " " + say.Arg("noticed").Number.Text() + " " + say.Arg("of").Number.Text()
		}
		if got != want {
			t.Errorf("%v: %q, want %q", sides, got, want)
		}
	}
}

// TestOfTwoAnswersTheFirstStandsWhereBothAreAlike, and else the one that is worth less.
func TestOfTwoAnswersTheFirstStandsWhereBothAreAlike(t *testing.T) {
	item := []checklist.Item{{ID: "saf-one", Type: checklist.TypeHelp, Weight: 1, NA: true}}
	answer := func(level string) readiness.Head { return readiness.Head{State: readiness.Answered, Level: level} }
	for _, levels := range [][]string{{"4", "2"}, {"2", "4"}, {"2", "3"}} {
		r := judged("saf", item, []readiness.Head{answer(levels[0]), answer(levels[1])})
		if got := r.Answers[0]; got.Level != "2" || got.Points != 55 || !got.Choice() {
			t.Errorf("%v: %+v", levels, got)
		}
	}
	for _, reasons := range [][]string{{"here", "there"}, {"there", "here"}} {
		var heads []readiness.Head
		for _, reason := range reasons {
			heads = append(heads, readiness.Head{State: readiness.NotApplicable, Named: true, Reason: reason})
		}
		r := judged("saf", item, heads)
		if at := slices.IndexFunc(r.Answers, func(a readiness.Answer) bool { return a.State == readiness.NotApplicable }); at != 0 {
			t.Fatalf("%+v", r.Answers)
		}
		holds := r.Notes[len(r.Notes)-1]
		if holds.Code != "readiness.holds-while" || holds.Arg("reason").Word != reasons[0] {
			t.Errorf("%v: %s", reasons, holds.String())
		}
	}
}

// TestWhetherItApplies: where people differ on that nothing is tested, which raises what
// an item that is not tested raises, and both answers wait for a choice.
func TestWhetherItApplies(t *testing.T) {
	item := []checklist.Item{{ID: "saf-one", Type: checklist.TypeHelp, Weight: 1, NA: true,
		Effects: []checklist.Effect{{Effect: checklist.LimitPractise, When: []checklist.Condition{{States: []string{checklist.StateNotTested}}}}}}}
	heads := []readiness.Head{{State: readiness.Answered, Level: "4"}, {State: readiness.NotApplicable}}
	for range 2 {
		r := judged("saf", item, heads)
		if a := r.Answers[0]; a.State != readiness.NotTested || !a.Choice() || len(r.Untested) != 1 || a.Level != "" {
			t.Errorf("%+v, untested %v", a, r.Untested)
		}
		var say []string
		for i := range r.Missing {
			if r.Missing[i].Item == 0 {
				say = append(say, r.Missing[i].Say.Code)
			}
		}
		if !slices.Equal(say, []string{"readiness.lack-disagreed"}) {
			t.Errorf("missing %v", say)
		}
		slices.Reverse(heads)
	}
	r := judged("saf", item, nil)
	if a := r.Answers[0]; a.Choice() || r.Missing == nil {
		t.Errorf("nobody said anything: %+v", a)
	}
}

// TestWhatDoesNotApplyIsAFinding where the checklist names it: somebody looked.
func TestWhatDoesNotApplyIsAFinding(t *testing.T) {
	for _, c := range []struct {
		name          string
		when          checklist.Condition
		state         readiness.State
		effects, open int
	}{
		{"does not apply", checklist.Condition{States: []string{checklist.StateNotApplicable}}, readiness.NotApplicable, 1, 0},
		{"not tested", checklist.Condition{States: []string{checklist.StateNotTested}}, readiness.NotTested, 0, 1},
		{"any answer at all", checklist.Condition{}, readiness.Answered, 1, 0},
	} {
		r := judged("saf", asks(checklist.LimitPractise, c.when), []readiness.Head{{State: c.state, Level: map[bool]string{true: "no"}[c.state == readiness.Answered]}})
		if len(r.Effects) != c.effects || len(r.Untested) != c.open {
			t.Errorf("%s: raised %v, untested %v", c.name, raised(r), r.Untested)
		}
	}
}

// TestCoverageAtItsBound: a score asks for 80 % of the weight (TRADE.md 5.1), and 199 of
// 250 are 79.6 %.
func TestCoverageAtItsBound(t *testing.T) {
	for weight, want := range map[int]bool{199: false, 200: true} {
		items := []checklist.Item{{ID: "saf-one", Type: checklist.TypeHelp, Weight: weight}, {ID: "saf-two", Type: checklist.TypeHelp, Weight: 250 - weight}}
		if d := judged("saf", items, []readiness.Head{{State: readiness.Answered, Level: "4"}}).Domains[0]; d.HasScore != want {
			t.Errorf("%d of 250 answered: a score %v, want %v", weight, d.HasScore, want)
		}
	}
	items := []checklist.Item{{ID: "saf-one", Type: checklist.TypeHelp, Weight: 1}}
	if d := judged("saf", items, []readiness.Head{{State: readiness.Answered, Level: "4"}}).Domains[0]; !d.HasScore || d.Score != 100 {
		t.Errorf("one item of weight 1: %+v", d)
	}
}

// TestWhatIsMeasuredIsNotAssumed: no fact that follows from set-up, readings, runs or
// sides is one that nobody answered.
func TestWhatIsMeasuredIsNotAssumed(t *testing.T) {
	for _, fact := range checklist.DerivedFacts() {
		item := asks(checklist.Stop, checklist.Condition{Bands: []int{2}, Facts: []string{fact}})
		item[0].Type, item[0].Better, item[0].Sides, item[0].Of, item[0].Bands = checklist.TypeCount, "high", true, 12, bandsDownTo(12)
		head := readiness.Head{State: readiness.Answered, Number: decimal.Int(6), Left: decimal.Int(4), Right: decimal.Int(2), HasNumber: true}
		r := judged("per", item, []readiness.Head{head}, func(in *readiness.Input) {
			in.Setup = &strength.Setup{Site: "chin", OperateGF: 10}
			in.Analysis.Missed, in.Trial.PersonContact = 1, true
		})
		if len(r.Effects) != 1 || r.Effects[0].Assumed {
			t.Errorf("%s: %+v", fact, r.Effects)
		}
	}
}

// TestTheFactBesideAStateIsNamed, and how a question is answered.
func TestTheFactBesideAStateIsNamed(t *testing.T) {
	when := checklist.Condition{States: []string{checklist.StateNotApplicable}, Facts: []string{checklist.FactOwnStopOpen}}
	r := judged("saf", asks(checklist.Stop, when), []readiness.Head{{State: readiness.NotApplicable}})
	say := r.Effects[0].Say
	if fact := say.Arg("fact"); say.Code != "readiness.raised-with" || fact == nil || fact.Messages[0].String() != "fact.own-stop-open least=2" {
		t.Error(say.String())
	}
	r = judged("saf", asks(checklist.Stop, checklist.Condition{Levels: []string{"no"}}), []readiness.Head{{State: readiness.Answered, Level: "no"}})
	if answer := r.Effects[0].Say.Arg("answer").Messages[0]; answer.String() != "answer.yes-no answer=no" {
		t.Error(answer.String())
	}
}

// TestForceOfAControlThatAsksNone is not asked for; of one that asks 1 gf it is.
func TestForceOfAControlThatAsksNone(t *testing.T) {
	for gf, want := range map[float64]bool{0: false, 1: true} {
		r := newReady()
		r.in.Setup.OperateGF = gf
		result := r.judge()
		for _, code := range []string{"tired-force", "force-readings"} {
			if got := slices.ContainsFunc(result.Gates, func(g readiness.Gate) bool { return g.Code == code }); got != want {
				t.Errorf("%v gf: %s asked %v, want %v", gf, code, got, want)
			}
		}
		if result.Level != readiness.WiderGround {
			t.Errorf("%v gf: %v", gf, result.Level)
		}
	}
	r := newReady()
	r.in.Setup.OperateGF, r.in.Setup.Needed = 0, []strength.Direction{strength.Left}
	if result := r.judge(); result.Level != readiness.WiderGround {
		t.Errorf("no force asked, and none measured to the left: %v, because of %s", result.Level, failed(result))
	}
}
