package passage_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"doorsill/internal/engine/passage"
	"doorsill/internal/engine/provenance"
	"doorsill/internal/model"
)

// refusalOf is the message of a refusal, and nothing of none.
func refusalOf(err error) string {
	var r *provenance.Refusal
	switch {
	case err == nil:
		return ""
	case errors.As(err, &r):
		return r.Message.String()
	}
	return fmt.Sprintf("not a refusal: %v", err)
}

// TestBoundsOfMeasures: each at its bound is taken, and beyond it refused with
// what was expected and what is left.
func TestBoundsOfMeasures(t *testing.T) {
	c := chair(t)
	made := func(length, width, axle float64) error {
		_, err := passage.NewChair(passage.Measures{LengthMM: length, WidthMM: width, Drive: passage.Front, AxleBackMM: axle})
		return err
	}
	door := func(clear, thick, clearance float64) error {
		_, err := c.StraightDoor(passage.Door{ClearMM: clear, ThickMM: thick, ClearanceMM: clearance})
		return err
	}
	corner := func(in, out, clearance float64) error {
		_, err := c.Corner(passage.Corner{InMM: in, OutMM: out, Fits: passage.Fits{ClearanceMM: clearance}})
		return err
	}
	doorway := func(clear, corridor float64) error {
		_, err := c.Doorway(passage.Doorway{ClearMM: clear, CorridorMM: corridor})
		return err
	}
	turn := func(width, clearance float64) error {
		_, err := c.FullTurn(passage.Room{WidthMM: width, DepthMM: 2000, ClearanceMM: clearance})
		return err
	}
	half := func(width, clearance float64) error {
		_, _, err := c.HalfTurn(passage.Corridor{WidthMM: width, ClearanceMM: clearance})
		return err
	}
	ramp := func(rise, run, width, landing, limit float64) error {
		_, err := c.RampFor(passage.Ramp{RiseMM: rise, RunMM: run, WidthMM: width, LandingTopMM: landing, LandingBottomMM: landing, ChairLimitDegrees: limit})
		return err
	}
	step := func(height, limit float64) error {
		_, err := passage.DoorThresholdFor(passage.DoorThreshold{HeightMM: height, ChairLimitMM: limit})
		return err
	}
	load := func(chair, person, rating float64) error {
		_, err := passage.LoadOn(passage.Load{ChairKG: chair, PersonKG: person, RatingKG: rating})
		return err
	}
	release := func(speed, seconds float64) error { _, err := passage.WayBeforeRelease(speed, seconds); return err }
	between := func(field, least, most, still string) string {
		return "refusal.between-unit-still field=" + field + " least=" + least + " most=" + most + " unit=mm still=[passage.still-" + still + "]"
	}
	for _, c := range []struct {
		name    string
		err     error
		refusal string
	}{
		{"shortest", made(400, 650, none), ""}, {"shorter", made(399, 650, none), between("chair-length", "400", "2500", "by-hand")},
		{"longest", made(2500, 650, none), ""}, {"longer", made(2501, 650, none), between("chair-length", "400", "2500", "by-hand")},
		{"narrowest", made(1000, 300, none), ""}, {"narrower", made(1000, 299, none), between("chair-width", "300", "1300", "by-hand")},
		{"widest", made(1000, 1300, none), ""}, {"wider", made(1000, 1301, none), between("chair-width", "300", "1300", "by-hand")},
		{"axle in front", made(1000, 650, 0), ""}, {"axle before it", made(1000, 650, -1), between("axle-back", "0", "1000", "usual-axle")},
		{"axle at the back", made(1000, 650, 1000), ""}, {"axle behind it", made(1000, 650, 1001), between("axle-back", "0", "1000", "usual-axle")},
		{"least door", door(400, 0, 0), ""}, {"less", door(399, 0, 0), between("door-clear", "400", "3000", "own-width")},
		{"most door", door(3000, 1000, 300), ""}, {"more", door(3001, 0, 0), between("door-clear", "400", "3000", "own-width")},
		{"thicker", door(800, 1001, 0), between("wall-thickness", "0", "1000", "own-width")}, {"thinner", door(800, -1, 0), between("wall-thickness", "0", "1000", "own-width")},
		{"more room wanted", door(800, 0, 301), "refusal.between-unit field=clearance least=0 most=300 unit=mm"},
		{"less room wanted", door(800, 0, -1), "refusal.between-unit field=clearance least=0 most=300 unit=mm"},
		{"less in", corner(299, 900, 0), between("corridor-in", "300", "6000", "other-corridor")}, {"more in", corner(6001, 900, 0), between("corridor-in", "300", "6000", "other-corridor")},
		{"less out", corner(900, 299, 0), between("corridor-out", "300", "6000", "other-corridor")}, {"more out", corner(900, 6001, 0), between("corridor-out", "300", "6000", "other-corridor")},
		{"more room at a corner", corner(900, 900, 301), between("clearance", "0", "300", "usual-turn")}, {"less room at a corner", corner(900, 900, -1), between("clearance", "0", "300", "usual-turn")},
		{"a door too small", doorway(399, 900), between("door-clear", "400", "3000", "own-width")},
		{"a corridor too small", doorway(800, 299), between("corridor-width", "300", "6000", "door-straight")}, {"a corridor too wide", doorway(800, 6001), between("corridor-width", "300", "6000", "door-straight")},
		{"least floor", turn(300, 0), ""}, {"less floor", turn(299, 0), between("floor-width", "300", "10000", "circle")},
		{"most floor", turn(10000, 300), ""}, {"more floor", turn(10001, 0), between("floor-width", "300", "10000", "circle")},
		{"more room on a floor", turn(2000, 301), between("clearance", "0", "300", "circle")}, {"less room on a floor", turn(2000, -1), between("clearance", "0", "300", "circle")},
		{"least half turn", half(300, 0), ""}, {"less for a half turn", half(299, 0), between("corridor-width", "300", "10000", "half-turn")},
		{"most half turn", half(10000, 300), ""}, {"more for a half turn", half(10001, 0), between("corridor-width", "300", "10000", "half-turn")},
		{"more room of a half turn", half(2000, 301), between("clearance", "0", "300", "half-turn")}, {"less room of a half turn", half(2000, -1), between("clearance", "0", "300", "half-turn")},
		{"highest ramp", ramp(5000, 100000, 300, 0, 30), ""}, {"widest ramp", ramp(1, 12, 10000, 20000, 0.1), ""},
		{"higher", ramp(5001, 60000, none, none, none), "refusal.above-zero-unit-still field=rise most=5000 unit=mm still=[passage.still-rise]"},
		{"longer ramp", ramp(100, 100001, none, none, none), "refusal.above-zero-unit-still field=run most=100000 unit=mm still=[passage.still-run]"},
		{"narrower ramp", ramp(100, 1200, 299, none, none), between("ramp-width", "300", "10000", "slope")}, {"wider ramp", ramp(100, 1200, 10001, none, none), between("ramp-width", "300", "10000", "slope")},
		{"shorter landing", ramp(100, 1200, none, -1, none), between("landing-top", "0", "20000", "slope")}, {"longer landing", ramp(100, 1200, none, 20001, none), between("landing-top", "0", "20000", "slope")},
		{"a limit beyond 30", ramp(100, 1200, none, none, 30.1), "refusal.above-zero-unit-still field=slope-limit most=30 unit=degrees still=[passage.still-slope]"},
		{"highest step", step(400, 400), ""}, {"a higher one", step(401, none), "refusal.above-zero-unit-still field=threshold-height most=400 unit=mm still=[passage.still-level-floor]"},
		{"a higher limit", step(10, 401), "refusal.above-zero-unit-still field=step-limit most=400 unit=mm still=[passage.still-height]"},
		{"heaviest", load(500, 350, 100000), ""}, {"a heavier chair", load(501, 80, none), "refusal.above-zero-unit-still field=chair-mass most=500 unit=kg still=[passage.still-rating]"},
		{"a heavier person", load(160, 351, none), "refusal.above-zero-unit-still field=person-mass most=350 unit=kg still=[passage.still-rating]"},
		{"a higher rating", load(160, 80, 100001), "refusal.above-zero-unit-still field=rating most=100000 unit=kg still=[passage.still-total]"},
		{"fastest", release(20, 10), ""}, {"at once", release(6, 0), ""},
		{"faster", release(20.1, 1), "refusal.above-zero-unit-still field=speed most=20 unit=km/h still=[passage.still-real-stop]"},
		{"later", release(6, 10.1), "refusal.between-unit-still field=reaction least=0 most=10 unit=s still=[passage.still-real-stop]"},
		{"earlier", release(6, -0.1), "refusal.between-unit-still field=reaction least=0 most=10 unit=s still=[passage.still-real-stop]"},
	} {
		if got := refusalOf(c.err); got != c.refusal {
			t.Errorf("%s: %q, want %q", c.name, got, c.refusal)
		}
	}
	_, err := c.RampFor(passage.Ramp{RiseMM: 100, RunMM: 1200, WidthMM: none, LandingTopMM: none, LandingBottomMM: 20001, ChairLimitDegrees: none})
	if got := refusalOf(err); got != between("landing-bottom", "0", "20000", "slope") {
		t.Errorf("a longer landing at the bottom: %q", got)
	}
}

// TestWhatTheAppRefuses of a place, in its sentence.
func TestWhatTheAppRefuses(t *testing.T) {
	for _, c := range []struct {
		chair model.ChairMeasured
		place model.PlaceMeasured
		want  string
	}{
		{measured, model.PlaceMeasured{Kind: "door", WidthMM: 299}, "door-clear least=300 most=3000"},
		{measured, model.PlaceMeasured{Kind: "door", WidthMM: 3001}, "door-clear least=300 most=3000"},
		{measured, model.PlaceMeasured{Kind: "corridor", CorridorMM: 299}, "corridor-width least=300 most=3000"},
		{measured, model.PlaceMeasured{Kind: "half-turn", CorridorMM: 299}, "corridor-width least=300 most=10000"},
		{measured, model.PlaceMeasured{Kind: "three-point", CorridorMM: 10001}, "corridor-width least=300 most=10000"},
		{measured, model.PlaceMeasured{Kind: "corner", CorridorMM: 299, Corridor2MM: 900}, "corridor-in least=300 most=6000"},
		{measured, model.PlaceMeasured{Kind: "door-off-corridor", WidthMM: 900, CorridorMM: 6001}, "corridor-width least=300 most=6000"},
		{measured, model.PlaceMeasured{Kind: "turn-on-spot", WidthMM: 10001}, "floor-width least=300 most=10000"},
		{measured, model.PlaceMeasured{Kind: "ramp", RiseMM: 5001, RunMM: 60000}, "rise most=5000"},
		{model.ChairMeasured{LengthMM: 399, WidthMM: 650, Drive: "mid"}, model.PlaceMeasured{Kind: "ramp", RiseMM: 5001, RunMM: 60000}, "rise most=5000"},
		{measured, model.PlaceMeasured{Kind: "threshold", HeightMM: 401}, "threshold-height most=400"},
		{model.ChairMeasured{ChairKG: 501, PersonKG: 70}, model.PlaceMeasured{Kind: "load"}, "chair-mass most=500"},
	} {
		g := passage.QuickCheckOf(&c.chair, &c.place)
		m := g.Say
		for inner := m.Arg("why"); inner != nil; inner = m.Arg("why") {
			m = inner.Messages[0]
		}
		field, least, most := m.Arg("field"), m.Arg("least"), m.Arg("most")
		if field == nil || most == nil {
			t.Errorf("%+v: %s, want %s", c.place, g.Say.String(), c.want)
			continue
		}
		got := field.Word
		if least != nil {
			got += " least=" + least.Number.Text()
		}
		if got += " most=" + most.Number.Text(); got != c.want || g.Verdict != passage.PlaceUnknown {
			t.Errorf("%+v: %s, %s; want %s", c.place, g.Verdict, got, c.want)
		}
	}
	for _, p := range []model.PlaceMeasured{{Kind: "door", WidthMM: 300}, {Kind: "door", WidthMM: 3000}, {Kind: "corridor", CorridorMM: 300}, {Kind: "half-turn", CorridorMM: 300}, {Kind: "half-turn", CorridorMM: 10000},
		{Kind: "corner", CorridorMM: 300, Corridor2MM: 300}, {Kind: "corner", CorridorMM: 6000, Corridor2MM: 6000}, {Kind: "door-off-corridor", WidthMM: 400, CorridorMM: 300}, {Kind: "door-off-corridor", WidthMM: 3000, CorridorMM: 6000}} {
		wide := measured
		wide.ClearanceMM = 300
		if g := passage.QuickCheckOf(&wide, &p); g.Verdict == passage.PlaceUnknown {
			t.Errorf("%+v: %s", p, g.Say.String())
		}
	}
}

// TestVerdictsAtTheirBounds: what is just enough is enough. The chair is 1150 by
// 650 mm about its middle: 1,320.98 mm across, and as much to turn on the spot.
func TestVerdictsAtTheirBounds(t *testing.T) {
	across := math.Hypot(1150, 650)
	for _, c := range []struct {
		name  string
		place model.PlaceMeasured
		want  string
	}{
		{"a door with all the room wanted", model.PlaceMeasured{Kind: "door", WidthMM: 750}, "fits left=100 each=50"},
		{"and a little less", model.PlaceMeasured{Kind: "door", WidthMM: 749.9}, "tight left=99.9 each=49.9"},
		{"a door as wide as the chair", model.PlaceMeasured{Kind: "door", WidthMM: 650}, "tight left=0 each=0"},
		{"and a little less", model.PlaceMeasured{Kind: "door", WidthMM: 649.9}, "does-not-fit left=-0.1"},
		{"a corridor as wide as the chair", model.PlaceMeasured{Kind: "corridor", CorridorMM: 650}, "tight left=0 each=0"},
		{"a floor with all the room wanted", model.PlaceMeasured{Kind: "turn-on-spot", WidthMM: across + 100}, "fits left=100 each=50"},
		{"and a little less", model.PlaceMeasured{Kind: "turn-on-spot", WidthMM: across + 99.8}, "tight left=99.8 each=49.9"},
		{"a floor as wide as the circle", model.PlaceMeasured{Kind: "turn-on-spot", WidthMM: across}, "tight left=0 each=0"},
		{"and a little less", model.PlaceMeasured{Kind: "turn-on-spot", WidthMM: across - 0.1}, "does-not-fit left=-0.1"},
		{"a half turn with all the room wanted", model.PlaceMeasured{Kind: "half-turn", CorridorMM: across + 100}, "fits left=100 each=50"},
		{"and a little less", model.PlaceMeasured{Kind: "half-turn", CorridorMM: across + 99.8}, "tight left=99.8 each=49.9"},
		{"a half turn that just fits", model.PlaceMeasured{Kind: "half-turn", CorridorMM: across + 1e-9}, "tight left=0 each=0"},
		{"and a little less", model.PlaceMeasured{Kind: "half-turn", CorridorMM: across - 0.1}, "does-not-fit left=-0.1"},
		{"a ramp at the limit", model.PlaceMeasured{Kind: "ramp", RiseMM: 100, RunMM: 1200, WidthMM: 650, LandingMM: 1150}, "fits"},
		{"one steeper than 1 in 12", model.PlaceMeasured{Kind: "ramp", RiseMM: 100, RunMM: 1199.9, WidthMM: 650, LandingMM: 1150}, "tight"},
		{"one narrower than the chair", model.PlaceMeasured{Kind: "ramp", RiseMM: 100, RunMM: 1200, WidthMM: 649.9, LandingMM: 1150}, "does-not-fit"},
		{"a landing shorter than the chair", model.PlaceMeasured{Kind: "ramp", RiseMM: 100, RunMM: 1200, WidthMM: 650, LandingMM: 1149.9}, "tight"},
		{"a low threshold", model.PlaceMeasured{Kind: "threshold", HeightMM: 13}, "fits"},
		{"a bump", model.PlaceMeasured{Kind: "threshold", HeightMM: 13.1}, "tight"},
		{"the highest step", model.PlaceMeasured{Kind: "threshold", HeightMM: 60}, "tight"},
		{"a step above the limit", model.PlaceMeasured{Kind: "threshold", HeightMM: 60.1}, "does-not-fit"},
		{"a full load", model.PlaceMeasured{Kind: "load", LimitKG: 235}, "fits"},
		{"and a little more", model.PlaceMeasured{Kind: "load", LimitKG: 234.9}, "does-not-fit"},
	} {
		chair := measured
		chair.SlopeDeg, chair.StepMM, chair.ChairKG, chair.PersonKG = 4.77, 60, 160, 75
		g := passage.QuickCheckOf(&chair, &c.place)
		got := g.Verdict
		if g.HasLeft {
			got += fmt.Sprint(" left=", g.LeftMM)
			if each := g.Say.Arg("each"); each != nil {
				got += " each=" + each.Number.Text()
			}
		}
		if got != c.want {
			t.Errorf("%s: %s, want %s: %s", c.name, got, c.want, g.Say.String())
		}
		if barred := c.place.Kind == "load" || c.place.Kind == "threshold"; g.Barred != (barred && g.Verdict == passage.PlaceNoFit) {
			t.Errorf("%s: barred %v", c.name, g.Barred)
		}
	}
	steep := measured
	steep.SlopeDeg = math.Atan2(100, 1200) * 180 / math.Pi
	if g := passage.QuickCheckOf(&steep, &model.PlaceMeasured{Kind: "ramp", RiseMM: 100, RunMM: 1200, WidthMM: 700, LandingMM: 2000}); g.Verdict != passage.PlaceFits || g.Barred {
		t.Errorf("a ramp as steep as allowed: %s, barred %v", g.Verdict, g.Barred)
	}
	if g := passage.QuickCheckOf(&steep, &model.PlaceMeasured{Kind: "ramp", RiseMM: 100, RunMM: 1199, WidthMM: 700, LandingMM: 2000}); g.Verdict != passage.PlaceNoFit || !g.Barred {
		t.Errorf("a steeper ramp: %s, barred %v", g.Verdict, g.Barred)
	}
}

// TestWordsAtTheirBounds of slopes and of thresholds.
func TestWordsAtTheirBounds(t *testing.T) {
	c := chair(t)
	for run, want := range map[float64]string{1200: "gentle", 1199.9: "steep", 1000: "steep", 999.9: "very-steep", 800: "very-steep", 799.9: "too-steep"} {
		s := must[*passage.Slope](t)(c.RampFor(passage.Ramp{RiseMM: 100, RunMM: run, WidthMM: none, LandingTopMM: none, LandingBottomMM: none, ChairLimitDegrees: none}))
		if s.Word != want {
			t.Errorf("1 in %v is %s, want %s", run/100, s.Word, want)
		}
	}
	for height, want := range map[float64]string{13: "low", 13.1: "bump", 20: "bump", 20.1: "wedge", 50: "wedge", 50.1: "ramp"} {
		s := must[*passage.DoorThresholdResult](t)(passage.DoorThresholdFor(passage.DoorThreshold{HeightMM: height, ChairLimitMM: none}))
		verdict := passage.Unknown
		if height > 50 {
			verdict = passage.NotFeasible
		}
		if s.Word != want || s.Verdict != verdict {
			t.Errorf("%v mm is %s, %s; want %s, %s", height, s.Word, s.Verdict, want, verdict)
		}
	}
}

// TestTheUsualAxle lies at 30, 50 or 78 % of the length: with 1000 by 600 mm the
// farthest corner of a front-drive chair is the rear one, 700 mm behind.
func TestTheUsualAxle(t *testing.T) {
	for drive, back := range map[passage.Drive]float64{passage.Front: 300, passage.Mid: 500, passage.Rear: 780} {
		c := must[*passage.Chair](t)(passage.NewChair(passage.Measures{LengthMM: 1000, WidthMM: 600, Drive: drive, AxleBackMM: none}))
		r := must[*passage.Result](t)(c.FullTurn(passage.Room{WidthMM: 3000, DepthMM: 3000}))
		if want := 2 * math.Hypot(max(back, 1000-back), 300); math.Abs(r.NeedsMM-want) > 0.051 {
			t.Errorf("%s drive: a circle of %v, want %v", drive, r.NeedsMM, want)
		}
		if c.LengthMM() != 1000 || c.WidthMM() != 600 {
			t.Errorf("%s drive: %v by %v", drive, c.LengthMM(), c.WidthMM())
		}
	}
}
