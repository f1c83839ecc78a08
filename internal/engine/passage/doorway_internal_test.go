package passage

import (
	"math"
	"testing"
)

// TestAThinWallAsksTheMostAsTheChairSlipsThrough: while its width of 600 mm is wider
// across the opening than the opening is, length·width/clear stay in the corridor at
// the most, when width/sin of the angle comes down to the opening.
func TestAThinWallAsksTheMostAsTheChairSlipsThrough(t *testing.T) {
	p := plug{longRear(t).outline, 0, 0}
	for _, degrees := range []float64{89.9, 80, 70.01, 60, 55, 50.304, 45, 40.24, 38.5, 37} {
		p.clear = 600 / math.Sin(radians(degrees))
		if corridor, at := p.needs(); math.Abs(corridor-600000/p.clear) > 1e-8 || math.Abs(at-degrees) > 1e-8 {
			t.Errorf("an opening of %v asks for %v at %v degrees, want %v at %v", p.clear, corridor, at, 600000/p.clear, degrees)
		}
	}
	// Through an opening longer than itself it goes sideways: what it needs is its
	// width, to drive along the corridor.
	p.clear = 1200
	if corridor, at := p.needs(); corridor != 600 || at != 0 {
		t.Errorf("an opening of 1200 asks for %v at %v degrees", corridor, at)
	}
}

// TestWhatAsksTheMostBeforeTheChairSlipsThrough. Into an opening that is too narrow it
// never slips: the front corner leads, and L·sin θ + W·cos θ − clear·sin θ·cos θ stay. In
// a thick wall the front right corner then stands between the jambs, from W = clear·sin θ
// until (clear − W·sin θ)·tan θ is more than W·cos θ and the wall: L·sin θ + (W −
// clear·sin θ)/cos θ stay, and long chairs ask the most on the way.
func TestWhatAsksTheMostBeforeTheChairSlipsThrough(t *testing.T) {
	for _, one := range []struct{ length, width, clear, thick float64 }{
		{1000, 600, 590, 0}, {1000, 600, 500, 0}, {1000, 600, 500, 100}, {1800, 500, 1000, 400}, {1400, 400, 500, 300}, {1000, 600, 700, 200},
	} {
		p := plug{block(-one.length/2, one.length/2, -one.width/2, one.width/2), one.clear, one.thick}
		want, degrees := 0.0, 0.0
		for i := range 90001 { // by thousandths of a degree
			d := float64(i) / 1000
			sin, cos := math.Sincos(radians(d))
			deep := one.clear * sin * cos
			if one.clear*sin > one.width {
				deep = (one.clear - one.width*sin) * sin / cos
			}
			if deep > one.width*cos+one.thick {
				break
			}
			if x := one.length*sin + one.width*cos - deep; x > want {
				want, degrees = x, d
			}
		}
		if corridor, at := p.needs(); math.Abs(corridor-want) > 0.01 || math.Abs(at-degrees) > 0.02 {
			t.Errorf("%+v asks for %v at %v degrees, want %v at %v", one, corridor, at, want, degrees)
		}
	}
}

// TestAWallOfAMillimetre is thick too: at 45 degrees the chair is 848.53 mm wide and
// goes through 849, but not where it must keep beside a wall for a millimetre more.
func TestAWallOfAMillimetre(t *testing.T) {
	turned := turnedAll(longRear(t).outline, 45)
	for thick, want := range map[float64]bool{0: true, 0.4: true, 0.5: false, 1: false} {
		if depth, through := (plug{nil, 849, thick}).depth(turned); through != want || !through && math.Abs(depth-(849-600/math.Sqrt2)) > 1e-9 {
			t.Errorf("through a wall of %v: %v, %v deep", thick, through, depth)
		}
	}
}

// TestWhatIsSaidOfADoorway that is as wide as the chair, that is narrower, and off a
// corridor that is too narrow.
func TestWhatIsSaidOfADoorway(t *testing.T) {
	c, err := NewChair(Measures{LengthMM: 1000, WidthMM: 600.04, Drive: Mid, AxleBackMM: 300})
	if err != nil {
		t.Fatal(err)
	}
	for _, one := range []struct {
		chair           *Chair
		clear, corridor float64
		say             string
	}{
		{c, 590, 2000, "passage.no-motion missing=10.1 of=door-clear needs=600"},
		{longRear(t), 600, 900, "passage.no-motion missing=100 of=corridor needs=1000"},
		{longRear(t), 750, 700, "passage.no-motion missing=100 of=corridor needs=800"},
		{longRear(t), 800, 1800, "passage.one-turn-fits each=100"},
	} {
		r, err := one.chair.Doorway(Doorway{ClearMM: one.clear, CorridorMM: one.corridor, Fits: Fits{ClearanceMM: 50}})
		if err != nil || r.Say.String() != one.say {
			t.Errorf("%v off %v: %s (%v), want %s", one.clear, one.corridor, r.Say.String(), err, one.say)
		}
	}
}

// TestADoorOffAWideCorridor keeps what it leaves beside the chair, however far from it
// the turn ends: half of what it is wider than 600 mm. The drive ends behind it.
func TestADoorOffAWideCorridor(t *testing.T) {
	c := longRear(t)
	for _, d := range []Doorway{{ClearMM: 610, CorridorMM: 3000}, {ClearMM: 690, ThickMM: 300, CorridorMM: 6000}, {ClearMM: 640, CorridorMM: 1800}} {
		d.ClearanceMM = 50
		r, err := c.Doorway(d)
		if err != nil {
			t.Fatal(err)
		}
		if each := (d.ClearMM - 600) / 2; r.EachMM > each || r.EachMM < each-0.2 || r.Verdict != Marginal || r.Way != OneTurn {
			t.Errorf("%+v: %s by %s with %v on each side, want %v", d, r.Verdict, r.Way, r.EachMM, each)
		}
		if last := r.Plan.Poses[len(r.Plan.Poses)-1].Pose; last.At.Y < d.ThickMM || last.Heading != 90 {
			t.Errorf("%+v: it ends at %+v", d, last)
		}
	}
}
