package passage_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"doorsill/internal/engine/passage"
)

func random(t *testing.T) *rand.Rand {
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	return rand.New(rand.NewPCG(seed, 4))
}

// rank orders verdicts, the best highest.
func rank(verdict string) int {
	return slices.Index([]string{passage.NotFeasible, passage.Marginal, passage.Feasible}, verdict)
}

// searchMM is how far the line of one turn, which is found by search, may miss
// the best.
const searchMM = 3

// noBetter checks that a tighter passage gained nothing.
func noBetter(t *testing.T, what string, wide, tight *passage.Result) {
	t.Helper()
	if tight.LeftMM > wide.LeftMM+0.11 || tight.EachMM > max(0, wide.EachMM+searchMM) {
		t.Errorf("%s: %v mm left and %v on each side became %v and %v", what, wide.LeftMM, wide.EachMM, tight.LeftMM, tight.EachMM)
	}
	if rank(tight.Verdict) > rank(wide.Verdict) && (wide.LeftMM < -0.11 || wide.EachMM < 50-searchMM) {
		t.Errorf("%s: %s became %s", what, wide.Verdict, tight.Verdict)
	}
}

func TestANarrowerPassageNeverGains(t *testing.T) {
	r := random(t)
	result := must[*passage.Result](t)
	want := passage.Fits{ClearanceMM: passage.DefaultClearanceMM}
	for range 20 {
		c := randomChair(t, r)
		clear, less := c.WidthMM()+between2(r, -20, 400), between2(r, 1, 80)
		noBetter(t, "door", result(c.StraightDoor(passage.Door{ClearMM: clear, ClearanceMM: 50})), result(c.StraightDoor(passage.Door{ClearMM: clear - less, ClearanceMM: 50})))
		in, out := between2(r, 800, 1300), between2(r, 800, 1300)
		noBetter(t, "corner, in", result(c.Corner(passage.Corner{InMM: in, OutMM: out, Fits: want})), result(c.Corner(passage.Corner{InMM: in - less, OutMM: out, Fits: want})))
		noBetter(t, "corner, out", result(c.Corner(passage.Corner{InMM: in, OutMM: out, Fits: want})), result(c.Corner(passage.Corner{InMM: in, OutMM: out - less, Fits: want})))
		wide := passage.Doorway{ClearMM: clear, ThickMM: 100, CorridorMM: out, Fits: want}
		tight, thick, low := wide, wide, wide
		tight.ClearMM, thick.ThickMM, low.CorridorMM = clear-less, 100+less, out-less
		base := result(c.Doorway(wide))
		noBetter(t, "doorway", base, result(c.Doorway(tight)))
		noBetter(t, "thicker wall", base, result(c.Doorway(thick)))
		noBetter(t, "corridor", base, result(c.Doorway(low)))
		noBetter(t, "turn", result(c.FullTurn(passage.Room{WidthMM: in + 500, DepthMM: 2000, ClearanceMM: 50})), result(c.FullTurn(passage.Room{WidthMM: in + 500 - less, DepthMM: 2000, ClearanceMM: 50})))
	}
}

func TestAWiderChairNeverGains(t *testing.T) {
	r := random(t)
	result := must[*passage.Result](t)
	for range 20 {
		m := randomMeasures(r)
		slim := must[*passage.Chair](t)(passage.NewChair(m))
		m.WidthMM += between2(r, 1, 80)
		wide := must[*passage.Chair](t)(passage.NewChair(m))
		k := passage.Corner{InMM: between2(r, 850, 1200), OutMM: between2(r, 850, 1200), Fits: passage.Fits{ClearanceMM: 50}}
		noBetter(t, "corner", result(slim.Corner(k)), result(wide.Corner(k)))
		d := passage.Door{ClearMM: between2(r, 650, 1000), ClearanceMM: 50}
		noBetter(t, "door", result(slim.StraightDoor(d)), result(wide.StraightDoor(d)))
	}
}

// TestTheUnitOfLengthDoesNotMatter scales everything by one factor.
func TestTheUnitOfLengthDoesNotMatter(t *testing.T) {
	r := random(t)
	result := must[*passage.Result](t)
	const f = 1.25
	for range 10 {
		m := randomMeasures(r)
		c := must[*passage.Chair](t)(passage.NewChair(m))
		m.LengthMM, m.WidthMM, m.AxleBackMM = f*m.LengthMM, f*m.WidthMM, f*m.AxleBackMM
		scaled := must[*passage.Chair](t)(passage.NewChair(m))
		k := passage.Corner{InMM: 1000, OutMM: 950, Fits: fits}
		a := result(c.Corner(k))
		k.InMM, k.OutMM = f*k.InMM, f*k.OutMM
		b := result(scaled.Corner(k))
		if math.Abs(b.LeftMM-f*a.LeftMM) > 0.2 || math.Abs(b.NeedsMM-f*a.NeedsMM) > 0.2 {
			t.Errorf("left %v and needs %v became %v and %v, want times %v", a.LeftMM, a.NeedsMM, b.LeftMM, b.NeedsMM, f)
		}
	}
}

// TestWhatADriverCanDoAnyMotionCan checks the order of the two judgements and
// the drawing: every outline of a driven line keeps the room that is claimed,
// measured from the corners of the drawing alone.
func TestWhatADriverCanDoAnyMotionCan(t *testing.T) {
	r := random(t)
	result := must[*passage.Result](t)
	turns := 0
	for range 60 {
		c := randomChair(t, r)
		in, out := between2(r, 800, 1400), between2(r, 800, 1400)
		got := result(c.Corner(passage.Corner{InMM: in, OutMM: out, Fits: passage.Fits{MinRadiusMM: 200 * float64(r.IntN(3))}}))
		if got.EachMM > 0 && got.LeftMM < 2*got.EachMM-0.2 {
			t.Errorf("%v mm on each side in one turn, but only %v mm left by any motion", got.EachMM, got.LeftMM)
		}
		if got.Way != passage.OneTurn {
			continue
		}
		turns++
		for _, pose := range got.Plan.Poses {
			for _, p := range pose.Outline {
				room := min(in-p.X, out-p.Y, math.Hypot(max(0, p.X), max(0, p.Y)))
				if room < got.EachMM-0.3 {
					t.Errorf("a corner of the drawing keeps %v mm, claimed are %v", room, got.EachMM)
				}
			}
		}
		mark := got.Plan.Tightest
		if gap := math.Hypot(mark.Chair.X-mark.Wall.X, mark.Chair.Y-mark.Wall.Y); math.Abs(gap-got.EachMM) > 0.3 || mark.RoomMM != got.EachMM {
			t.Errorf("the mark is %v mm wide and says %v, the result says %v", gap, mark.RoomMM, got.EachMM)
		}
	}
	if turns < 5 {
		t.Errorf("only %d turns were drawn: the check is empty", turns)
	}
}

// TestTurningAboutAgreesWithTurningDegreeByDegree turns the outline in small
// steps and measures the band it fills.
func TestTurningAboutAgreesWithTurningDegreeByDegree(t *testing.T) {
	r := random(t)
	for range 40 {
		m := randomMeasures(r)
		c := must[*passage.Chair](t)(passage.NewChair(m))
		_, needs, err := c.HalfTurn(passage.Corridor{WidthMM: 2000})
		if err != nil {
			t.Fatal(err)
		}
		any, far := 0.0, 0.0
		bands := [2][2]float64{}
		for half := range 2 { // the second half is a turn to the other side
			for i := range 3601 {
				_, _, low, high := extent(spin(cornersOf(m), 180*float64(half)+float64(i)*0.05))
				any, far = max(any, high-low), max(far, high)
				bands[half][0], bands[half][1] = min(bands[half][0], low), max(bands[half][1], high)
			}
		}
		one := min(bands[0][1]-bands[0][0], bands[1][1]-bands[1][0])
		if math.Abs(one-needs.OneTurnMM) > 0.2 || math.Abs(any-needs.AnyMM) > 0.2 {
			t.Errorf("turned step by step: %v and %v, judged: %v and %v", one, any, needs.OneTurnMM, needs.AnyMM)
		}
		full := must[*passage.Result](t)(c.FullTurn(passage.Room{WidthMM: 2500, DepthMM: 2500}))
		if math.Abs(full.NeedsMM-2*far) > 0.2 {
			t.Errorf("a full turn takes %v, step by step %v", full.NeedsMM, 2*far)
		}
		if needs.AnyMM > needs.ThreeMM+0.1 || needs.ThreeMM > needs.OneTurnMM+0.1 {
			t.Errorf("any motion %v, three-point %v, one turn %v: not in order", needs.AnyMM, needs.ThreeMM, needs.OneTurnMM)
		}
	}
}
