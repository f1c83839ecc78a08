package endurance_test

import (
	"math/rand/v2"
	"testing"

	"doorsill/internal/engine/endurance"
)

func random(t *testing.T) *rand.Rand {
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	return rand.New(rand.NewPCG(seed, 3))
}

func between(r *rand.Rand, low, high float64) float64 { return low + r.Float64()*(high-low) }

// regions are those of the published table, in its order.
var regions = []endurance.Region{endurance.General, endurance.Ankle, endurance.Knee, endurance.Trunk, endurance.Shoulder, endurance.Elbow, endurance.Hand}

func TestHoldingTimeFallsAsTheShareRises(t *testing.T) {
	r := random(t)
	for range 2000 {
		low := between(r, 0.10, 0.99)
		high := between(r, low, 1)
		for _, region := range regions {
			a, b := must[endurance.Hold](t)(endurance.HoldingTime(region, low)), must[endurance.Hold](t)(endurance.HoldingTime(region, high))
			if b.Seconds > a.Seconds || b.Low > a.Low || b.High > a.High {
				t.Fatalf("%s: %v s at %v, but %v s at %v", region, a.Seconds, low, b.Seconds, high)
			}
			if !(a.Low < a.Seconds && a.Seconds < a.High) {
				t.Fatalf("%s at %v: band %v to %v does not hold %v", region, low, a.Low, a.High, a.Seconds)
			}
		}
	}
}

func TestAllowedShareFallsAsTheDutyCycleRises(t *testing.T) {
	r := random(t)
	for range 2000 {
		low := between(r, 0.0001, 0.999)
		high := between(r, low, 1)
		a, b := must[endurance.Allowance](t)(endurance.Allowed("hand-left", low)), must[endurance.Allowance](t)(endurance.Allowed("hand-left", high))
		if b.Share > a.Share {
			t.Fatalf("duty %v allows %v, but duty %v allows %v", low, a.Share, high, b.Share)
		}
		for _, l := range a.Limits {
			if l.Share < a.Share {
				t.Fatalf("%s allows %v, less than the stricter %v", l.ID, l.Share, a.Share)
			}
		}
	}
}

func randomTask(r *rand.Rand) endurance.Task {
	task := endurance.Task{Site: "index-left", Share: between(r, 0.01, 0.9), PerMinute: between(r, 1, 100),
		Bend: endurance.Flexion, Degrees: between(r, 0, 80), Hours: between(r, 0.1, 20)}
	task.Seconds = between(r, 0.05, 50/task.PerMinute)
	if r.IntN(2) == 0 {
		task.Bend = endurance.Extension
	}
	return task
}

func TestStrainRisesWithEachFactor(t *testing.T) {
	r := random(t)
	for range 2000 {
		task := randomTask(r)
		base := must[endurance.Strain](t)(endurance.StrainIndex(task)).Index
		more := [5]endurance.Task{task, task, task, task, task}
		more[0].Share *= 1.1
		more[1].PerMinute *= 1.1
		more[2].Seconds *= 1.1
		more[3].Degrees += 5
		more[4].Hours *= 1.1
		for i, m := range more {
			got := must[endurance.Strain](t)(endurance.StrainIndex(m)).Index
			flat := i == 3 && task.Bend == endurance.Extension // flat to 30 degrees
			if got < base || got == base && !flat && base > 0.01 {
				t.Fatalf("the index is %v for %+v and %v for %+v", base, task, got, m)
			}
		}
	}
}

func TestSumsOfStrainLieAboveTheirLargestPart(t *testing.T) {
	r := random(t)
	for range 500 {
		a, b := randomTask(r), randomTask(r)
		a.Seconds, b.Seconds, b.Hours = a.Seconds/2, b.Seconds/2, a.Hours
		sa, sb := must[endurance.Strain](t)(endurance.StrainIndex(a)), must[endurance.Strain](t)(endurance.StrainIndex(b))
		sum := must[endurance.StrainSum](t)(endurance.Composite([]endurance.Task{a, b}))
		turned := must[endurance.StrainSum](t)(endurance.Composite([]endurance.Task{b, a}))
		if sum.Index != turned.Index {
			t.Fatalf("the order of commands changes the sum: %v and %v", sum.Index, turned.Index)
		}
		if sum.Index < max(sa.Index, sb.Index) {
			t.Fatalf("%v and %v add up to %v", sa.Index, sb.Index, sum.Index)
		}
	}
}

func TestOneTaskAloneIsItsOwnSum(t *testing.T) {
	r := random(t)
	for range 200 {
		task := randomTask(r)
		one := must[endurance.Strain](t)(endurance.StrainIndex(task)).Index
		sum := must[endurance.StrainSum](t)(endurance.Composite([]endurance.Task{task})).Index
		day := must[endurance.StrainSum](t)(endurance.Cumulative([]endurance.DayTask{{Index: one, Hours: task.Hours}})).Index
		if sum != one || day != one {
			t.Fatalf("index %v, composite %v, cumulative %v", one, sum, day)
		}
	}
}

func TestTheUnitOfForceDoesNotMatter(t *testing.T) {
	r := random(t)
	for range 500 {
		needed, usable, factor := between(r, 1, 300), between(r, 1, 3000), between(r, 0.001, 100)
		a, b := must[float64](t)(endurance.ShareOf(needed, usable)), must[float64](t)(endurance.ShareOf(needed*factor, usable*factor))
		if d := a - b; d > 1e-4 || d < -1e-4 {
			t.Fatalf("%v of %v is %v, in another unit %v", needed, usable, a, b)
		}
	}
}
