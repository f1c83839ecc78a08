package passage

import (
	"math"
	"slices"
	"testing"
)

// TestAnEntryKeepsTheWallBesideIt also where it is still before the opening when the
// turn begins: 50 mm into the wall, about a point 400 mm off, leave 400 − 300 − 50.
func TestAnEntryKeepsTheWallBesideIt(t *testing.T) {
	e := newEntrance(longRear(t), Doorway{ClearMM: 3000, CorridorMM: 3000}, 90)
	if got := e.room(turnLine{middle: Point{1500, 50}, radius: 400}, math.Inf(-1)); math.Abs(got-50) > 1e-9 {
		t.Errorf("it keeps %v", got)
	}
}

// TestATurnOnTheSpotThatKeepsEnoughIsTaken though another keeps more, and one that keeps
// less than wanted where the others that are looked at keep less still.
func TestATurnOnTheSpotThatKeepsEnoughIsTaken(t *testing.T) {
	c, d := longRear(t), Doorway{ClearMM: 900, CorridorMM: 1100, Fits: Fits{ClearanceMM: 10}}
	enough := c.quickEntry(d)
	d.ClearanceMM = 300
	if more := c.quickEntry(d); enough.radius != 0 || enough.room < 10 || more.radius == 0 || more.room < enough.room+50 {
		t.Errorf("%+v where 10 mm are wanted, %+v where 300 are", enough, more)
	}
	c, d = axled(t, 1000, 510, 564), Doorway{ClearMM: 640, CorridorMM: 980, Fits: Fits{ClearanceMM: 50}}
	few, many := newEntrance(c, d, arcSteps/2), newEntrance(c, d, 2*arcSteps)
	spot := many.improve(few.place(0), around()[9:17])
	if got := c.quickEntry(d); got.room < spot.room-0.5 {
		t.Errorf("%+v, on the spot %+v", got, spot)
	}
}

// TestAPlaceIsTheBestOfItsRadius, to about 2 mm, of places all over the opening.
func TestAPlaceIsTheBestOfItsRadius(t *testing.T) {
	c := longRear(t)
	for _, d := range []Doorway{{ClearMM: 700, CorridorMM: 1400}, {ClearMM: 1100, CorridorMM: 1200}, {ClearMM: 900, ThickMM: 150, CorridorMM: 1100}, {ClearMM: 590, CorridorMM: 1500}} {
		e := newEntrance(c, d, 22)
		for _, radius := range []float64{0, 500} {
			best := turnLine{room: math.Inf(-1)}
			for x := 300 - radius; x <= max(300, d.ClearMM-300)-radius; x += 10 {
				for y := -d.CorridorMM; y < radius; y += 10 {
					line := turnLine{middle: Point{x, y}, radius: radius}
					if line.room = e.room(line, best.room); line.room > best.room {
						best = line
					}
				}
			}
			got := e.place(radius)
			if got.room < best.room-2 || got.room != e.room(got, math.Inf(-1)) || got.radius != radius {
				t.Errorf("%+v about %v: %+v, of places all over %+v", d, radius, got, best)
			}
			if axle := got.middle.X + radius; axle < 300-1e-9 || axle > max(300, d.ClearMM-300)+1e-9 {
				t.Errorf("%+v about %v: the axle goes through at %v", d, radius, axle)
			}
		}
	}
}

// TestImprovingGoesAllTheWay: 290 mm beside where it keeps the most, and no tighter than
// the driver turns where a tighter turn would keep more.
func TestImprovingGoesAllTheWay(t *testing.T) {
	c := longRear(t)
	e := newEntrance(c, Doorway{ClearMM: 1200, CorridorMM: 3000}, 90)
	right := [][3]float64{{1, 0, 0}}
	if got := e.improve(turnLine{middle: Point{310, -1500}}, right); math.Abs(got.middle.X-600) > 0.2 {
		t.Errorf("to the right by single steps %+v", got)
	}
	e = newEntrance(c, Doorway{ClearMM: 700, CorridorMM: 1200, Fits: Fits{MinRadiusMM: 800}}, 90)
	kept := e.improve(e.place(800), around())
	e.MinRadiusMM = 0
	if free := e.improve(kept, around()); kept.radius < 800 || free.radius >= 800 || free.room <= kept.room {
		t.Errorf("%+v is kept, %+v is free", kept, free)
	}
}

// TestTheWallsOfADoorway: one without a thickness is a millimetre.
func TestTheWallsOfADoorway(t *testing.T) {
	for thick, want := range map[float64]float64{0: 1, 0.5: 1, 1: 1, 80: 80} {
		w := (Doorway{ClearMM: 800, ThickMM: thick, CorridorMM: 1200}).walls()
		if got := (box{boxOf(w[0]).maxX, boxOf(w[1]).minX, boxOf(w[2]).maxY, boxOf(w[0]).maxY}); got != (box{0, 800, -1200, want}) || boxOf(w[1]).maxY != want {
			t.Errorf("%v thick: %+v", thick, got)
		}
	}
}

// TestAPluggedChairTouchesBothJambs: what of it lies in the opening is cut by the wall
// from jamb to jamb. Where it slips through nothing is cut, and it is drawn all the same.
func TestAPluggedChairTouchesBothJambs(t *testing.T) {
	p := plug{longRear(t).outline, 700, 0}
	for d := 10.0; d < 59; d += 7 {
		pose := p.pushed(d)
		outline := shifted(turnedAll(p.hull, d), pose.At)
		var cut []float64
		for i, a := range outline {
			if b := outline[(i+1)%4]; (a.Y < 0) != (b.Y < 0) {
				cut = append(cut, a.X+(b.X-a.X)*a.Y/(a.Y-b.Y))
			}
		}
		if len(cut) != 2 || math.Abs(slices.Min(cut)) > 1e-6 || math.Abs(slices.Max(cut)-700) > 1e-6 {
			t.Errorf("at %v degrees it is cut at %v", d, cut)
		}
	}
	for d := 59.02; d <= 90; d += 0.01 {
		if at := p.pushed(d).At; !(math.Abs(at.X) < 2000) || !(at.Y >= 0) {
			t.Fatalf("at %v degrees it is drawn at %v", d, at)
		}
	}
}
