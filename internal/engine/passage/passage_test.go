package passage_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"doorsill/internal/engine/passage"
	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
	"doorsill/internal/model"
	"doorsill/internal/phrase"
)

var english = phrase.NewWriter(phrase.English(), nil)

// say is the English sentence of a message.
func say(m message.Message) string { return english.Text(&m) }

// hasWords says whether an id is an entry of a vocabulary; package phrase writes
// other ids as they are.
func hasWords(vocabulary, id string) bool {
	found := false
	phrase.English().Codes(func(code, _ string) { found = found || code == vocabulary+"."+id })
	return found
}

// refused checks that an error is a refusal of a field, and that it has words.
func refused(t *testing.T, name string, err error, field string) {
	t.Helper()
	var r *provenance.Refusal
	if !errors.As(err, &r) {
		t.Errorf("%s: got %v, want a refusal", name, err)
		return
	}
	if arg := r.Arg("field"); arg == nil || arg.Word != field {
		t.Errorf("%s: refusal %q does not name %q", name, r.Error(), field)
	}
	if !hasWords("field", field) {
		t.Errorf("%s: the field %q has no words", name, field)
	}
}

// refusedAs checks that a refusal begins with some words and says what was expected.
func refusedAs(t *testing.T, err error, words string) {
	t.Helper()
	var r *provenance.Refusal
	if !errors.As(err, &r) {
		t.Errorf("%s: got %v, want a refusal", words, err)
		return
	}
	if text := say(r.Message); !strings.HasPrefix(text, words+": expected ") {
		t.Errorf("got %q, want it to begin with %q and what was expected", text, words)
	}
}

var (
	bad  = []float64{0, -1, math.NaN(), math.Inf(1), math.Inf(-1)}
	none = provenance.NotMeasured()
)

func chair(t *testing.T) *passage.Chair {
	t.Helper()
	return rect(t, 575, 575, 650)
}

func TestNoNumberIsMadeUp(t *testing.T) {
	c := chair(t)
	for _, x := range bad {
		_, err := passage.NewChair(passage.Measures{LengthMM: x, WidthMM: 650, Drive: passage.Mid})
		refused(t, "length", err, "chair-length")
		_, err = passage.NewChair(passage.Measures{LengthMM: 1150, WidthMM: x, Drive: passage.Mid})
		refused(t, "width", err, "chair-width")
		_, err = c.StraightDoor(passage.Door{ClearMM: x})
		refused(t, "door", err, "door-clear")
		_, err = c.Corner(passage.Corner{InMM: x, OutMM: 900})
		refused(t, "corner", err, "corridor-in")
		_, err = c.Corner(passage.Corner{InMM: 900, OutMM: x})
		refused(t, "corner", err, "corridor-out")
		_, err = c.Doorway(passage.Doorway{ClearMM: 800, CorridorMM: x})
		refused(t, "doorway", err, "corridor-width")
		_, err = c.FullTurn(passage.Room{WidthMM: 2000, DepthMM: x})
		refused(t, "turn", err, "floor-depth")
		_, _, err = c.HalfTurn(passage.Corridor{WidthMM: x})
		refused(t, "half turn", err, "corridor-width")
		_, err = passage.InclineOf(x, 1000)
		refused(t, "rise", err, "rise")
		_, err = passage.InclineOf(100, x)
		refused(t, "run", err, "run")
		_, err = passage.DoorThresholdFor(passage.DoorThreshold{HeightMM: x, ChairLimitMM: none})
		refused(t, "threshold", err, "threshold-height")
		_, err = passage.LoadOn(passage.Load{ChairKG: x, PersonKG: 70, RatingKG: none})
		refused(t, "load", err, "chair-mass")
		_, err = passage.WayBeforeRelease(x, 1)
		refused(t, "speed", err, "speed")
	}
	_, err := passage.WayBeforeRelease(6, math.NaN())
	refused(t, "release", err, "reaction")
	_, err = c.Corner(passage.Corner{InMM: 900, OutMM: 900, Fits: passage.Fits{MinRadiusMM: -1}})
	refused(t, "radius of the turn", err, "least-radius")
}

func TestAChairNeedsItsMeasures(t *testing.T) {
	for words, change := range map[string]func(*passage.Measures){
		"drive wheels":                 func(m *passage.Measures) { m.Drive = "six" },
		"foremost point to drive axle": func(m *passage.Measures) { m.AxleBackMM = 2000 },
	} {
		m := passage.Measures{LengthMM: 1150, WidthMM: 650, Drive: passage.Rear, AxleBackMM: 900}
		change(&m)
		_, err := passage.NewChair(m)
		refusedAs(t, err, words)
	}
}

func TestAStraightDoorAsksForTheWidth(t *testing.T) {
	c := rect(t, 575, 575, 720)
	got := must[*passage.Result](t)(c.StraightDoor(passage.Door{ClearMM: 760, ThickMM: 100, ClearanceMM: 50}))
	if got.LeftMM != 40 || got.EachMM != 20 || got.Verdict != passage.Marginal || got.NeedsMM != 720 {
		t.Errorf("%+v: want 40 mm left of 760 − 720, 20 on each side, marginal", got)
	}
	mark := got.Plan.Tightest
	if mark.RoomMM != 20 || mark.Wall.X != 0 || mark.Chair.X != 20 {
		t.Errorf("the mark is %+v, want 20 mm off the left jamb", mark)
	}
	if got := must[*passage.Result](t)(c.StraightDoor(passage.Door{ClearMM: 719})); got.Verdict != passage.NotFeasible || got.LeftMM != -1 {
		t.Errorf("%+v: want 1 mm missing", got)
	}
	if got := must[*passage.Result](t)(c.StraightDoor(passage.Door{ClearMM: 820, ClearanceMM: 50})); got.Verdict != passage.Feasible {
		t.Errorf("%+v: want feasible", got)
	}
}

func TestAnAssumedAxleIsSaid(t *testing.T) {
	long := measured
	long.Drive, long.AheadMM = "rear", 0
	g := passage.QuickCheckOf(&long, &model.PlaceMeasured{Kind: "turn-on-spot", WidthMM: 2000})
	if text := say(g.Assumes); !strings.Contains(text, "897 mm behind the foremost point, as is usual for rear drive") {
		t.Errorf("assumptions %q do not name the assumed axle", text)
	}
}

func TestVerdictsOfACorner(t *testing.T) {
	c := chair(t)
	for _, c2 := range []struct {
		width   float64
		verdict string
		way     string
		words   string
	}{
		{850, passage.NotFeasible, passage.NoWay, "mm are missing"},
		{867, passage.NotFeasible, passage.Shuffle, "Several small moves"},
		{900, passage.Marginal, passage.OneTurn, "less than the 50 mm wanted"},
		{1000, passage.Feasible, passage.OneTurn, "One turn fits"},
	} {
		got := must[*passage.Result](t)(c.Corner(passage.Corner{InMM: c2.width, OutMM: c2.width,
			Fits: passage.Fits{ClearanceMM: 50}}))
		if got.Verdict != c2.verdict || got.Way != c2.way || !strings.Contains(say(got.Say), c2.words) {
			t.Errorf("corridors of %v: %s, %s, %q; want %s, %s, words %q", c2.width, got.Verdict, got.Way, say(got.Say), c2.verdict, c2.way, c2.words)
		}
		if len(got.Plan.Poses) == 0 || len(got.Plan.Walls) == 0 || got.Plan.High.X <= got.Plan.Low.X {
			t.Errorf("corridors of %v: the plan is empty", c2.width)
		}
		tight := 0
		for _, p := range got.Plan.Poses {
			if p.Tightest {
				tight++
			}
		}
		if tight != 1 {
			t.Errorf("corridors of %v: %d poses are the tightest, want one", c2.width, tight)
		}
	}
	got := must[*passage.Result](t)(c.Corner(passage.Corner{InMM: 600, OutMM: 900}))
	if got.Verdict != passage.NotFeasible || got.NeedsOf != "corridor-in" || got.NeedsMM != 833.9 {
		t.Errorf("a corridor narrower than the chair, into one of 900: needs %v mm of %s, want 833.9 of corridor-in", got.NeedsMM, got.NeedsOf)
	}
	got = must[*passage.Result](t)(c.Corner(passage.Corner{InMM: 600, OutMM: 600}))
	if got.NeedsOf != "corridor-in" || got.NeedsMM != 650 {
		t.Errorf("two corridors narrower than the chair: needs %v mm of %s, want 650 of corridor-in", got.NeedsMM, got.NeedsOf)
	}
}

func TestVerdictsOfADoorway(t *testing.T) {
	c := chair(t)
	for _, c2 := range []struct {
		clear, corridor float64
		verdict         string
		needsOf         string
	}{
		{640, 1500, passage.NotFeasible, "door-clear"},
		{800, 920, passage.NotFeasible, "corridor"},
		{800, 945, passage.NotFeasible, "corridor"},
		{1000, 1500, passage.Feasible, "corridor"},
	} {
		got := must[*passage.Result](t)(c.Doorway(passage.Doorway{ClearMM: c2.clear, ThickMM: 100, CorridorMM: c2.corridor,
			Fits: passage.Fits{ClearanceMM: 50}}))
		if got.Verdict != c2.verdict || got.NeedsOf != c2.needsOf {
			t.Errorf("door %v off %v: %s, %s, %q; want %s, %s", c2.clear, c2.corridor, got.Verdict, got.NeedsOf, say(got.Say), c2.verdict, c2.needsOf)
		}
	}
}

func TestVerdictsOfAHalfTurn(t *testing.T) {
	c := rect(t, 900, 250, 650) // one turn 1367 mm, any motion 1321 mm
	for _, c2 := range []struct {
		width   float64
		verdict string
		way     string
		words   string
	}{
		{1300, passage.NotFeasible, passage.NoWay, "that takes 1321 mm. The chair must back out."},
		{1366, passage.Marginal, passage.ThreeMoves, "One turn needs 1367 mm; a three-point turn fits with "},
		{1380, passage.Marginal, passage.OneTurn, "(needs 1367 mm) with 6 mm on each side, less than the 50 mm wanted."},
		{1500, passage.Feasible, passage.OneTurn, "(needs 1367 mm) with 66 mm on each side."},
	} {
		got, needs, err := c.HalfTurn(passage.Corridor{WidthMM: c2.width, ClearanceMM: 50})
		if err != nil {
			t.Fatal(err)
		}
		if got.Verdict != c2.verdict || got.Way != c2.way || !strings.Contains(say(got.Say), c2.words) {
			t.Errorf("corridor of %v: %s by %s (%q, needs %+v); want %s by %s, words %q", c2.width, got.Verdict, got.Way, say(got.Say), needs, c2.verdict, c2.way, c2.words)
		}
		if got.EachMM >= 0 && math.Abs(got.Plan.Tightest.RoomMM-got.EachMM) > 0.3 {
			t.Errorf("corridor of %v: %v mm on each side, the drawing keeps %v", c2.width, got.EachMM, got.Plan.Tightest.RoomMM)
		}
	}
	wide, needs, err := c.HalfTurn(passage.Corridor{WidthMM: 1600, MinRadiusMM: 500})
	if err != nil || needs.ThreeMM >= needs.OneTurnMM-100 || wide.Way != passage.ThreeMoves {
		t.Errorf("a driver who turns no tighter than 500 mm: %+v, %s (%v); want a three-point turn that saves room", needs, wide.Way, err)
	}
}

func TestVerdictsOfAFullTurn(t *testing.T) {
	c := chair(t) // circle 1321 mm
	for _, c2 := range []struct {
		width, depth float64
		verdict      string
		way          string
	}{
		{1500, 2000, passage.Feasible, passage.OneTurn},
		{2000, 1400, passage.Marginal, passage.OneTurn},
		{1300, 2000, passage.NotFeasible, passage.NoWay},
	} {
		got := must[*passage.Result](t)(c.FullTurn(passage.Room{WidthMM: c2.width, DepthMM: c2.depth, ClearanceMM: 50}))
		if got.Verdict != c2.verdict || got.Way != c2.way || !strings.Contains(say(got.Say), "1321 mm") {
			t.Errorf("floor of %v by %v: %s, %s, %q; want %s, %s", c2.width, c2.depth, got.Verdict, got.Way, say(got.Say), c2.verdict, c2.way)
		}
		mark := got.Plan.Tightest
		if gap := math.Hypot(mark.Chair.X-mark.Wall.X, mark.Chair.Y-mark.Wall.Y); math.Abs(gap-math.Abs(got.EachMM)) > 0.2 {
			t.Errorf("floor of %v by %v: the mark is %v mm wide, %v mm are left on each side", c2.width, c2.depth, gap, got.EachMM)
		}
	}
	long := rect(t, 900, 250, 650) // circle 1914 mm, but 1321 mm by any motion
	if got := must[*passage.Result](t)(long.FullTurn(passage.Room{WidthMM: 1600, DepthMM: 1600})); got.Verdict != passage.NotFeasible || got.Way != passage.Shuffle {
		t.Errorf("a floor between the two: %s by %s", got.Verdict, got.Way)
	}
	wide, _, err := long.HalfTurn(passage.Corridor{WidthMM: 1400, MinRadiusMM: 500})
	if err != nil || wide.Way != passage.Shuffle || !strings.Contains(say(wide.Say), "several small moves") {
		t.Errorf("a wide driver in 1400 mm: %s, %q (%v)", wide.Way, say(wide.Say), err)
	}
}
