package passage

import (
	"math"
	"testing"
)

// seen notes where a search looks.
func seen(f func(float64) float64, at *[]float64) func(float64) float64 {
	return func(x float64) float64 {
		*at = append(*at, x)
		return f(x)
	}
}

func samePlaces(t *testing.T, name string, got, want []float64) {
	t.Helper()
	same := len(got) == len(want)
	for i := 0; same && i < len(got); i++ {
		same = math.Abs(got[i]-want[i]) < 1e-3
	}
	if !same {
		t.Errorf("%s: looked at %v, want %v", name, got, want)
	}
}

// TestTheGoldenSectionByHand: of 0 to 10 it looks at 3.820 and 6.180, and then at one
// place a step, which divides what is left as they did; where both are alike it goes
// on to the left.
func TestTheGoldenSectionByHand(t *testing.T) {
	for _, c := range []struct {
		name   string
		f      func(float64) float64
		steps  int
		places []float64
		at     float64
	}{
		{"uphill, no step", func(x float64) float64 { return x }, 0, []float64{3.820, 6.180}, 6.180},
		{"uphill", func(x float64) float64 { return x }, 2, []float64{3.820, 6.180, 7.639, 8.541}, 8.541},
		{"downhill", func(x float64) float64 { return -x }, 2, []float64{3.820, 6.180, 2.361, 1.459}, 1.459},
		{"level", func(float64) float64 { return 5 }, 1, []float64{3.820, 6.180, 2.361}, 2.361},
		{"up and down", func(x float64) float64 { return -math.Abs(x - 5) }, 2, []float64{3.820, 6.180, 2.361, 4.721}, 4.721},
	} {
		var places []float64
		at, value := peak(seen(c.f, &places), 0, 10, c.steps)
		samePlaces(t, c.name, places, c.places)
		if math.Abs(at-c.at) > 1e-3 || value != c.f(at) {
			t.Errorf("%s: %v at %v, want it at %v", c.name, value, at, c.at)
		}
	}
}

// TestEachSummitIsRefined: of places two apart, those that no neighbour is above, a
// step to each side but not beyond the ends. The first of two that are alike stands.
func TestEachSummitIsRefined(t *testing.T) {
	by := func(values ...float64) func(float64) float64 {
		return func(x float64) float64 {
			if x != math.Trunc(x) || math.Mod(x, 2) != 0 {
				return -9
			}
			return values[int(x/2)]
		}
	}
	for _, c := range []struct {
		name      string
		f         func(float64) float64
		refined   []float64
		at, value float64
	}{
		{"within", by(0, 1, 3, 1, 0), []float64{3.528, 4.472}, 4, 3},
		{"at the left end", by(3, 2, 1, 0, -1), []float64{0.764, 1.236}, 0, 3},
		{"at the right end", by(0, 0.5, 1, 2, 3), []float64{6.764, 7.236}, 8, 3},
		{"two alike", by(0, 2, 0, 2, 0), []float64{1.528, 2.472, 5.528, 6.472}, 2, 2},
		{"a level top", by(0, 2, 2, 1, 0), []float64{1.528, 2.472, 3.528, 4.472}, 2, 2},
		{"the second is higher", by(0, 2, 0, 4, 0), []float64{1.528, 2.472, 5.528, 6.472}, 6, 4},
	} {
		var places []float64
		at, value := highest(seen(c.f, &places), 0, 8, 4, 0)
		samePlaces(t, c.name, places, append([]float64{0, 2, 4, 6, 8}, c.refined...))
		if at != c.at || value != c.value {
			t.Errorf("%s: %v at %v, want %v at %v", c.name, value, at, c.value, c.at)
		}
	}
	// Refining finds more, and what is only as high does not count.
	if at, value := highest(func(x float64) float64 { return -math.Abs(x - 4.4721) }, 0, 8, 4, 0); math.Abs(at-4.472) > 1e-3 || value < -1e-3 {
		t.Errorf("beside a place: %v at %v", value, at)
	}
	if at, value := highest(func(float64) float64 { return 7 }, 1, 8, 4, 3); at != 1 || value != 7 {
		t.Errorf("on the level: %v at %v", value, at)
	}
}

// TestHalvingByHand: it looks at the end, and then at the middle of what is left so
// many times.
func TestHalvingByHand(t *testing.T) {
	var places []float64
	upTo := func(limit float64) func(float64) bool {
		return func(x float64) bool { places = append(places, x); return x <= limit }
	}
	if got := most(upTo(5), 0, 8, 4); got != 5 {
		t.Errorf("it holds to %v", got)
	}
	samePlaces(t, "up to 5", places, []float64{8, 4, 6, 5, 5.5})
	places = nil
	if got := most(upTo(8), 0, 8, 4); got != 8 || len(places) != 1 {
		t.Errorf("it holds to %v, looked at %v", got, places)
	}
}

// TestATurnOnTheSpotRoundACornerByHand: the rear corners sweep 761.58 mm to the right
// of the axle and the front ones 424.26 above it; 300 are to its left. Of 1300 mm in
// the way in leaves (1300 − 300 − 761.58)/2 on each side, and the axle stands so far
// and 761.58 mm off the outer wall.
func TestATurnOnTheSpotRoundACornerByHand(t *testing.T) {
	c := longRear(t)
	rear, front := math.Hypot(700, 300), math.Hypot(300, 300)
	for _, one := range []struct{ in, out, room float64 }{
		{1300, 1300, (1000 - rear) / 2}, {1300, 850, (550 - front) / 2}, {1200, 2000, (900 - rear) / 2},
	} {
		got := c.turnAt(Corner{InMM: one.in, OutMM: one.out}, 0)
		// The room is found to 3000/2^16 mm.
		if got.room > one.room || got.room < one.room-0.047 || got.radius != 0 {
			t.Errorf("%v into %v: %+v, want a room of %v", one.in, one.out, got, one.room)
		}
		if want := (Point{one.in - rear - got.room, one.out - front - got.room}); distance(got.middle, want) > 1e-9 {
			t.Errorf("%v into %v: about %v, want %v", one.in, one.out, got.middle, want)
		}
	}
}

// TestDirectionsAround: the 26 neighbours first, of which 8 keep the radius, and then
// a hundred of the same length from one pole to the other.
func TestDirectionsAround(t *testing.T) {
	all := around()
	if len(all) != 126 {
		t.Fatalf("%d directions", len(all))
	}
	seen := map[[3]float64]bool{}
	for _, by := range all[:26] {
		for _, x := range by {
			if x != -1 && x != 0 && x != 1 {
				t.Errorf("%v is no neighbour", by)
			}
		}
		seen[by] = true
	}
	if len(seen) != 26 || seen[[3]float64{}] {
		t.Errorf("%d neighbours", len(seen))
	}
	for i, by := range all[26:] {
		if length := math.Sqrt(by[0]*by[0] + by[1]*by[1] + by[2]*by[2]); math.Abs(length-1) > 1e-12 || math.Abs(by[2]-(0.99-0.02*float64(i))) > 1e-12 {
			t.Errorf("direction %d is %v", i, by)
		}
	}
	// The golden angle lies between two that follow each other.
	for i := range 99 {
		a, b := all[26+i], all[27+i]
		turn := math.Atan2(b[1], b[0]) - math.Atan2(a[1], a[0])
		if turn = math.Mod(turn+4*math.Pi, 2*math.Pi); math.Abs(turn-2*math.Pi*0.618034) > 1e-5 {
			t.Fatalf("from %v to %v it turns by %v", a, b, turn)
		}
	}
}

// TestANearMissIsSearchedInFull: off a corridor of 1100 mm into a door of 650 the
// short search misses by 2 mm what the full one drives.
func TestANearMissIsSearchedInFull(t *testing.T) {
	c, err := NewChair(Measures{LengthMM: 1190, WidthMM: 560, Drive: Mid, AxleBackMM: 370})
	if err != nil {
		t.Fatal(err)
	}
	d := Doorway{ClearMM: 650, CorridorMM: 1100, Fits: Fits{ClearanceMM: 50}}
	full := c.enter(d, c.bestEntry(d)).gap.room
	if got := c.quickEntry(d); full < 0 || got.room != full || got.radius == 0 {
		t.Errorf("by the quick check %+v, in full %v", got, full)
	}
}

// TestTheRoomOfATurnIsThatOfTheDrive, pose by pose.
func TestTheRoomOfATurnIsThatOfTheDrive(t *testing.T) {
	c := longRear(t)
	for _, width := range []float64{820, 850, 900, 1000} {
		k := Corner{InMM: width, OutMM: width}
		line := c.quickTurn(k)
		if driven := c.round(k, line).gap.room; line.room != driven {
			t.Errorf("corridors of %v: %v, driven %v", width, line.room, driven)
		}
	}
}
