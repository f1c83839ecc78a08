package passage

import (
	"math"
	"testing"
)

// TestTheReachOfAPointByHand: one that is half a degree before an axis passes it within
// a degree and reaches its full distance along it, and in three tenths of one does not.
func TestTheReachOfAPointByHand(t *testing.T) {
	along := func(b box, axis float64) float64 {
		return map[float64]float64{0: b.maxX, 90: b.maxY, 180: -b.minX, 270: -b.minY}[axis]
	}
	for axis := 0.0; axis < 360; axis += 90 {
		for _, before := range []float64{0.5, 9.8} {
			point := []Point{Point{1000, 0}.turned(direction(axis - before))}
			passed, short := along(reachOf(point, before+0.3), axis), along(reachOf(point, before-0.2), axis)
			if math.Abs(passed-1000) > 1e-9 || math.Abs(short-1000*math.Cos(radians(0.2))) > 1e-9 {
				t.Errorf("%v degrees before %v it reaches %v past it and %v short of it", before, axis, passed, short)
			}
		}
	}
}

// TestTheMostRoomIsFoundBySixteenHalvings of 3 m below half of what the narrower corridor
// is wider than the chair. A chair with its rear at the axle turns on the spot with that.
func TestTheMostRoomIsFoundBySixteenHalvings(t *testing.T) {
	c := longRear(t)
	for _, k := range []Corner{{InMM: 1300, OutMM: 1300}, {InMM: 900, OutMM: 1000}, {InMM: 1200, OutMM: 850}, {InMM: 2000, OutMM: 777}} {
		high := (min(k.InMM, k.OutMM) - 600) / 2
		for _, radius := range []float64{0, 300, 800} {
			if n := (high - c.turnAt(k, radius).room) * (1 << 16) / 3000; math.Abs(n-math.Round(n)) > 1e-5 {
				t.Errorf("%+v about %v: %v halvings below %v", k, radius, n, high)
			}
		}
	}
	if got := axled(t, 1000, 600, 1000).turnAt(Corner{InMM: 700, OutMM: 3000}, 0); got.room > 50 || got.room < 50-0.047 {
		t.Errorf("about the rear %+v, want a room of 50", got)
	}
}

// TestTheQuickTurnThatMissesByLittle is looked for again by the full search.
func TestTheQuickTurnThatMissesByLittle(t *testing.T) {
	c, k := axled(t, 1150, 650, 575), Corner{InMM: 868, OutMM: 868}
	full := c.round(k, c.bestTurn(k)).gap.room
	if short := c.bestOfTurns(k, 5, 6).room; short >= 0 || full <= 0 {
		t.Fatalf("the short search finds %v, the full one %v", short, full)
	}
	if got := c.quickTurn(k); got.room != full {
		t.Errorf("%+v, the full search finds %v", got, full)
	}
}

// TestATurnThatIsFoundIsNotLookedForAgain: the full search would
// find another turn, through the door one that keeps more.
func TestATurnThatIsFoundIsNotLookedForAgain(t *testing.T) {
	c, k := axled(t, 1150, 650, 575), Corner{InMM: 1000, OutMM: 950}
	short, full := c.round(k, c.bestOfTurns(k, 5, 6)).gap.room, c.round(k, c.bestTurn(k)).gap.room
	if got := c.quickTurn(k); got.room != short || short == full {
		t.Errorf("round a corner %+v, by the short search %v, in full %v", got, short, full)
	}
	c, d := longRear(t), Doorway{ClearMM: 900, CorridorMM: 1100, Fits: Fits{ClearanceMM: 300}}
	if got, full := c.quickEntry(d), c.bestEntry(d); got.room >= full.room-1 {
		t.Errorf("through a door %+v, in full %+v", got, full)
	}
}

// TestThePosesOfATurn go from its beginning to its end in even steps.
func TestThePosesOfATurn(t *testing.T) {
	c := longRear(t)
	a := newArc(c, 400)
	if len(a.poses) != 46 || a.left != 300 {
		t.Fatalf("%d poses, %v to the left", len(a.poses), a.left)
	}
	e := newEntrance(c, Doorway{ClearMM: 900, CorridorMM: 1500}, 45)
	if len(e.headings) != 46 || len(e.shapes) != 46 || len(e.flipped) != 46 {
		t.Fatalf("%d headings", len(e.headings))
	}
	for i := range 46 {
		d := 2 * float64(i)
		sin, cos := math.Sincos(radians(d))
		// The front left corner, 300 mm ahead of and beside the axle.
		if corner := (Point{400*cos - 300*sin - 300*cos, 400*sin + 300*cos - 300*sin}); !nearPoint(a.poses[i].points[2], corner) {
			t.Errorf("pose %d of the arc has its corner at %v, want %v", i, a.poses[i].points[2], corner)
		}
		if corner := (Point{300*cos - 300*sin, 300*sin + 300*cos}); !nearPoint(e.shapes[i].points[2], corner) || !nearPoint(e.flipped[i].points[1], Point{-corner.X, corner.Y}) {
			t.Errorf("pose %d of the entrance has its corner at %v", i, e.shapes[i].points[2])
		}
		if math.Abs(e.headings[i].sin-sin) > 1e-12 || math.Abs(e.headings[i].cos-cos) > 1e-12 {
			t.Errorf("heading %d is %+v", i, e.headings[i])
		}
	}
}

// TestThePlanOfSmallMoves: two corridors of 780 mm leave (780 + 780)/√2 − 1000/2 − 600 =
// 3.09 mm at 45 degrees to the inner corner, while the chair touches both outer walls.
func TestThePlanOfSmallMoves(t *testing.T) {
	r, err := longRear(t).Corner(Corner{InMM: 780, OutMM: 780})
	if err != nil {
		t.Fatal(err)
	}
	if r.Way != Shuffle || r.LeftMM != 3 {
		t.Errorf("%s with %v left", r.Way, r.LeftMM)
	}
	across := (780*math.Sqrt2 - 1100) / math.Sqrt2
	marked(t, r.Plan.Tightest, Mark{Point{across, across}, Point{0, 0}, 3})
}
