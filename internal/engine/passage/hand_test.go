package passage_test

import (
	"reflect"
	"strconv"
	"strings"
	"testing"

	"doorsill/internal/engine/passage"
	"doorsill/internal/engine/provenance"
	"doorsill/internal/model"
)

// TestWhatIsSaidOfADoor by hand, of a chair of 650.04 mm: what it needs is rounded
// up and what is left down, and only a door that it fits is driven straight.
func TestWhatIsSaidOfADoor(t *testing.T) {
	c := rect(t, 575.03, 575.03, 650.04)
	if c.LengthMM() != 1150.1 || c.WidthMM() != 650 {
		t.Errorf("%v by %v mm", c.LengthMM(), c.WidthMM())
	}
	for _, one := range []struct {
		clear    float64
		way, say string
	}{
		{800, passage.Straight, "passage.door-fits left=149.9 each=74.9"},
		{700, passage.Straight, "passage.door-tight left=49.9 each=24.9 wanted=50"},
		{650.04, passage.Straight, "passage.door-tight left=0 each=0 wanted=50"},
		{650, passage.NoWay, "passage.door-missing missing=0.1 needs=650.1"},
	} {
		r := must[*passage.Result](t)(c.StraightDoor(passage.Door{ClearMM: one.clear, ClearanceMM: 50}))
		if r.Way != one.way || r.Say.String() != one.say || r.NeedsMM != 650.1 {
			t.Errorf("%v mm: %s, %s, needs %v; want %s, %s", one.clear, r.Way, r.Say.String(), r.NeedsMM, one.way, one.say)
		}
	}
}

// TestWhatIsSaidOfAThreshold: figures beside each other are told apart, by as many
// places as it takes.
func TestWhatIsSaidOfAThreshold(t *testing.T) {
	for _, c := range []struct {
		height, limit float64
		say           string
	}{
		{30, none, "height=30 places=0 word=wedge limit=[passage.step-limit-unknown]"},
		{50, none, "height=50 places=0 word=wedge limit=[passage.step-limit-unknown]"},
		{50.1, none, "height=50.1 places=1 word=ramp limit=[passage.step-too-high-for-most most=50]"},
		{13.1, 40, "height=13.1 places=1 word=bump limit=[passage.step-limit-kept limit=40]"},
		{20.1, 40, "height=20.1 places=1 word=wedge limit=[passage.step-limit-kept limit=40]"},
		{40.2, 40, "height=40.2 places=1 word=wedge limit=[passage.step-limit-passed limit=40 places=1]"},
		{38.2, 38.15, "height=38.2 places=2 word=wedge limit=[passage.step-limit-passed limit=38.15 places=2]"},
		{45, 40, "height=45 places=0 word=wedge limit=[passage.step-limit-passed limit=40 places=0]"},
		{39.6, 39.7, "height=39.6 places=0 word=wedge limit=[passage.step-limit-kept limit=39.7]"},
	} {
		r := must[*passage.DoorThresholdResult](t)(passage.DoorThresholdFor(passage.DoorThreshold{HeightMM: c.height, ChairLimitMM: c.limit}))
		if got := strings.TrimPrefix(r.Say.String(), "passage.threshold "); got != c.say {
			t.Errorf("%v mm of %v:\n%s, want\n%s", c.height, c.limit, got, c.say)
		}
		if len(r.Compared) != 2 || r.Compared[0].ID != "level-change" || r.Compared[1].ID != "door-threshold" || r.Compared[0].Yours != c.height || r.Compared[1].Yours != c.height {
			t.Errorf("%v mm is compared with %+v", c.height, r.Compared)
		}
	}
}

// TestWhatIsSaidOfALoadAndARelease, each figure with as many places as it takes.
func TestWhatIsSaidOfALoadAndARelease(t *testing.T) {
	for _, c := range []struct {
		rating float64
		say    string
	}{
		{239, "passage.load-over total=240 what=lift-floor-hoist rating=239 places=0"},
		{239.8, "passage.load-over total=240 what=lift-floor-hoist rating=239.8 places=1"},
		{250.5, "passage.load-within total=240 what=lift-floor-hoist rating=250.5"},
		{none, "passage.load-rating-unknown total=240 what=lift-floor-hoist"},
	} {
		b := must[*passage.Burden](t)(passage.LoadOn(passage.Load{RatingKG: c.rating, ChairKG: 160, PersonKG: 80}))
		if got := b.Say.String(); got != c.say {
			t.Errorf("%v kg: %s, want %s", c.rating, got, c.say)
		}
	}
	// 5 km/h for 0.7 s are 0.97222 m.
	w := must[*passage.ReleaseWay](t)(passage.WayBeforeRelease(5, 0.7))
	if w.Metres != 0.9722 || w.Say.String() != "passage.way-before-release reaction=0.9722 speed=5 seconds=0.7" {
		t.Errorf("%v m, %s", w.Metres, w.Say.String())
	}
}

// TestWhatIsDrawn of each kind of place, and what is not.
func TestWhatIsDrawn(t *testing.T) {
	chair := measured
	chair.ClearanceMM = 10
	for _, c := range []struct {
		place model.PlaceMeasured
		want  string
	}{
		{model.PlaceMeasured{Kind: "door", WidthMM: 700}, "door straight 50 25 width_mm"},
		{model.PlaceMeasured{Kind: "corridor", CorridorMM: 700}, "door straight 50 25 corridor_mm"},
		{model.PlaceMeasured{Kind: "turn-on-spot", WidthMM: 1400}, "turn one-turn 79 39.5 width_mm"},
		{model.PlaceMeasured{Kind: "half-turn", CorridorMM: 1400}, "half-turn one-turn 79 39.5 corridor_mm"},
		{model.PlaceMeasured{Kind: "three-point", CorridorMM: 1400}, "half-turn one-turn 79 39.5 corridor_mm"},
		{model.PlaceMeasured{Kind: "corner", CorridorMM: 600, Corridor2MM: 700}, "corner none"},
		{model.PlaceMeasured{Kind: "door-off-corridor", WidthMM: 700, CorridorMM: 600}, "doorway none"},
	} {
		r := must[*passage.Result](t)(passage.Draw(&chair, &c.place))
		got := r.Kind + " " + r.Way
		if r.Way != passage.NoWay {
			got += " " + number(r.LeftMM) + " " + number(r.EachMM) + " " + r.Plan.Spans[0].Of
		}
		if got != c.want {
			t.Errorf("%+v: %s, want %s", c.place, got, c.want)
		}
	}
	// The walls of a corridor are drawn for a metre.
	r := must[*passage.Result](t)(passage.Draw(&chair, &model.PlaceMeasured{Kind: "corridor", CorridorMM: 700}))
	if last := r.Plan.Spans[0]; len(r.Plan.Walls) != 8 || r.Plan.Walls[1].B.Y != 1000 || last.A.Y != 1150 {
		t.Errorf("%+v, %+v", r.Plan.Walls, last)
	}
	for _, kind := range []string{"ramp", "threshold", "load", ""} {
		_, err := passage.Draw(&chair, &model.PlaceMeasured{Kind: kind})
		refused(t, kind, err, "plan")
	}
	for _, kind := range []string{"corridor", "half-turn"} {
		_, err := passage.Draw(&chair, &model.PlaceMeasured{Kind: kind, CorridorMM: 20000})
		refused(t, kind, err, map[string]string{"corridor": "door-clear", "half-turn": "corridor-width"}[kind])
	}
	_, err := passage.Draw(&model.ChairMeasured{}, &model.PlaceMeasured{Kind: "door", WidthMM: 700})
	refused(t, "no chair", err, "chair-length")
}

func number(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// TestTheUsualAxleIsRounded to a millimetre: 78 % of 1153 are 899.34.
func TestTheUsualAxleIsRounded(t *testing.T) {
	chair := model.ChairMeasured{LengthMM: 1153, WidthMM: 650, Drive: "rear"}
	g := passage.QuickCheckOf(&chair, &model.PlaceMeasured{Kind: "turn-on-spot", WidthMM: 2000})
	if got := g.Assumes.String(); !strings.Contains(got, "passage.axle-assumed back=899 drive=rear") {
		t.Error(got)
	}
}

// TestAFullTurnAtItsBounds: 800 by 600 mm about the middle is a circle of 1000,
// exactly. With the axle 100 mm farther back the circle is larger, and 1000 are what
// any motion takes.
func TestAFullTurnAtItsBounds(t *testing.T) {
	for _, c := range []struct {
		front, rear, floor float64
		verdict, way, say  string
	}{
		{400, 400, 1100, passage.Feasible, passage.OneTurn, "passage.turn-fits needs=1000 each=50"},
		{400, 400, 1000, passage.Marginal, passage.OneTurn, "passage.turn-tight needs=1000 each=0 wanted=50"},
		{400, 400, 999.9, passage.NotFeasible, passage.NoWay, "passage.turn-none needs=1000"},
		{500, 300, 1000, passage.NotFeasible, passage.Shuffle, "passage.turn-missing needs=1166.2 missing=166.2"},
		{500, 300, 999.9, passage.NotFeasible, passage.NoWay, "passage.turn-none needs=1166.2"},
	} {
		r := must[*passage.Result](t)(rect(t, c.front, c.rear, 600).FullTurn(passage.Room{WidthMM: c.floor, DepthMM: 3000, ClearanceMM: 50}))
		if r.Verdict != c.verdict || r.Way != c.way || r.Say.String() != c.say {
			t.Errorf("%+v: %s by %s, %s", c, r.Verdict, r.Way, r.Say.String())
		}
	}
	for depth, want := range map[float64]string{300: "", 10000: "", 299.5: "floor-depth", 10000.5: "floor-depth"} {
		if _, err := chair(t).FullTurn(passage.Room{WidthMM: 2000, DepthMM: depth}); (err == nil) != (want == "") {
			t.Errorf("a depth of %v: %v", depth, err)
		}
	}
	for radius, taken := range map[float64]bool{0: true, 3000: true, 3000.5: false} {
		if _, err := chair(t).Corner(passage.Corner{InMM: 400, OutMM: 400, Fits: passage.Fits{MinRadiusMM: radius}}); (err == nil) != taken {
			t.Errorf("a radius of %v: %v", radius, err)
		}
	}
}

// TestTheThresholdsThatAreShown are those of the rules, before the figures of the
// standard, of which TestReferenceFiguresAsPublished holds each.
func TestTheThresholdsThatAreShown(t *testing.T) {
	want := []provenance.Threshold{
		{ID: "passage-clearance", Value: 50, Unit: "mm-each-side"}, {ID: "ramp-gentle", Value: 12, Unit: "one-in"}, {ID: "ramp-steep", Value: 10, Unit: "one-in"},
		{ID: "ramp-very-steep", Value: 8, Unit: "one-in"}, {ID: "sill-low", Value: 13, Unit: "mm"}, {ID: "sill-bump", Value: 20, Unit: "mm"}, {ID: "sill-wedge", Value: 50, Unit: "mm"},
	}
	var got []provenance.Threshold
	passage.EachThreshold(func(th *provenance.Threshold) {
		if !strings.HasPrefix(th.ID, "ada-") {
			got = append(got, provenance.Threshold{ID: th.ID, Value: th.Value, Unit: th.Unit})
		}
	})
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
}
