package passage

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// nearPoint says whether two points are the same but for the last digits.
func nearPoint(a, b Point) bool { return distance(a, b) < 1e-9 }

// TestTheFootOfAPoint on a side lies on it, at an end where it would lie beyond.
func TestTheFootOfAPoint(t *testing.T) {
	for _, c := range []struct{ a, b, p, want Point }{
		{Point{0, 0}, Point{10, 0}, Point{4, 7}, Point{4, 0}}, {Point{0, 0}, Point{10, 0}, Point{-3, 2}, Point{0, 0}},
		{Point{0, 0}, Point{10, 0}, Point{13, -2}, Point{10, 0}}, {Point{2, 2}, Point{2, 2}, Point{5, 5}, Point{2, 2}},
		{Point{0, 0}, Point{4, 4}, Point{4, 0}, Point{2, 2}}, {Point{3, 1}, Point{3, 9}, Point{0, 4}, Point{3, 4}},
	} {
		if got := footOn(c.a, c.b, c.p); !nearPoint(got, c.want) {
			t.Errorf("the foot of %v on %v to %v is %v, want %v", c.p, c.a, c.b, got, c.want)
		}
	}
}

// TestRoomBetweenOutlines by hand: beside each other, corner to corner, and how
// deep they overlap; the other way round it is the same with the places swapped.
func TestRoomBetweenOutlines(t *testing.T) {
	square := block(0, 10, 0, 10)
	for _, c := range []struct {
		other  []Point
		room   float64
		on, at Point
		corner bool // the nearest places are two points
	}{
		{block(13, 20, 2, 6), 3, Point{10, 2}, Point{13, 2}, false},
		{block(13, 20, 14, 20), 5, Point{10, 10}, Point{13, 14}, true},
		{[]Point{{16, 5}, {26, 5}, {26, 7}}, 6, Point{10, 5}, Point{16, 5}, true},
		{block(8, 20, -5, 15), -2, Point{10, 0}, Point{8, 0}, false},
		{block(10, 20, 0, 10), 0, Point{10, 0}, Point{10, 0}, false},
		{block(-20, -14, -28, -8), math.Hypot(14, 8), Point{0, 0}, Point{-14, -8}, true},
	} {
		there, back := separation(square, c.other), separation(c.other, square)
		if math.Abs(there.room-c.room) > 1e-9 || math.Abs(back.room-c.room) > 1e-9 {
			t.Errorf("%v: room %v, back %v, want %v", c.other, there.room, back.room, c.room)
		}
		if c.corner && (!nearPoint(there.on, c.on) || !nearPoint(there.at, c.at) || !nearPoint(back.on, c.at) || !nearPoint(back.at, c.on)) {
			t.Errorf("%v: from %v to %v, back from %v to %v, want %v and %v", c.other, there.on, there.at, back.on, back.at, c.on, c.at)
		}
		if math.Abs(distance(there.on, there.at)-math.Abs(c.room)) > 1e-9 {
			t.Errorf("%v: %v and %v are not %v apart", c.other, there.on, there.at, c.room)
		}
	}
}

// TestLessThanAMillimetre apart, corner to corner by 0.6 and 0.6, is 0.849 and not
// 0.6; a side of a millimetre parts outlines, and one of none does not.
func TestLessThanAMillimetre(t *testing.T) {
	want := math.Hypot(0.6, 0.6)
	unit := block(0, 1, 0, 1)
	if got := separation(unit, block(1.6, 5, 1.6, 5)).room; math.Abs(got-want) > 1e-12 {
		t.Errorf("from corner to corner %v, want %v", got, want)
	}
	if got := separation(unit, []Point{{0.5, 0.1}, {-5, -9}, {6, -9}}).room; math.Abs(got+0.1) > 1e-12 {
		t.Errorf("a tip through a side of a millimetre: %v, want -0.1", got)
	}
	if got := (jamb{0, -9, 0}).room(newShape(block(0.6, 3, 0.6, 3)), 9); math.Abs(got-want) > 1e-12 {
		t.Errorf("from a jamb %v, want %v", got, want)
	}
	twice := []Point{{0, 0}, {10, 0}, {10, 0}, {10, 10}, {0, 10}}
	for _, other := range [][]Point{block(13, 20, 2, 6), block(8, 20, -5, 15), block(4, 6, 4, 6)} {
		if a, b := separation(twice, other), separation(block(0, 10, 0, 10), other); a.room != b.room {
			t.Errorf("with a corner twice %v, once %v", a.room, b.room)
		}
	}
}

// TestOrderAndHullOfFewPoints.
func TestOrderAndHullOfFewPoints(t *testing.T) {
	for _, c := range []struct{ points, order, hull []Point }{
		{nil, nil, nil},
		{[]Point{{3, 4}}, []Point{{3, 4}}, []Point{{3, 4}}},
		{[]Point{{3, 4}, {3, 4}}, []Point{{3, 4}}, []Point{{3, 4}}},
		{[]Point{{3, 4}, {1, 9}}, []Point{{1, 9}, {3, 4}}, []Point{{1, 9}, {3, 4}}},
		{[]Point{{1, 2}, {1, 1}, {1, 2}, {0, 5}, {1, 1}}, []Point{{0, 5}, {1, 1}, {1, 2}}, []Point{{0, 5}, {1, 1}, {1, 2}}},
		// A triangle whose sides are half a millimetre.
		{[]Point{{0.5, 0}, {0, 0}, {0, 0.5}}, []Point{{0, 0}, {0, 0.5}, {0.5, 0}}, []Point{{0, 0}, {0.5, 0}, {0, 0.5}}},
	} {
		if got := inOrder(c.points); !slices.Equal(got, c.order) {
			t.Errorf("%v in order: %v", c.points, got)
		}
		if got := hull(c.points); !slices.Equal(got, c.hull) {
			t.Errorf("the hull of %v: %v", c.points, got)
		}
	}
}

// randomOutline is a convex outline of three to eight corners.
func randomOutline(r *rand.Rand) []Point {
	for {
		var points []Point
		for range 3 + r.IntN(6) {
			points = append(points, Point{100 * r.NormFloat64(), 100 * r.NormFloat64()})
		}
		if h := hull(points); len(h) > 2 {
			return shifted(h, Point{200 * r.NormFloat64(), 200 * r.NormFloat64()})
		}
	}
}

// TestAJambIsALongWall: the room to it is that to a block, also where less than all
// of it is asked for, and seen in a mirror.
func TestAJambIsALongWall(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 6))
	apart, deep := 0, 0
	for range 3000 {
		outline := randomOutline(r)
		j := jamb{100 * r.NormFloat64(), 0, 0}
		j.low = 200 * r.NormFloat64()
		j.high = j.low + 200*r.Float64()*float64(r.IntN(2))
		want := separation(outline, block(-1e5, j.x, j.low, max(j.high, j.low+1e-9))).room
		got := j.room(newShape(outline), 1e9)
		if math.Abs(got-want) > 1e-6 {
			t.Fatalf("%v and %+v: room %v, to a block %v", outline, j, got, want)
		}
		if want > 0 {
			apart++
		} else {
			deep++
		}
		for _, enough := range []float64{want - 5, want + 5} {
			if some := j.room(newShape(outline), enough); some < enough && math.Abs(some-want) > 1e-6 || some >= enough && want < enough-1e-6 {
				t.Fatalf("%v and %+v: room %v where %v are enough, it is %v", outline, j, some, enough, want)
			}
		}
		mirrored := flipped(outline)
		wall := block(-j.x, 1e5, j.low, max(j.high, j.low+1e-9))
		if other := separation(mirrored, wall).room; math.Abs(other-want) > 1e-6 {
			t.Fatalf("%v in a mirror: room %v, want %v", outline, other, want)
		}
	}
	if apart < 500 || deep < 500 {
		t.Errorf("%d stand apart and %d overlap: too few to hold anything", apart, deep)
	}
}

// TestTheReachOfATurn against turning by tenths of a degree.
func TestTheReachOfATurn(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	for range 200 {
		outline := randomOutline(r)
		degrees := []float64{0, 30, 90, 180, 275, 360, 360 * r.Float64()}[r.IntN(7)]
		want := boxOf(outline)
		for i := range 3600 {
			if d := float64(i) / 10; d <= degrees {
				b := boxOf(turnedAll(outline, d))
				want = box{min(want.minX, b.minX), max(want.maxX, b.maxX), min(want.minY, b.minY), max(want.maxY, b.maxY)}
			}
		}
		got := reachOf(outline, degrees)
		for _, pair := range [][2]float64{{want.minX, got.minX}, {got.maxX, want.maxX}, {want.minY, got.minY}, {got.maxY, want.maxY}} {
			if pair[0] < pair[1]-1e-9 || pair[0] > pair[1]+1.5 { // never less than what was seen, and hardly more
				t.Fatalf("%v turned by %v reaches %+v, seen were %+v", outline, degrees, got, want)
			}
		}
		if degrees == 90 && quarterReach(outline) != got {
			t.Fatal("a quarter turn is not one by 90 degrees")
		}
	}
}

// TestSlicesOfAnOutline: a triangle with corners at 0, 4 and 10 of height.
func TestSlicesOfAnOutline(t *testing.T) {
	triangle := []Point{{0, 0}, {12, 4}, {2, 10}}
	if got := levels(triangle); !slices.Equal(got, []float64{10, 4, 0}) {
		t.Errorf("levels %v", got)
	}
	if got := levels([]Point{{0, 4}, {1, 0}, {2, 4}, {3, 7}, {4, 0}, {5, 7}}); !slices.Equal(got, []float64{7, 4, 0}) {
		t.Errorf("levels %v", got)
	}
	// At 4 from 0.8 to 12, at 2 from 0.4 to 6, at 7 from 1.4 to 7.
	for height, want := range map[float64]float64{10: 0, 7: 5.6, 4: 11.2, 2: 5.6, 0: 0, 11: 0, -1: 0} {
		if got := widthAt(triangle, height); math.Abs(got-want) > 1e-12 {
			t.Errorf("at %v it is %v wide, want %v", height, got, want)
		}
	}
	if got := widthAt(block(2, 9, 0, 5), 5); got != 7 {
		t.Errorf("along a side: %v, want 7", got)
	}
}

// TestTheHullOfPoints is against the clock from the left, without what lies on a
// side or within.
func TestTheHullOfPoints(t *testing.T) {
	got := hull([]Point{{5, 5}, {0, 0}, {10, 0}, {5, 0}, {10, 10}, {0, 10}, {0, 0}, {3, 7}, {0, 5}, {10, 5}, {5, 10}})
	if want := block(0, 10, 0, 10); !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	if got := hull([]Point{{2, 2}, {1, 1}, {2, 2}}); !slices.Equal(got, []Point{{1, 1}, {2, 2}}) {
		t.Errorf("of two points %v", got)
	}
}

// TestAMoveByHand: straight on, back, and turns to the left and right about a
// point beside the axle; in steps that are no larger than asked.
func TestAMoveByHand(t *testing.T) {
	start := Pose{Point{100, 200}, 90}
	for _, c := range []struct {
		move Move
		part float64
		want Pose
	}{
		{Move{DistanceMM: 50}, 1, Pose{Point{100, 250}, 90}}, {Move{DistanceMM: -50}, 0.5, Pose{Point{100, 175}, 90}},
		{Move{Degrees: 90, RadiusMM: 30}, 1, Pose{Point{70, 230}, 180}}, {Move{Degrees: -90, RadiusMM: -30}, 1, Pose{Point{130, 230}, 0}},
		{Move{Degrees: 90, RadiusMM: -30}, 1, Pose{Point{130, 170}, 180}}, {Move{Degrees: 180, RadiusMM: 30}, 0.5, Pose{Point{70, 230}, 180}},
		{Move{Degrees: 45}, 1, Pose{Point{100, 200}, 135}},
	} {
		if got := c.move.after(start, c.part); !nearPoint(got.At, c.want.At) || got.Heading != c.want.Heading {
			t.Errorf("%+v: %+v, want %+v", c.move, got, c.want)
		}
	}
	for _, c := range []struct {
		move Move
		want int
	}{
		{Move{DistanceMM: 100}, 5}, {Move{DistanceMM: -101}, 6}, {Move{DistanceMM: 0}, 1}, {Move{Degrees: 90}, 180}, {Move{Degrees: -90.2}, 181}, {Move{Degrees: 0.1}, 1},
	} {
		if got := steps(c.move, 0.5, 20); got != c.want {
			t.Errorf("%+v: %d steps, want %d", c.move, got, c.want)
		}
	}
	path := drive(start, []Move{{DistanceMM: 40}, {Degrees: 1, RadiusMM: 30}, {DistanceMM: 10}}, 0.5, 20)
	var headings []float64
	for _, p := range path {
		headings = append(headings, p.Heading)
	}
	if !slices.Equal(headings, []float64{90, 90, 90, 90.5, 91, 91}) || path[0] != start || !nearPoint(path[1].At, Point{100, 220}) {
		t.Errorf("the path is %+v", path)
	}
}

// TestAPathIsDrawnThin: the ends and the tightest pose, and about eight more.
func TestAPathIsDrawnThin(t *testing.T) {
	path := make([]Pose, 100)
	for i := range path {
		path[i].Heading = float64(i)
	}
	headings := func(path []Pose, tightest int) []float64 {
		var out []float64
		for _, p := range thin(path, tightest) {
			out = append(out, p.Heading)
		}
		return out
	}
	if got := headings(path, 50); !slices.Equal(got, []float64{0, 12, 24, 36, 48, 50, 60, 72, 84, 96, 99}) {
		t.Errorf("%v", got)
	}
	if got := headings(path[:5], 2); !slices.Equal(got, []float64{0, 1, 2, 3, 4}) {
		t.Errorf("of five %v", got)
	}
}

// TestSearches find what is known: the summit of a parabola, the higher of two
// hills, and the end of what holds.
func TestSearches(t *testing.T) {
	if at, value := peak(func(x float64) float64 { return 7 - (x-3)*(x-3) }, 0, 10, 40); math.Abs(at-3) > 1e-6 || math.Abs(value-7) > 1e-9 {
		t.Errorf("the summit is %v at %v, want 7 at 3", value, at)
	}
	hills := func(x float64) float64 { return max(5-math.Abs(x-2), 6-3*math.Abs(x-8.3)) }
	if at, value := highest(hills, 0, 10, 20, 30); math.Abs(at-8.3) > 1e-4 || math.Abs(value-6) > 1e-3 {
		t.Errorf("the higher hill is %v at %v, want 6 at 8.3", value, at)
	}
	if at, value := lowest(func(x float64) float64 { return -hills(x) }, 0, 10, 20, 30); math.Abs(at-8.3) > 1e-4 || math.Abs(value+6) > 1e-3 {
		t.Errorf("the deeper hollow is %v at %v, want -6 at 8.3", value, at)
	}
	for _, slope := range []float64{1, -1} {
		if at, value := highest(func(x float64) float64 { return slope * x }, 2, 5, 10, 20); at != 3.5+1.5*slope || value != slope*at {
			t.Errorf("the end of a slope of %v is %v at %v", slope, value, at)
		}
	}
	upTo := func(limit float64) func(float64) bool { return func(x float64) bool { return x <= limit } }
	if got := most(upTo(3.3), 0, 10, 30); math.Abs(got-3.3) > 1e-7 || got > 3.3 {
		t.Errorf("it holds to %v, want 3.3", got)
	}
	if most(upTo(20), 0, 10, 30) != 10 || most(upTo(-1), 0, 10, 30) != 0 {
		t.Error("what holds everywhere or nowhere ends within")
	}
	// So many steps, and no more: a quarter of the stretch after two.
	if got := most(upTo(5.1), 0, 8, 2); got != 4 {
		t.Errorf("after two steps %v, want 4", got)
	}
}
