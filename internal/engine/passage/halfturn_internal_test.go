package passage

import (
	"math"
	"testing"
)

// axled is a chair whose axle is so far behind its foremost point.
func axled(t *testing.T, length, width, back float64) *Chair {
	t.Helper()
	c, err := NewChair(Measures{LengthMM: length, WidthMM: width, Drive: Mid, AxleBackMM: back})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// TestAHalfTurnWithTheAxleInFront: 10 mm behind the foremost point the front corners
// sweep no more than hypot(10, 300) to one side, where the rear ones come to 300 when
// the turn ends and would come farther if it went on.
func TestAHalfTurnWithTheAxleInFront(t *testing.T) {
	if got, want := axled(t, 1000, 600, 10).halfTurn(0).width, math.Hypot(990, 300)+math.Hypot(10, 300); math.Abs(got-want) > 1e-9 {
		t.Errorf("it sweeps %v, want %v", got, want)
	}
}

// TestTheNarrowestThreePointTurnByHand of a chair of 900 by 600 mm with its axle 50
// before the rear, for a driver who turns about 300 mm at the least: it backs by 90
// degrees first. Its front left corner, 600 mm beside the middle of the turn and 850
// ahead, comes hypot(850, 600) above it, and so does the front right one on the way on;
// the rear ends 50 below, where both middles lie. With the axle 50 mm behind the front
// it is the same drive from its end, which ends in the second move.
func TestTheNarrowestThreePointTurnByHand(t *testing.T) {
	want := math.Hypot(850, 600) + 50
	rear, front := axled(t, 900, 600, 850).threePoint(300), axled(t, 900, 600, 50).threePoint(300)
	if m := rear.moves; math.Abs(rear.width-want) > 1e-9 || m[0] != (Move{RadiusMM: 300}) || m[1] != (Move{Degrees: 90, RadiusMM: -300}) || m[2] != (Move{Degrees: 90, RadiusMM: 300}) {
		t.Errorf("it sweeps %v by %+v, want %v", rear.width, m, want)
	}
	if math.Abs(front.width-want) > 1e-9 || front.moves[0].Degrees != 90 {
		t.Errorf("the other way round it sweeps %v by %+v, want %v", front.width, front.moves, want)
	}
}

// TestNoThreePointTurnBesideItIsNarrower, by half a degree or 5 mm of radius, and none
// of a few that are spread evenly. Who turns on the spot takes as much driven from the
// end, by a chair with its axle as far before the rear; who does not turns as tightly as
// that.
func TestNoThreePointTurnBesideItIsNarrower(t *testing.T) {
	for _, one := range []struct{ length, width, back, tightest float64 }{
		{1000, 600, 300, 500}, {1000, 600, 500, 300}, {1190, 560, 370, 500}, {1190, 560, 370, 0}, {1150, 650, 900, 0}, {900, 600, 850, 0}, {1150, 650, 900, 500},
	} {
		c := axled(t, one.length, one.width, one.back)
		got, back := c.threePoint(one.tightest), axled(t, one.length, one.width, one.length-one.back).threePoint(one.tightest)
		radius, first, second := got.moves[0].RadiusMM, got.moves[0].Degrees, got.moves[1].Degrees
		narrower := func(radius, first, second float64) {
			if radius < one.tightest || first < 0 || second < 0 || first+second > 180 {
				return
			}
			if a := c.three(radius, first, second); a.width < got.width-1e-9 {
				t.Errorf("%+v: %v by %+v, found was %v by %+v", one, a.width, a.moves, got.width, got.moves)
			}
		}
		for i := range 27 {
			narrower(radius+5*float64(i%3-1), first+float64(i/3%3-1)/2, second+float64(i/9-1)/2)
		}
		for i := range 12 {
			for k := range 12 {
				narrower(one.tightest+50, 15*float64(i), 15*float64(k))
				narrower(one.tightest, 15*float64(i), 15*float64(k))
			}
		}
		if radius < one.tightest || one.tightest > 0 && radius > one.tightest {
			t.Errorf("%+v: a radius of %v", one, radius)
		}
		if one.tightest == 0 && math.Abs(back.width-got.width) > 0.01 {
			t.Errorf("%+v: %v, driven from its end %v", one, got.width, back.width)
		}
		if a := c.three(radius, first, second); a.width != got.width || a.low != got.low {
			t.Errorf("%+v: %+v, by itself %+v", one, got, a)
		}
	}
}

// TestWhatAHalfTurnNeeds has one decimal, and its plan a frame; nobody turns wider than
// 3 m.
func TestWhatAHalfTurnNeeds(t *testing.T) {
	c := longRear(t)
	r, needs, err := c.HalfTurn(Corridor{WidthMM: 1300, MinRadiusMM: 500})
	if err != nil {
		t.Fatal(err)
	}
	if three := c.threePoint(500).width; !tenths(needs.ThreeMM, three, -even, even) || !tenths(needs.OneTurnMM, c.halfTurn(500).width, -even, even) {
		t.Errorf("%+v, a three-point turn takes %v", needs, three)
	}
	if p := &r.Plan; p.High.X-p.Low.X < 1000 || p.High.Y-p.Low.Y < 1000 || p.Poses[3].Pose.Heading != math.Round(p.Poses[3].Pose.Heading*10)/10 {
		t.Errorf("drawn from %v to %v", p.Low, p.High)
	}
	for radius, refused := range map[float64]bool{3000: false, 3000.5: true} {
		if _, _, err := c.HalfTurn(Corridor{WidthMM: 6000, MinRadiusMM: radius}); (err != nil) != refused {
			t.Errorf("a radius of %v: %v", radius, err)
		}
	}
}
