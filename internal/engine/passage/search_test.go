package passage_test

import (
	"math/rand/v2"
	"sync"
	"testing"

	"doorsill/internal/engine/passage"
)

// agreeMM is how near judgement and search must be.
const agreeMM = 10

func between2(r *rand.Rand, low, high float64) float64 { return low + r.Float64()*(high-low) }

// randomMeasures is an invented chair.
func randomMeasures(r *rand.Rand) passage.Measures {
	m := passage.Measures{LengthMM: between2(r, 850, 1400), WidthMM: between2(r, 520, 760),
		Drive: []passage.Drive{passage.Front, passage.Mid, passage.Rear}[r.IntN(3)]}
	m.AxleBackMM = between2(r, 0.2, 0.85) * m.LengthMM
	return m
}

func randomChair(t *testing.T, r *rand.Rand) *passage.Chair {
	t.Helper()
	return must[*passage.Chair](t)(passage.NewChair(randomMeasures(r)))
}

// cornersOf are the corners of a chair about its axle.
func cornersOf(m passage.Measures) []passage.Point {
	front, rear, half := m.AxleBackMM, m.AxleBackMM-m.LengthMM, m.WidthMM/2
	return []passage.Point{{X: rear, Y: -half}, {X: front, Y: -half}, {X: front, Y: half}, {X: rear, Y: half}}
}

// eachChair runs a check for random chairs, two at a time, each with its own
// random numbers from the printed seed.
func eachChair(t *testing.T, check func(t *testing.T, r *rand.Rand, c *passage.Chair, corners []passage.Point)) {
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	var group sync.WaitGroup
	for part := range 2 {
		group.Go(func() {
			for i := part; i < chairsSearched; i += 2 {
				r := rand.New(rand.NewPCG(seed, uint64(i)))
				m := randomMeasures(r)
				check(t, r, must[*passage.Chair](t)(passage.NewChair(m)), cornersOf(m))
			}
		})
	}
	group.Wait()
}

// TestCornersAgreeWithASearch checks that a corridor 10 mm wider than the
// least passes, and one 10 mm narrower does not.
func TestCornersAgreeWithASearch(t *testing.T) {
	eachChair(t, func(t *testing.T, r *rand.Rand, c *passage.Chair, corners []passage.Point) {
		in := c.WidthMM() + between2(r, 50, 500)
		got, err := c.Corner(passage.Corner{InMM: in, OutMM: 2000, Fits: fits})
		if err != nil {
			t.Error(err)
			return
		}
		passes := cornerSearch(corners, in)
		if !passes(got.NeedsMM + agreeMM) {
			t.Errorf("%v: from %v mm the corner is said to need %v, but the search does not get through %v", corners, in, got.NeedsMM, got.NeedsMM+agreeMM)
		}
		if passes(got.NeedsMM - agreeMM) {
			t.Errorf("%v: from %v mm the corner is said to need %v, but the search gets through %v", corners, in, got.NeedsMM, got.NeedsMM-agreeMM)
		}
	})
}

// TestDoorwaysAgreeWithASearch is the same for a door off a corridor.
func TestDoorwaysAgreeWithASearch(t *testing.T) {
	eachChair(t, func(t *testing.T, r *rand.Rand, c *passage.Chair, corners []passage.Point) {
		door := passage.Doorway{ClearMM: c.WidthMM() + between2(r, 15, 300), ThickMM: between2(r, 0, 200) * float64(r.IntN(2)), CorridorMM: 3000, Fits: fits}
		got, err := c.Doorway(door)
		if err != nil {
			t.Error(err)
			return
		}
		passes := doorwaySearch(gridFor(corners, door.ClearMM, 60), corners, door.ClearMM, door.ThickMM)
		// A thick wall leaves less beside a turned chair than beside a straight one:
		// what a coarse search does not get through is searched finely.
		if !passes(got.NeedsMM+agreeMM) && !doorwaySearch(fine, corners, door.ClearMM, door.ThickMM)(got.NeedsMM+agreeMM) {
			t.Errorf("%v: with %+v the corridor is said to need %v, but the search does not get through %v", corners, door, got.NeedsMM, got.NeedsMM+agreeMM)
		}
		if passes(got.NeedsMM - agreeMM) {
			t.Errorf("%v: with %+v the corridor is said to need %v, but the search gets through %v", corners, door, got.NeedsMM, got.NeedsMM-agreeMM)
		}
	})
}
