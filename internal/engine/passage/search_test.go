package passage_test

import (
	"math/rand/v2"
	"sync"
	"testing"

	"doorsill/internal/engine/passage"
	"doorsill/internal/engine/provenance"
)

// agreeMM is how near judgement and search must be.
const agreeMM = 10

func between2(r *rand.Rand, low, high float64) float64 { return low + r.Float64()*(high-low) }

// randomMeasures is an invented chair, half of them with a control that
// sticks out.
func randomMeasures(r *rand.Rand) passage.Measures {
	m := passage.Measures{
		LengthMM: between2(r, 850, 1400), WidthMM: between2(r, 520, 760),
		Drive: []passage.Drive{passage.Front, passage.Mid, passage.Rear}[r.IntN(3)], AxleBackMM: provenance.NotMeasured(),
	}
	if r.IntN(2) == 0 {
		m.AxleBackMM = between2(r, 0.2, 0.85) * m.LengthMM
	}
	if r.IntN(2) == 0 {
		from := between2(r, 0.1, 0.7) * m.LengthMM
		m.Parts = append(m.Parts, passage.Part{Name: "control", Side: []passage.Side{passage.Left, passage.Right}[r.IntN(2)],
			OutMM: between2(r, 5, 120), FromMM: from, ToMM: from + between2(r, 60, 200)})
	}
	return m
}

func randomChair(t *testing.T, r *rand.Rand) *passage.Chair {
	t.Helper()
	return must[*passage.Chair](t)(passage.NewChair(randomMeasures(r)))
}

// eachChair runs a check for random chairs, two at a time, each with its own
// random numbers from the printed seed.
func eachChair(t *testing.T, check func(t *testing.T, r *rand.Rand, c *passage.Chair)) {
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	var group sync.WaitGroup
	for part := range 2 {
		group.Go(func() {
			for i := part; i < chairsSearched; i += 2 {
				r := rand.New(rand.NewPCG(seed, uint64(i)))
				check(t, r, randomChair(t, r))
			}
		})
	}
	group.Wait()
}

// TestCornersAgreeWithASearch checks that a corridor 10 mm wider than the
// least passes, and one 10 mm narrower does not.
func TestCornersAgreeWithASearch(t *testing.T) {
	eachChair(t, func(t *testing.T, r *rand.Rand, c *passage.Chair) {
		in := c.WidthMM() + between2(r, 50, 500)
		got, err := c.Corner(passage.Corner{InMM: in, OutMM: 2000, Fits: fits})
		if err != nil {
			t.Error(err)
			return
		}
		passes := cornerSearch(c.Hull(), in)
		if !passes(got.NeedsMM + agreeMM) {
			t.Errorf("%v: from %v mm the corner is said to need %v, but the search does not get through %v", c.Hull(), in, got.NeedsMM, got.NeedsMM+agreeMM)
		}
		if passes(got.NeedsMM - agreeMM) {
			t.Errorf("%v: from %v mm the corner is said to need %v, but the search gets through %v", c.Hull(), in, got.NeedsMM, got.NeedsMM-agreeMM)
		}
	})
}

// TestDoorwaysAgreeWithASearch is the same for a door off a corridor.
func TestDoorwaysAgreeWithASearch(t *testing.T) {
	eachChair(t, func(t *testing.T, r *rand.Rand, c *passage.Chair) {
		door := passage.Doorway{ClearMM: c.WidthMM() + between2(r, 15, 300), ThickMM: between2(r, 0, 200) * float64(r.IntN(2)), CorridorMM: 3000, Fits: fits}
		got, err := c.Doorway(door)
		if err != nil {
			t.Error(err)
			return
		}
		passes := doorwaySearch(gridFor(c.Hull(), door.ClearMM, 60), c.Hull(), door.ClearMM, door.ThickMM)
		// A thick wall leaves less beside a turned chair than beside a straight one:
		// what a coarse search does not get through is searched finely.
		if !passes(got.NeedsMM+agreeMM) && !doorwaySearch(fine, c.Hull(), door.ClearMM, door.ThickMM)(got.NeedsMM+agreeMM) {
			t.Errorf("%v: with %+v the corridor is said to need %v, but the search does not get through %v", c.Hull(), door, got.NeedsMM, got.NeedsMM+agreeMM)
		}
		if passes(got.NeedsMM - agreeMM) {
			t.Errorf("%v: with %+v the corridor is said to need %v, but the search gets through %v", c.Hull(), door, got.NeedsMM, got.NeedsMM-agreeMM)
		}
	})
}
