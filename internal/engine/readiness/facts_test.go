package readiness_test

import (
	"slices"
	"strings"
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/decimal"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/readiness"
	"doorsill/internal/engine/strength"
	"doorsill/internal/engine/trial"
	"doorsill/internal/message"
	"doorsill/internal/phrase"
)

// judged is a checklist of one section with answers to it; change may add to
// the input.
func judged(code string, items []checklist.Item, heads []readiness.Head, change ...func(*readiness.Input)) readiness.Result {
	in := readiness.Input{Heads: heads, Analysis: &strength.Analysis{}, Trial: &trial.Findings{}, Access: &access.Result{}}
	for _, fn := range change {
		fn(&in)
	}
	return readiness.Compile(&checklist.Definition{Sections: []checklist.Section{{Code: code, Title: "Section", Items: items}}}).Judge(in)
}

// asks is a yes-no item that raises an effect on one condition.
func asks(effect string, when checklist.Condition) []checklist.Item {
	return []checklist.Item{{ID: "saf-one", Title: "One", Type: checklist.TypeYesNo, Weight: 1, NA: true,
		Effects: []checklist.Effect{{Effect: effect, When: []checklist.Condition{when}}}}}
}

// raised names what is raised, in order.
func raised(r readiness.Result) []string {
	var list []string
	for _, e := range r.Effects {
		list = append(list, e.Effect)
	}
	return list
}

// bandsDownTo are bands with these bounds, and one for what is left.
func bandsDownTo(bounds ...float64) []checklist.Band {
	list := make([]checklist.Band, len(bounds)+1)
	for i := range bounds {
		list[i].Bound = &bounds[i]
	}
	return list
}

// said reads answers to the questions beside an item, such as "ramp=1,seen=0".
func said(facts string) map[string]bool {
	var all map[string]bool
	for one := range strings.SplitSeq(facts, ",") {
		if fact, answer, ok := strings.Cut(one, "="); ok {
			if all == nil {
				all = map[string]bool{}
			}
			all[fact] = answer == "1"
		}
	}
	return all
}

func english(m message.Message) string {
	return phrase.NewWriter(phrase.English(), nil).Text(&m)
}

// TestFactsBesideAnAnswer: every fact of a condition must be true, one that
// nobody answered counts as true (FORMAT.md, "asks"), and is said to be assumed.
func TestFactsBesideAnAnswer(t *testing.T) {
	both := checklist.Condition{Levels: []string{"no"}, Facts: []string{"ramp", "ramp-long"}}
	for facts, want := range map[string]struct{ raised, assumed bool }{
		"ramp=1,ramp-long=1":         {true, false},
		"ramp-long=1,ramp=1":         {true, false},
		"other=0,ramp=1,ramp-long=1": {true, false},
		"ramp=0,ramp-long=1":         {false, false},
		"ramp=1,ramp-long=0":         {false, false},
		"ramp-long=0":                {false, false},
		"ramp=0":                     {false, false},
		"ramp=1":                     {true, true},
		"ramp-long=1":                {true, true},
		"":                           {true, true},
		"other=0":                    {true, true},
		"camp=0,ramp-lone=0":         {true, true},
	} {
		r := judged("saf", asks(checklist.Stop, both), []readiness.Head{{State: readiness.Answered, Level: "no", Facts: said(facts)}})
		if got := len(r.Effects) > 0; got != want.raised {
			t.Errorf("%q: raised %v, want %v", facts, got, want.raised)
			continue
		}
		if want.raised && r.Effects[0].Assumed != want.assumed {
			t.Errorf("%q: assumed %v, want %v", facts, r.Effects[0].Assumed, want.assumed)
		}
	}
}

// TestWhatWasNotTestedRaises: only something that is known to have happened or
// been said, and never a mere property of the set-up.
func TestWhatWasNotTestedRaises(t *testing.T) {
	chin := func(in *readiness.Input) { in.Setup = &strength.Setup{Site: "chin", OperateGF: 10} }
	contact := func(in *readiness.Input) { in.Trial.PersonContact = true }
	missed := func(in *readiness.Input) { in.Analysis.Missed = 1 }
	for _, c := range []struct {
		name   string
		when   checklist.Condition
		facts  string
		change func(*readiness.Input)
		want   bool
	}{
		{"what was said", checklist.Condition{Facts: []string{"seen"}}, "seen=1", nil, true},
		{"what was said not to be", checklist.Condition{Facts: []string{"seen"}}, "seen=0", nil, false},
		{"what nobody answered", checklist.Condition{Facts: []string{"seen"}}, "", nil, false},
		{"contact with a person", checklist.Condition{Facts: []string{checklist.FactPersonContact}}, "", contact, true},
		{"a release that did not come", checklist.Condition{Facts: []string{checklist.FactReleaseMissed}}, "", missed, true},
		{"a release that came", checklist.Condition{Facts: []string{checklist.FactReleaseMissed}}, "", nil, false},
		{"a control that the head carries", checklist.Condition{Facts: []string{checklist.FactHeadBorne}}, "", chin, false},
		{"a light control", checklist.Condition{Facts: []string{checklist.FactLightControl}}, "", chin, false},
		{"contact, for an answer that there is not", checklist.Condition{Levels: []string{"no"}, Facts: []string{checklist.FactPersonContact}}, "", contact, false},
		{"no condition at all", checklist.Condition{}, "", contact, false},
	} {
		change := c.change
		if change == nil {
			change = func(*readiness.Input) {}
		}
		r := judged("saf", asks(checklist.Stop, c.when), []readiness.Head{{State: readiness.NotTested, Facts: said(c.facts)}}, change)
		if got := len(r.Effects) > 0; got != c.want {
			t.Errorf("%s: raised %v, want %v", c.name, got, c.want)
		}
		r = judged("saf", asks(checklist.Stop, c.when), []readiness.Head{{State: readiness.NotApplicable, Facts: said(c.facts)}}, change)
		if len(r.Effects) > 0 {
			t.Errorf("%s: raised where the item does not apply", c.name)
		}
	}
}

// TestLightControlIsUpToFifteen: "up to and with 15 gf" is light for a helper's
// hand (TRADE.md 4.3, rule 9); the site decides what the head carries.
func TestLightControlIsUpToFifteen(t *testing.T) {
	light := checklist.Condition{Levels: []string{"no"}, Facts: []string{checklist.FactLightControl}}
	headBorne := checklist.Condition{Levels: []string{"no"}, Facts: []string{checklist.FactHeadBorne}}
	for _, c := range []struct {
		when  checklist.Condition
		setup *strength.Setup
		want  bool
	}{
		{light, &strength.Setup{Site: "chin", OperateGF: 14.99}, true},
		{light, &strength.Setup{Site: "chin", OperateGF: 15}, true},
		{light, &strength.Setup{Site: "chin", OperateGF: 15.01}, false},
		{light, &strength.Setup{Site: "chin", OperateGF: 16}, false},
		{light, nil, false},
		{headBorne, &strength.Setup{Site: "chin", OperateGF: 50}, true},
		{headBorne, &strength.Setup{Site: "hand-right", OperateGF: 50}, false},
		{headBorne, nil, false},
	} {
		r := judged("saf", asks(checklist.Stop, c.when), []readiness.Head{{State: readiness.Answered, Level: "no"}},
			func(in *readiness.Input) { in.Setup = c.setup })
		if got := len(r.Effects) > 0; got != c.want {
			t.Errorf("%v with %+v: raised %v, want %v", c.when.Facts, c.setup, got, c.want)
		}
	}
}

// two is an item that raises a STOP for a driver with contacts and, with the
// same answer, that nobody may ride in a vehicle.
var two = checklist.Item{ID: "eqp-two", Title: "Two", Type: checklist.TypeFit, Weight: 3, Effects: []checklist.Effect{
	{Effect: checklist.StopVehicle, When: []checklist.Condition{{Levels: []string{"0", "1"}}}},
	{Effect: checklist.Stop, When: []checklist.Condition{{Levels: []string{"0"}, Facts: []string{"loose"}}}},
}}

// TestAnItemThatRaisesTwoEffects lists both, the gravest first and each with the
// fact that it rests on, and names the item once on the way up.
func TestAnItemThatRaisesTwoEffects(t *testing.T) {
	r := judged("eqp", []checklist.Item{two}, []readiness.Head{{State: readiness.Answered, Level: "0", Facts: said("loose=1")}})
	if want := []string{checklist.Stop, checklist.StopVehicle}; !slices.Equal(raised(r), want) {
		t.Fatalf("raised %v, want %v", raised(r), want)
	}
	if say := english(r.Effects[0].Say); say != "eqp-two: level 0, with “loose” answered yes. No driving with any control until this is answered again." {
		t.Error(say)
	}
	if say := english(r.Effects[1].Say); say != "eqp-two: level 0. May not travel seated in a vehicle." {
		t.Error(say)
	}
	if len(r.Notes) != 1 || r.Notes[0].Code != "readiness.vehicle" {
		t.Errorf("notes %v", r.Notes)
	}
	if r := judged("eqp", []checklist.Item{two}, []readiness.Head{{State: readiness.Answered, Level: "0", Facts: said("loose=0")}}); !slices.Equal(raised(r), []string{checklist.StopVehicle}) {
		t.Errorf("raised %v without the fact", raised(r))
	}
	// An open question beside it makes one of the two an assumption.
	r = judged("eqp", []checklist.Item{two}, []readiness.Head{{State: readiness.Answered, Level: "0"}})
	if len(r.Effects) != 2 || !r.Effects[0].Assumed || r.Effects[1].Assumed {
		t.Errorf("raised %+v", r.Effects)
	}
}

// TestTheFactBehindAnAnswer: of two conditions the one that the answer meets.
func TestTheFactBehindAnAnswer(t *testing.T) {
	items := []checklist.Item{{ID: "saf-one", Title: "One", Type: checklist.TypeFit, Weight: 1, Effects: []checklist.Effect{{Effect: checklist.Stop, When: []checklist.Condition{
		{Levels: []string{"0"}}, {Levels: []string{"1"}, Facts: []string{"loose"}}}}}}}
	for level, want := range map[string]string{
		"0": "saf-one: level 0. No driving with any control until this is answered again.",
		"1": "saf-one: level 1, with “loose” answered yes. No driving with any control until this is answered again.",
	} {
		r := judged("saf", items, []readiness.Head{{State: readiness.Answered, Level: level, Facts: said("loose=1")}})
		if len(r.Effects) != 1 || english(r.Effects[0].Say) != want {
			t.Errorf("level %s: %+v", level, r.Effects)
		}
	}
}

func TestAnItemWithTwoOpenEffectsIsOneStep(t *testing.T) {
	item := checklist.Item{ID: "eqp-two", Title: "Two", Type: checklist.TypeFit, Weight: 3, Effects: []checklist.Effect{
		{Effect: checklist.Stop, When: []checklist.Condition{{Levels: []string{"0"}}}},
		{Effect: checklist.LimitPractise, When: []checklist.Condition{{Levels: []string{"0", "1"}}}},
		{Effect: checklist.StopControl, When: []checklist.Condition{{Levels: []string{"0"}}}},
	}}
	r := judged("eqp", []checklist.Item{item}, []readiness.Head{{State: readiness.Answered, Level: "0"}})
	steps := 0
	for _, s := range r.Up {
		if s.Item == 0 {
			steps++
		}
	}
	if len(r.Effects) != 3 || steps != 1 {
		t.Errorf("%d effects and %d steps, want 3 and 1: %v", len(r.Effects), steps, r.Up)
	}
}

// TestAnEffectOfTwoRowsIsRaisedOnce: a checklist may write one effect in two
// rows, and several answers may each raise it.
func TestAnEffectOfTwoRowsIsRaisedOnce(t *testing.T) {
	item := checklist.Item{ID: "eqp-two", Title: "Two", Type: checklist.TypeFit, Weight: 3, Effects: []checklist.Effect{
		{Effect: checklist.Stop, When: []checklist.Condition{{Levels: []string{"0"}}}},
		{Effect: checklist.Stop, When: []checklist.Condition{{Levels: []string{"0", "1"}}}},
	}}
	other := item
	other.ID = "eqp-other"
	heads := []readiness.Head{{Item: 0, State: readiness.Answered, Level: "0"}, {Item: 0, State: readiness.Answered, Level: "1"}, {Item: 1, State: readiness.Answered, Level: "1"}}
	r := judged("eqp", []checklist.Item{item, other}, heads)
	if len(r.Effects) != 2 || r.Effects[0].Item != 0 || r.Effects[1].Item != 1 {
		t.Errorf("%+v", r.Effects)
	}
}

// TestOneNoteOnTheVehicle: two items that keep somebody out of a vehicle make
// one note, and items where people differ another.
func TestOneNoteOnTheVehicle(t *testing.T) {
	item := func(id string) checklist.Item {
		return checklist.Item{ID: id, Title: id, Type: checklist.TypeYesNo, Weight: 1, Effects: []checklist.Effect{{Effect: checklist.StopVehicle, When: []checklist.Condition{{Levels: []string{"no"}}}}}}
	}
	no := func(i int) readiness.Head { return readiness.Head{Item: i, State: readiness.Answered, Level: "no"} }
	r := judged("eqp", []checklist.Item{item("eqp-a"), item("eqp-b")}, []readiness.Head{no(0), no(1), no(1)})
	var codes []string
	for _, n := range r.Notes {
		codes = append(codes, n.Code)
	}
	if !slices.Equal(codes, []string{"readiness.choices", "readiness.vehicle"}) {
		t.Errorf("notes %v", codes)
	}
}

// TestTheMoreCautiousOfTwoAnswersStands: the one with the graver effect, even
// if it is worth more.
func TestTheMoreCautiousOfTwoAnswersStands(t *testing.T) {
	item := checklist.Item{ID: "out-one", Title: "One", Type: checklist.TypeFit, Weight: 1,
		Effects: []checklist.Effect{{Effect: checklist.LimitHomeGround, When: []checklist.Condition{{Levels: []string{"3"}}}}}}
	for _, order := range [][]string{{"3", "0"}, {"0", "3"}} {
		r := judged("out", []checklist.Item{item}, []readiness.Head{
			{State: readiness.Answered, Level: order[0]}, {State: readiness.Answered, Level: order[1]}})
		if r.Answers[0].Level != "3" || len(r.Effects) != 1 {
			t.Errorf("%v: level %s stands, %v", order, r.Answers[0].Level, raised(r))
		}
	}
}

// TestNotTestedIsMoreCautious than any answer that raises nothing, and of an item
// that can raise a STOP also than one that limits to Practise.
func TestNotTestedIsMoreCautious(t *testing.T) {
	stops := []checklist.Effect{
		{Effect: checklist.Stop, When: []checklist.Condition{{Levels: []string{"0"}}}},
		{Effect: checklist.LimitPractise, When: []checklist.Condition{{Levels: []string{"1"}}}}}
	for _, c := range []struct {
		name, level string
		effects     []checklist.Effect
		want        readiness.State
	}{
		{"worth nothing, raises nothing", "0", nil, readiness.NotTested},
		{"limits to Practise, and could have raised a STOP", "1", stops, readiness.NotTested},
		{"raises a STOP", "0", stops, readiness.Answered},
		{"limits to Practise", "1", stops[1:], readiness.Answered},
	} {
		item := checklist.Item{ID: "out-one", Title: "One", Type: checklist.TypeFit, Weight: 1, Effects: c.effects}
		heads := []readiness.Head{{State: readiness.Answered, Level: c.level}, {State: readiness.NotTested}}
		for range 2 {
			if got := judged("out", []checklist.Item{item}, heads).Answers[0].State; got != c.want {
				t.Errorf("%s: %v stands, want %v", c.name, got, c.want)
			}
			slices.Reverse(heads)
		}
	}
}

// TestThinQuantitiesAreNoAnswer: a quantity of too few readings answers its item
// only where it is the worst already.
func TestThinQuantitiesAreNoAnswer(t *testing.T) {
	item := []checklist.Item{{ID: "ctl-hold", Title: "Hold", Type: checklist.TypeNumber, Better: "high", Bands: bandsDownTo(60, 30, 10), Unit: "s", From: checklist.FromHold, Weight: 1}}
	for value, want := range map[int]readiness.State{30: readiness.NotTested, 10: readiness.NotTested, 9: readiness.Answered} {
		r := judged("ctl", item, nil, func(in *readiness.Input) {
			in.Analysis.Hold = quantity.Quantity{Origin: quantity.Measured, Value: decimal.Int(value), Thin: true, Say: message.New("test.thin")}
		})
		if a := r.Answers[0]; a.State != want || (a.State == readiness.NotTested) != (a.Band == 0 && !a.HasValue) {
			t.Errorf("%d s: %v, band %d", value, a.State, a.Band)
		}
	}
}

// TestNotApplicableOnlyWhereTheChecklistSaysSo holds for what is computed too.
func TestNotApplicableOnlyWhereTheChecklistSaysSo(t *testing.T) {
	for _, na := range []bool{true, false} {
		item := []checklist.Item{{ID: "ctl-hold", Title: "Hold", Type: checklist.TypeNumber, Better: "high", Bands: bandsDownTo(60), Unit: "s", From: checklist.FromHold, Weight: 1, NA: na}}
		r := judged("ctl", item, []readiness.Head{{State: readiness.NotApplicable}})
		if got := r.Answers[0].State == readiness.NotApplicable; got != na {
			t.Errorf("allowed %v: %v", na, r.Answers[0].State)
		}
	}
}
