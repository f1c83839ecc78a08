package trend_test

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"gonum.org/v1/gonum/stat"

	"doorsill/internal/engine/trend"
)

func random(t *testing.T) *rand.Rand {
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	return rand.New(rand.NewPCG(seed, 5))
}

func between(r *rand.Rand, low, high float64) float64 { return low + r.Float64()*(high-low) }

func randomPairs(r *rand.Rand, levels int) []trend.Pair {
	var pairs []trend.Pair
	for range 5 + r.IntN(60) {
		a := r.IntN(levels)
		b := a
		if r.IntN(3) == 0 {
			b = r.IntN(levels)
		}
		pairs = append(pairs, trend.Pair{A: a, B: b, StopA: r.IntN(5) == 0, StopB: r.IntN(5) == 0})
	}
	return pairs
}

func TestSwappingRatersLeavesAgreementUnchanged(t *testing.T) {
	r := random(t)
	for range 300 {
		levels := 2 + r.IntN(4)
		pairs := randomPairs(r, levels)
		var swapped []trend.Pair
		for _, p := range pairs {
			swapped = append(swapped, trend.Pair{Item: p.Item, A: p.B, B: p.A, StopA: p.StopB, StopB: p.StopA})
		}
		a, b := must[trend.Agreement](t)(trend.Agree(pairs, levels)), must[trend.Agreement](t)(trend.Agree(swapped, levels))
		if !reflect.DeepEqual(a, b) {
			t.Fatalf("%q became %q", sentence(a.Say), sentence(b.Say))
		}
	}
}

func randomRatings(r *rand.Rand) [][]float64 {
	n, k := 3+r.IntN(10), 2+r.IntN(3)
	rows := make([][]float64, n)
	for i := range rows {
		target := between(r, 50, 500)
		for range k {
			rows[i] = append(rows[i], target+between(r, -30, 30))
		}
	}
	return rows
}

func TestSwappingRatersOrUnitsLeavesReliabilityUnchanged(t *testing.T) {
	r := random(t)
	for range 300 {
		rows := randomRatings(r)
		factor := between(r, 0.001, 50)
		var swapped, scaled [][]float64
		for _, row := range rows {
			var back, big []float64
			for j := range row {
				back = append(back, row[len(row)-1-j])
				big = append(big, row[j]*factor)
			}
			swapped, scaled = append(swapped, back), append(scaled, big)
		}
		a := must[trend.Reliability](t)(trend.ICC(rows))
		for name, other := range map[string][][]float64{"swapped": swapped, "in another unit": scaled} {
			b := must[trend.Reliability](t)(trend.ICC(other))
			if math.Abs(a.ICC-b.ICC) > 1e-4 || math.Abs(a.Low-b.Low) > 1e-4 || math.Abs(a.High-b.High) > 1e-4 {
				t.Fatalf("ICC %v (%v to %v), %s %v (%v to %v)", a.ICC, a.Low, a.High, name, b.ICC, b.Low, b.High)
			}
		}
		if a.Bounded && (a.Low > a.ICC || a.High < a.ICC) {
			t.Fatalf("ICC %v lies outside its interval %v to %v", a.ICC, a.Low, a.High)
		}
	}
}

func TestQuadraticWeightsOfTwoLevelsAreNoWeights(t *testing.T) {
	r := random(t)
	for range 200 {
		a := must[trend.Agreement](t)(trend.Agree(randomPairs(r, 2), 2))
		if a.KappaErr == nil && (a.Plain.Kappa != a.Linear.Kappa || a.Plain.Kappa != a.Quadratic.Kappa || a.Plain.SE != a.Quadratic.SE) {
			t.Fatalf("with two levels kappa is %v, %v and %v", a.Plain.Kappa, a.Linear.Kappa, a.Quadratic.Kappa)
		}
	}
}

// TestLinesAgainstGonum compares with gonum.org/v1/gonum/stat.
func TestLinesAgainstGonum(t *testing.T) {
	r := random(t)
	for range 200 {
		var x, y []float64
		for i := range 2 + r.IntN(10) {
			x = append(x, float64(2*i)+between(r, 0, 1))
			y = append(y, between(r, 10, 500))
		}
		alpha, beta := stat.LinearRegression(x, y, nil, false)
		got := must[trend.Line](t)(trend.LeastSquares(x, y))
		if math.Abs(got.Slope-beta) > 1e-5 || math.Abs(got.Intercept-alpha) > 1e-4 {
			t.Fatalf("slope %v and intercept %v, gonum %v and %v", got.Slope, got.Intercept, beta, alpha)
		}
	}
}

// randomCourse is a fall in some directions, with visits at odd intervals.
func randomCourse(r *rand.Rand) trend.Course {
	c := trend.Course{Kind: "slow", Needed: between(r, 10, 60), JudgedLoss: none, WaitWeeks: between(r, 0, 80)}
	visits := 3 + r.IntN(4)
	for _, direction := range []string{"forward", "left", "right"}[:1+r.IntN(3)] {
		s := trend.Series{Direction: direction}
		force, day := between(r, 200, 800), 0
		for range visits {
			s.Visits = append(s.Visits, trend.Visit{Day: day, Rested: force, Tired: force * between(r, 0.6, 1.1)})
			force *= between(r, 0.75, 1.02)
			day += 28 + r.IntN(20)
		}
		c.Series = append(c.Series, s)
	}
	return c
}

// scaled is the course with every force times a factor.
func scaled(c trend.Course, factor float64) trend.Course {
	d := c
	d.Series = nil
	for _, s := range c.Series {
		other := trend.Series{Direction: s.Direction}
		for _, v := range s.Visits {
			other.Visits = append(other.Visits, trend.Visit{Day: v.Day, Rested: v.Rested * factor, Tired: v.Tired * factor})
		}
		d.Series = append(d.Series, other)
	}
	return d
}

func TestTheUnitOfForceDoesNotMoveAForecast(t *testing.T) {
	r := random(t)
	for range 60 {
		c := randomCourse(r)
		a := must[trend.Forecast](t)(trend.ForecastOf(c))
		d := scaled(c, 0.00980665)
		d.Needed *= 0.00980665
		b := must[trend.Forecast](t)(trend.ForecastOf(d))
		if math.Abs(a.To2.Mid-b.To2.Mid) > 0.11 || a.To2.MidKnown != b.To2.MidKnown || math.Abs(a.Reserve-b.Reserve) > 0.011 {
			t.Fatalf("in gf %+v, in N %+v", a.To2, b.To2)
		}
		for _, u := range []trend.Until{a.To3, a.To2} {
			if u.MidKnown && (!u.EarlyKnown || u.Early > u.Mid) || u.LateKnown && (!u.MidKnown || u.Mid > u.Late) {
				t.Fatalf("the band %+v is not in order", u)
			}
		}
		for _, p := range a.Band {
			if p.Low > p.Mid || p.Mid > p.High {
				t.Fatalf("the band %+v is not in order", p)
			}
		}
	}
}

// TestLessForceIsNeverForeseenToLastLonger: neither by all forces scaled down nor
// by one direction more.
func TestLessForceIsNeverForeseenToLastLonger(t *testing.T) {
	r := random(t)
	weeks := func(u trend.Until) float64 {
		if !u.EarlyKnown {
			return math.Inf(1)
		}
		return u.Early
	}
	for range 60 {
		c := randomCourse(r)
		whole := must[trend.Forecast](t)(trend.ForecastOf(c))
		less := must[trend.Forecast](t)(trend.ForecastOf(scaled(c, between(r, 0.5, 0.99))))
		if weeks(less.To2) > weeks(whole.To2) || weeks(less.To3) > weeks(whole.To3) || whole.RunsOut && !less.RunsOut {
			t.Fatalf("less force lasts longer: %+v, with all of it %+v", less.To2, whole.To2)
		}
	}
}

func TestTheSameVisitsGiveTheSameForecast(t *testing.T) {
	c := randomCourse(rand.New(rand.NewPCG(7, 7)))
	a, b := must[trend.Forecast](t)(trend.ForecastOf(c)), must[trend.Forecast](t)(trend.ForecastOf(c))
	if !reflect.DeepEqual(a, b) {
		t.Errorf("%+v, then %+v", a, b)
	}
}

func TestMoreVisitsOfTheSameLineDoNotChangeIt(t *testing.T) {
	for n := 3; n <= 8; n++ {
		c := course("fast", n)
		for i := range c.Series[0].Visits {
			v := &c.Series[0].Visits[i]
			v.Day, v.Rested = 28*(i-n), 400-40*float64(i-n)
		}
		f := must[trend.Forecast](t)(trend.ForecastOf(c))
		if f.Slope != -7 || f.Line != trend.OwnData { // 40 gf rested in four weeks, times 0.7
			t.Errorf("%d visits: slope %v by %s, want −7 by own data", n, f.Slope, f.Line)
		}
	}
}
