package trend

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// TestStudentsTAgainstGonum compares with gonum.org/v1/gonum/stat/distuv.
func TestStudentsTAgainstGonum(t *testing.T) {
	for df := 1.0; df <= 40; df++ {
		dist := distuv.StudentsT{Sigma: 1, Nu: df}
		for _, p := range []float64{0.6, 0.9, 0.95, 0.975, 0.995} {
			if got, want := tQuantile(p, df), dist.Quantile(p); math.Abs(got-want) > 1e-8*want {
				t.Errorf("t of %v with %v: %v, gonum %v", p, df, got, want)
			}
		}
		for _, x := range []float64{-6, -1.5, -0.2, 0, 0.3, 2, 9} {
			if got, want := tChance(x, df), dist.CDF(x); math.Abs(got-want) > 1e-10 {
				t.Errorf("chance below %v with %v: %v, gonum %v", x, df, got, want)
			}
		}
	}
	known := scatter{share: 1}
	for _, x := range []float64{-2, 0, 1.2} {
		if got, want := known.chance(x), distuv.UnitNormal.CDF(x); math.Abs(got-want) > 1e-12 {
			t.Errorf("chance below %v: %v, gonum %v", x, got, want)
		}
	}
	for _, p := range []float64{0.5, 0.95, 0.975, 1 - 0.05/4} {
		if got, want := normalQuantile(p), distuv.UnitNormal.Quantile(p); math.Abs(got-want) > 1e-12 {
			t.Errorf("normal at %v: %v, gonum %v", p, got, want)
		}
	}
}

// TestACrossingIsWhereTheBoundMeets compares the solved crossings with the first
// sign change of the bound in small steps.
func TestACrossingIsWhereTheBoundMeets(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	never, met := 0, 0
	for range 400 {
		var x, y []float64
		for i := range 3 + random.IntN(5) {
			x = append(x, float64(4*i))
			y = append(y, 100-random.Float64()*4*float64(i)+8*random.NormFloat64())
		}
		line, err := LeastSquares(x, y)
		if err != nil {
			t.Fatal(err)
		}
		start, level := x[len(x)-1], 30+random.Float64()*60
		for _, errors := range []float64{0, -12, 12, -3, -1e-13, 1e-13, -1e-10, 1e-10, -1e-7, 1e-7} {
			want := math.Inf(1)
			for at := start; at < 400; at += 0.05 {
				if line.at(at)+errors*line.unsure(at) <= level {
					want = at
					break
				}
			}
			got, comes := line.crossing(start, level, errors)
			switch {
			case comes && got > 399 && math.IsInf(want, 1):
			case comes != !math.IsInf(want, 1), comes && math.Abs(got-want) > 0.051:
				t.Fatalf("%v of a line at %v with slope %v meets %v at %v (%v), in small steps at %v", errors, line.meanY, line.slope, level, got, comes, want)
			case comes:
				met++
			default:
				never++
			}
		}
	}
	if never < 50 || met < 50 {
		t.Errorf("%d never meet and %d do: too few to hold anything", never, met)
	}
}

// TestABoundThatDipsMeetsTwice: 10 − u falls more slowly than 1.5·√(1/3 + u²/2)
// opens from u = 2.31 on. It is at 10.32 when (u − 0.32)² = 0.75 + 1.125·u², first
// at 1.388 and then at 3.732.
func TestABoundThatDipsMeetsTwice(t *testing.T) {
	line, err := LeastSquares([]float64{-2, -1, 0}, []float64{11, 10, 9})
	if err != nil {
		t.Fatal(err)
	}
	if at, comes := line.crossing(0, 10.32, 1.5); !comes || math.Abs(at-0.388) > 0.001 {
		t.Errorf("it meets 10.32 at %v (%v), want 0.388", at, comes)
	}
	if at, comes := line.crossing(1, 10.32, 1.5); !comes || at != 1 {
		t.Errorf("below from %v (%v) on, want at once", at, comes)
	}
	if at, comes := line.crossing(4, 10.32, 1.5); comes {
		t.Errorf("after the dip it meets at %v", at)
	}
}

// TestABoundOfOneErrorByHand: 10 − u ± √(1/3 + u²/2) is at 8 where u²/2 − 4u + 11/3
// is 0: the lower one at 1.0561, the upper at 6.9439.
func TestABoundOfOneErrorByHand(t *testing.T) {
	line, err := LeastSquares([]float64{-2, -1, 0}, []float64{11, 10, 9})
	if err != nil {
		t.Fatal(err)
	}
	for errors, u := range map[float64]float64{-1: 4 - math.Sqrt(16-22.0/3), 0: 2, 1: 4 + math.Sqrt(16-22.0/3)} {
		if at, comes := line.crossing(0, 8, errors); !comes || math.Abs(at-(u-1)) > 1e-9 {
			t.Errorf("%v errors off it meets 8 at %v (%v), want %v", errors, at, comes, u-1)
		}
	}
}

// TestABoundThatOpensAsTheLineFalls never meets it: 10 − u + 2·√(1/4 + u²/4) is
// 10 − u + √(1 + u²), and above 10 for ever; so is 10 − u/10 + √(1 + u²)/4 from 1 on.
func TestABoundThatOpensAsTheLineFalls(t *testing.T) {
	for errors, slope := range map[float64]float64{2: 1, 0.5: 0.1} {
		line, err := LeastSquares([]float64{-1, -1, 1, 1}, []float64{10 + slope, 10 + slope, 10 - slope, 10 - slope})
		if err != nil {
			t.Fatal(err)
		}
		if at, comes := line.crossing(1, 9, errors); comes {
			t.Errorf("falling by %v and raised by %v errors it meets 9 at %v", slope, errors, at)
		}
	}
}

// TestALineByHand: through 0, 0 and 1 at 0, 1 and 3 goes 15/42·x − 1/7, with
// residuals of 1/7, −3/14 and 1/14. Two points have no scatter and no bound.
func TestALineByHand(t *testing.T) {
	line, err := LeastSquares([]float64{0, 1, 3}, []float64{0, 0, 1})
	if err != nil {
		t.Fatal(err)
	}
	if line.N != 3 || line.Slope != 0.357143 || line.Intercept != -0.142857 || line.Scatter != 0.267261 {
		t.Errorf("%+v", line)
	}
	// t(0.95; 1) is 6.3138, the standard error at 3 √(1/3 + 25/42) of the scatter.
	low, mid, high := line.Bound(3, 0.95)
	if reach := 6.3138 * 0.267261 * math.Sqrt(1.0/3+25.0/42); math.Abs(mid-0.928571) > 1e-6 || math.Abs(mid-low-reach) > 1e-4 || math.Abs(high-mid-reach) > 1e-4 {
		t.Errorf("at 3: %v, %v, %v, want ∓ %v", low, mid, high, reach)
	}
	two, err := LeastSquares([]float64{0, 2}, []float64{1, 4})
	if err != nil {
		t.Fatal(err)
	}
	if low, mid, high = two.Bound(3, 0.95); two.Scatter != 0 || low != 5.5 || mid != 5.5 || high != 5.5 {
		t.Errorf("two points scatter by %v, at 3 %v, %v, %v", two.Scatter, low, mid, high)
	}
}

// TestAnEvenLineMeetsNothing: the roots of a line that does not fall.
func TestAnEvenLineMeetsNothing(t *testing.T) {
	flat, err := LeastSquares([]float64{0, 1, 2}, []float64{5, 5, 5})
	if err != nil {
		t.Fatal(err)
	}
	if at, comes := flat.crossing(2, 4, 0); comes {
		t.Errorf("5 meets 4 at %v", at)
	}
	if at, comes := flat.crossing(2, 5, 0); !comes || at != 2 {
		t.Errorf("5 meets 5 at %v (%v), want at once", at, comes)
	}
	for _, c := range []struct {
		a, b, c float64
		want    []float64
	}{
		{1, -3, 2, []float64{1, 2}}, {1, 3, 2, []float64{-2, -1}}, {0, 2, -8, []float64{4}}, {0, 0, 3, nil},
		{1, 0, 1, nil}, {2, 0, 0, []float64{0}}, {1, 0, -4, []float64{-2, 2}},
	} {
		got := rootsOf(c.a, c.b, c.c)
		slices.Sort(got)
		if !slices.Equal(got, c.want) {
			t.Errorf("%v u² + %v u + %v is 0 at %v, want %v", c.a, c.b, c.c, got, c.want)
		}
	}
}

// TestDrawnCoursesFollowTheirLines: of one line they say what its bound says, and
// of several the chance is nearly the product of those of each.
func TestDrawnCoursesFollowTheirLines(t *testing.T) {
	x := []float64{-16, -12, -8, -4, 0}
	one, err := LeastSquares(x, []float64{5.1, 4.7, 4.6, 4.2, 4.1})
	if err != nil {
		t.Fatal(err)
	}
	two, err := LeastSquares(x, []float64{4.9, 4.8, 4.4, 4.5, 4.2})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range []scatter{{share: 0.02, freedom: 6}, {share: NoiseFloor}} {
		lines := []Line{one, two}
		single, drawn := oneLine{one, s}, newWeakest(lines[:1], s)
		both, first, second := newWeakest(lines, s), oneLine{one, s}, oneLine{two, s}
		for _, weeks := range []float64{0, 8, 20} {
			exact, got := single.at(weeks), drawn.at(weeks)
			if math.Abs(exact.low-got.low) > 0.05*(exact.mid-exact.low) || exact.mid != got.mid || math.Abs(exact.high-got.high) > 1e-9 {
				t.Errorf("%+v, week %v: drawn %+v, by the bound %+v", s, weeks, got, exact)
			}
			a, _ := first.chance(3.5, weeks)
			b, _ := second.chance(3.5, weeks)
			// Where it was measured the scatter is drawn once for both.
			if got, _ := both.chance(3.5, weeks); math.Abs(got-a*b) > 0.03 {
				t.Errorf("%+v, week %v: both are above 3.5 in %v of the courses, the product is %v", s, weeks, got, a*b)
			}
			least := both.at(weeks)
			if u := second.at(weeks); least.mid != min(exact.mid, u.mid) || least.high <= min(exact.high, u.high) || least.low > min(exact.low, u.low)+1e-12 {
				t.Errorf("%+v, week %v: of both %+v, of each %+v and %+v", s, weeks, least, exact, u)
			}
		}
		exact, got := single.reaches(3), drawn.reaches(3)
		if math.Abs(exact.low-got.low) > 0.4 || exact.mid != got.mid || math.Abs(exact.high-got.high) > 1e-9 && !math.IsInf(exact.high, 1) {
			t.Errorf("%+v: drawn %+v, by the bound %+v", s, got, exact)
		}
	}
}

// TestTheLowestTwentieth of the courses, by courses whose force is their number.
func TestTheLowestTwentieth(t *testing.T) {
	w := weakestOf{}
	for _, i := range rand.New(rand.NewPCG(1, 1)).Perm(Draws) {
		w.courses = append(w.courses, []straight{{force: float64(i)}})
	}
	if got := w.lowest(func(c []straight) float64 { return c[0].force }); got != Draws/20 {
		t.Errorf("all but a twentieth of 0 to %d lie above %v, want %d", Draws-1, got, Draws/20)
	}
}
