package trend

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// closeTo says whether two numbers are the same but for the last digits.
func closeTo(a, b float64) bool {
	return a == b || math.Abs(a-b) <= 1e-9*(1+math.Abs(a)+math.Abs(b))
}

// lineThrough is a line of five visits that scatter.
func lineThrough(t *testing.T, y ...float64) Line {
	t.Helper()
	x := []float64{-16, -12, -8, -4, 0}
	l, err := LeastSquares(x, y)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// TestOneDirectionIsBoundedByItsLine: with the scatter that was measured the span
// is the published bound of the line; with an assumed one it is 1.645 of it, by
// hand, and a chance is how far the line lies above in standard errors.
func TestOneDirectionIsBoundedByItsLine(t *testing.T) {
	l := lineThrough(t, 5.1, 4.7, 4.6, 4.2, 4.1)
	own := oneLine{l, scatterOf([]Line{l})}
	if own.scatter.freedom != 3 {
		t.Fatalf("%v degrees of freedom, want 3", own.scatter.freedom)
	}
	assumed := oneLine{l, scatter{share: 0.1}}
	for _, weeks := range []float64{-20, -16, -3, 0, 7, 52} {
		low, mid, high := l.Bound(weeks, 0.95)
		if got := own.at(weeks); !closeTo(got.low, low) || !closeTo(got.mid, mid) || !closeTo(got.high, high) {
			t.Errorf("week %v: %+v, by the bound %v, %v, %v", weeks, got, low, mid, high)
		}
		// Mean week -8, mean reserve 4.54, squares 2 * (64 + 16).
		se := 0.1 * 4.54 * math.Sqrt(0.2+(weeks+8)*(weeks+8)/160)
		off := 1.6448536269514722 * se
		if got := assumed.at(weeks); !closeTo(got.low, mid-off) || got.mid != mid || !closeTo(got.high, mid+off) {
			t.Errorf("week %v: %+v, want %v ∓ %v", weeks, got, mid, off)
		}
		if got, known := assumed.chance(3, weeks); !known || !closeTo(got, math.Erfc(-(mid-3)/se/math.Sqrt2)/2) {
			t.Errorf("week %v: the chance to be above 3 is %v, %v", weeks, got, known)
		}
	}
	if half, _ := own.chance(own.line.at(9), 9); !closeTo(half, 0.5) {
		t.Errorf("the chance to be above the line is %v", half)
	}
}

// TestExactPointsAreAboveOrNot: without scatter nothing is uncertain, and just as
// much as the force is not above it.
func TestExactPointsAreAboveOrNot(t *testing.T) {
	o := oneLine{line: lineThrough(t, 140, 132, 124, 116, 108), scatter: scatter{freedom: 3}}
	for force, want := range map[float64]float64{107.9: 1, 108: 0, 108.1: 0} {
		if got, known := o.chance(force, 0); got != want || !known {
			t.Errorf("the chance to be above %v is %v, %v; want %v", force, got, known, want)
		}
	}
}

// TestWhatASpanReaches goes back by it: at the week that a bound reaches a force,
// that bound is the force.
func TestWhatASpanReaches(t *testing.T) {
	l := lineThrough(t, 5.1, 4.7, 4.6, 4.2, 4.1)
	for _, o := range []outlook{&oneLine{l, scatterOf([]Line{l})}, &oneLine{l, scatter{share: 0.02}}, judgedLoss{4.1, 0.06}} {
		for _, force := range []float64{2, 3, 3.3} {
			when := o.reaches(force)
			for _, bound := range []struct {
				at   float64
				says float64
			}{{when.low, o.at(when.low).low}, {when.mid, o.at(when.mid).mid}, {when.high, o.at(when.high).high}} {
				if math.IsInf(bound.at, 1) || bound.at <= 0 || math.Abs(bound.says-force) > 1e-9 {
					t.Errorf("%T: at week %v it is %v, want %v", o, bound.at, bound.says, force)
				}
			}
			if when.low >= when.mid || when.mid >= when.high {
				t.Errorf("%T: %+v is not in order", o, when)
			}
		}
		if got := o.reaches(5); got.low != 0 || got.mid != 0 {
			t.Errorf("%T: 5 is reached at %+v, want at once", o, got)
		}
		if got := o.reaches(-100); !math.IsInf(got.mid, 1) || !math.IsInf(got.high, 1) {
			t.Errorf("%T: -100 is reached at %+v, want never", o, got)
		}
	}
	if got := within(FarthestWeeks); got != FarthestWeeks {
		t.Errorf("%v weeks are %v", FarthestWeeks, got)
	}
}

// TestAJudgedLossByHand: 100 gf that lose 4 a week, half as much and half as much
// again, from a force that is 16.45 % unsure: after 5 weeks 83.55 - 30, 80 and
// 116.45 - 10.
func TestAJudgedLossByHand(t *testing.T) {
	j := judgedLoss{force: 100, loss: 4}
	if got := j.at(5); math.Abs(got.low-53.551) > 0.001 || got.mid != 80 || math.Abs(got.high-106.449) > 0.001 {
		t.Errorf("%+v", got)
	}
	if p, known := j.chance(50, 5); p != 0 || known {
		t.Errorf("a judged loss says a chance of %v (%v)", p, known)
	}
}

// TestReachByFreedom: the bound of a share is Student's t of it, as printed tables
// have it for 95 %: 2.920 with 2 degrees of freedom, 2.353 with 3, 1.697 with 30;
// and 1.645 where the scatter is known.
func TestReachByFreedom(t *testing.T) {
	for freedom, want := range map[float64]float64{2: 2.920, 3: 2.353, 30: 1.697, 0: 1.645} {
		s := scatter{share: 0.5, freedom: freedom}
		if got := s.reach(0.95); math.Abs(got-0.5*want) > 0.00026 {
			t.Errorf("with %v degrees of freedom a bound lies %v off, want half of %v", freedom, got, want)
		}
	}
}

// TestScatterOfSeveralLines is the root of the mean square, by degrees of freedom:
// shares of 0.03 with 3 and 0.06 with 1 are √((3 · 9 + 36)/4) = 0.0397.
func TestScatterOfSeveralLines(t *testing.T) {
	lines := []Line{{N: 5, meanY: 100, scatter: 3}, {N: 5, meanY: 50, scatter: 1.5}}
	if s := scatterOf(lines); !closeTo(s.share, 0.03) || s.freedom != 6 {
		t.Errorf("%+v, want 0.03 with 6", s)
	}
	lines = []Line{{N: 6, meanY: 100, scatter: 20}, {N: 3, meanY: 50, scatter: 20}}
	if s := scatterOf(lines); !closeTo(s.share, math.Sqrt((4*0.04+0.16)/5)) || s.freedom != 5 {
		t.Errorf("%+v, want 0.253 with 5", s)
	}
	// The same with half of it is nearer than 10 % known for sure, and one line of
	// few visits is enough for that to count.
	for i := range lines {
		lines[i].scatter /= 8
	}
	for range lines {
		if s := scatterOf(lines); s != (scatter{share: NoiseFloor}) {
			t.Errorf("%+v, want the assumed scatter", s)
		}
		slices.Reverse(lines)
	}
}

// TestAnAssumedScatterCountsUpToFourVisits: 2 degrees of freedom reach 2.920
// times as far, so that 5.63 % of four visits are as far as 10 % that are known.
func TestAnAssumedScatterCountsUpToFourVisits(t *testing.T) {
	for _, c := range []struct {
		visits  int
		share   float64
		assumed bool
	}{{4, 5.6, true}, {4, 5.7, false}, {5, 0.1, false}, {3, 2.6, true}, {3, 2.7, false}} {
		s := scatterOf([]Line{{N: c.visits, meanY: 100, scatter: c.share}})
		if (s.freedom == 0) != c.assumed {
			t.Errorf("%d visits that scatter by %v %%: %+v", c.visits, c.share, s)
		}
	}
}

// drawnOf are the values of all courses in order.
func drawnOf(w *weakestOf, value func([]straight) float64) []float64 {
	var all []float64
	for _, c := range w.courses {
		all = append(all, value(c))
	}
	slices.Sort(all)
	return all
}

// moments are the mean and the standard deviation.
func moments(values []float64) (mean, deviation float64) {
	for _, v := range values {
		mean += v / float64(len(values))
	}
	for _, v := range values {
		deviation += (v - mean) * (v - mean) / float64(len(values)-1)
	}
	return mean, math.Sqrt(deviation)
}

// TestCoursesAreDrawnAroundTheirLines: at any week as many standard errors to each
// side as the line has there, with the slope's own, and each direction by itself.
func TestCoursesAreDrawnAroundTheirLines(t *testing.T) {
	lines := []Line{lineThrough(t, 510, 470, 460, 420, 410), lineThrough(t, 49, 44, 47, 45, 42)}
	w := newWeakest(lines, scatter{share: 0.1})
	for j := range lines {
		l := &lines[j]
		for _, weeks := range []float64{-16, -8, 0, 30} {
			mean, deviation := moments(drawnOf(w, func(c []straight) float64 { return c[j].force + c[j].slope*weeks }))
			want := 0.1 * l.meanY * l.unsure(weeks)
			if math.Abs(mean-l.at(weeks)) > 0.05*want || math.Abs(deviation/want-1) > 0.03 {
				t.Errorf("line %d, week %v: drawn %v ∓ %v, want %v ∓ %v", j, weeks, mean, deviation, l.at(weeks), want)
			}
		}
		mean, deviation := moments(drawnOf(w, func(c []straight) float64 { return c[j].slope }))
		if want := 0.1 * l.meanY / math.Sqrt(160); math.Abs(mean-l.slope) > 0.05*want || math.Abs(deviation/want-1) > 0.03 {
			t.Errorf("line %d: slopes %v ∓ %v, want %v ∓ %v", j, mean, deviation, l.slope, want)
		}
	}
	_, sum := moments(drawnOf(w, func(c []straight) float64 { return c[0].slope/lines[0].meanY + c[1].slope/lines[1].meanY }))
	if want := 0.1 / math.Sqrt(80); math.Abs(sum/want-1) > 0.03 {
		t.Errorf("the slopes together scatter by %v, want %v: one is drawn without the other", sum, want)
	}
}

// TestAMeasuredScatterIsDrawnToo: by the root of the degrees of freedom over a chi
// square, whose share of them has the mean 1 and the variance 2 over them.
func TestAMeasuredScatterIsDrawnToo(t *testing.T) {
	for _, freedom := range []float64{1, 2, 6} {
		s, random := scatter{share: 0.1, freedom: freedom}, rand.New(rand.NewPCG(1, 2))
		var squares []float64
		for range 20000 {
			d := s.drawn(random)
			squares = append(squares, 1/(d*d))
		}
		mean, deviation := moments(squares)
		if want := math.Sqrt(2 / freedom); math.Abs(mean-1) > 0.03 || math.Abs(deviation/want-1) > 0.05 {
			t.Errorf("%v degrees of freedom: %v ∓ %v, want 1 ∓ %v", freedom, mean, deviation, want)
		}
	}
	if got := (scatter{share: 0.1}).drawn(rand.New(rand.NewPCG(1, 2))); got != 1 {
		t.Errorf("an assumed scatter is drawn as %v", got)
	}
}

// TestTheWeakestAgainstAllCourses compares what is found in one pass with the
// courses put in order: the lower end lies above a twentieth of them, and never
// above the lines' own; the upper end is that of the lines, each as sure as it
// takes for all together.
func TestTheWeakestAgainstAllCourses(t *testing.T) {
	lines := []Line{lineThrough(t, 5.1, 4.7, 4.6, 4.2, 4.1), lineThrough(t, 4.9, 4.8, 4.4, 4.5, 4.2), lineThrough(t, 6, 5, 5.5, 4.8, 4.4)}
	s := scatterOf(lines)
	w := newWeakest(lines, s)
	if len(w.courses) != 8000 || s.freedom != 9 {
		t.Fatalf("%d courses, scatter %+v", len(w.courses), s)
	}
	surer := s.share * tQuantile(1-0.05/3, 9) // 0.9833 for each holds 0.95 for three
	for _, weeks := range []float64{-8, 0, 10, 40} {
		want := span{drawnOf(w, func(c []straight) float64 {
			return min(c[0].force+c[0].slope*weeks, c[1].force+c[1].slope*weeks, c[2].force+c[2].slope*weeks)
		})[400], math.Inf(1), math.Inf(1)}
		for i := range lines {
			l := &lines[i]
			off := s.reach(0.95) * l.meanY * l.unsure(weeks)
			want.low, want.mid = min(want.low, l.at(weeks)-off), min(want.mid, l.at(weeks))
			want.high = min(want.high, l.at(weeks)+surer*l.meanY*l.unsure(weeks))
		}
		if got := w.at(weeks); !closeTo(got.low, want.low) || !closeTo(got.mid, want.mid) || !closeTo(got.high, want.high) {
			t.Errorf("week %v: %+v, want %+v", weeks, got, want)
		}
		above := 0
		for _, c := range w.courses {
			if c[0].force+c[0].slope*weeks > 3.5 && c[1].force+c[1].slope*weeks > 3.5 && c[2].force+c[2].slope*weeks > 3.5 {
				above++
			}
		}
		if got, known := w.chance(3.5, weeks); got != float64(above)/8000 || !known {
			t.Errorf("week %v: the chance to be above 3.5 is %v, want %d of 8000", weeks, got, above)
		}
	}
	for _, force := range []float64{3.9, 3, 1} {
		when := func(s straight) float64 {
			switch at := (s.force - force) / -s.slope; {
			case s.force <= force:
				return 0
			case s.slope >= 0 || at > 260:
				return math.Inf(1)
			default:
				return at
			}
		}
		want := drawnOf(w, func(c []straight) float64 { return min(when(c[0]), when(c[1]), when(c[2])) })[400]
		mid := math.Inf(1)
		for i := range lines {
			one := (&oneLine{lines[i], s}).reaches(force)
			want, mid = min(want, one.low), min(mid, one.mid)
		}
		if got := w.reaches(force); !closeTo(got.low, want) || got.mid != mid || got.high < got.mid {
			t.Errorf("%v: %+v, want from %v, the middle %v", force, got, want, mid)
		}
	}
}

// TestWhenACourseIsNoLongerAbove: the first of its lines that falls to a force
// counts, one that rises never does, and one that is there is there at once.
func TestWhenACourseIsNoLongerAbove(t *testing.T) {
	never := math.Inf(1)
	for _, c := range []struct {
		course []straight
		want   float64
	}{
		{[]straight{{10, -1}, {10, -2}, {10, -0.5}}, 4}, {[]straight{{10, 1}}, never}, {[]straight{{10, 0}}, never}, {[]straight{{2, 5}}, 0},
		{[]straight{{10, -1}, {1, 5}}, 0}, {[]straight{{262, -1}}, 260}, {[]straight{{262.5, -1}}, never}, {[]straight{{2.5, 1}, {9, -1}}, 7},
	} {
		if got := firstBelow(c.course, 2); got != c.want {
			t.Errorf("%v falls to 2 at %v, want %v", c.course, got, c.want)
		}
	}
}

// TestPercentiles of 2,000 draws: fifty lie below the lower, fifty above the upper.
func TestPercentiles(t *testing.T) {
	var drawn []float64
	for _, i := range rand.New(rand.NewPCG(1, 1)).Perm(2000) {
		drawn = append(drawn, float64(i)/7)
	}
	for decimals, want := range map[int][2]float64{2: {7.14, 278.43}, 4: {7.1429, 278.4286}} {
		if low, high := percentiles(drawn, decimals); low != want[0] || high != want[1] {
			t.Errorf("%v and %v, want %v", low, high, want)
		}
	}
}

// TestTimesAtTheirBounds in words: from the week that begins, not from a part of
// it, and to the end of the one that has begun.
func TestTimesAtTheirBounds(t *testing.T) {
	for _, c := range []struct {
		early, late float64 // below 0: not known
		want        string
	}{
		{-1, -1, "reserve-not-in-sight reserve=2"}, {0.9, -1, "reserve-perhaps-now reserve=2"}, {1, -1, "reserve-perhaps reserve=2 early=1"}, {3.9, -1, "reserve-perhaps reserve=2 early=3"},
		{0, 1, "reserve-within-a-week reserve=2"}, {0.9, 1.1, "reserve-from-now reserve=2 late=2"}, {1, 1.1, "reserve-about reserve=2 weeks=1"}, {1, 2, "reserve-between reserve=2 early=1 late=2"},
		{1.5, 2.4, "reserve-about reserve=2 weeks=2"}, {1.4, 1.6, "reserve-between reserve=2 early=1 late=2"}, {1.9, 6.1, "reserve-between reserve=2 early=1 late=7"},
	} {
		u := Until{Reserve: 2, Early: max(0, c.early), Late: max(0, c.late), EarlyKnown: c.early >= 0, LateKnown: c.late >= 0}
		if m := u.sentence(); m.String() != "trend."+c.want {
			t.Errorf("%v to %v: %s, want %s", c.early, c.late, m.String(), c.want)
		}
	}
}

// TestFewDegreesOfFreedomReachLower than a scatter that is known.
func TestFewDegreesOfFreedomReachLower(t *testing.T) {
	lines := []Line{lineThrough(t, 5.1, 4.7, 4.6, 4.2, 4.1)}
	at := func(freedom float64) float64 {
		return newWeakest(lines, scatter{0.1, freedom}).lowest(func(c []straight) float64 { return c[0].force })
	}
	if few, known := at(2), at(0); few >= known-0.1 {
		t.Errorf("with 2 degrees of freedom %v, known %v", few, known)
	}
}
