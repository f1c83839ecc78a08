package trend

import (
	"math"

	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// Line is the straight line with the least squares through points.
type Line struct {
	// N is the number of points.
	N int
	// Slope and Intercept in the units of the points, 6 decimals.
	Slope, Intercept float64
	// Scatter is the standard deviation of the points around the line, with N − 2
	// degrees of freedom, 6 decimals. Two points have none.
	Scatter float64
	provenance.Provenance

	// The same unrounded, around the middle of the points.
	meanX, meanY, squares float64 // squares: sum of the squared distances in x
	slope, scatter        float64
}

// LeastSquares returns the line
//
//	slope = Σ(x − mean x)(y − mean y) / Σ(x − mean x)²
//	intercept = mean y − slope · mean x
//
// It refuses fewer than two points, lists of different length, values that are
// no numbers, and points that all have the same x. Published.
func LeastSquares(x, y []float64) (Line, error) {
	if err := checkPoints(x, y); err != nil {
		return Line{}, err
	}
	l := Line{N: len(x), Provenance: slopeProvenance()}
	n := float64(l.N)
	for i := range x {
		l.meanX += x[i] / n
		l.meanY += y[i] / n
	}
	products := 0.0
	for i := range x {
		dx := x[i] - l.meanX
		l.squares += float64(dx * dx)
		products += float64(dx * (y[i] - l.meanY))
	}
	if l.squares == 0 {
		return Line{}, provenance.NewRefusal(message.New("trend.one-day", message.Word("field", "visit-days")))
	}
	l.slope = products / l.squares
	if l.N > 2 {
		rest := 0.0
		for i := range x {
			d := y[i] - l.at(x[i])
			rest += float64(d * d)
		}
		l.scatter = math.Sqrt(rest / (n - 2))
	}
	l.Slope, l.Intercept, l.Scatter = provenance.Round(l.slope, 6), provenance.Round(l.at(0), 6), provenance.Round(l.scatter, 6)
	return l, nil
}

func checkPoints(x, y []float64) error {
	if len(x) != len(y) || len(x) < 2 {
		return provenance.NewRefusal(message.New("trend.no-points", message.Word("field", "points")))
	}
	for i := range x {
		if !isNumber(x[i]) || !isNumber(y[i]) {
			return provenance.NewRefusal(message.New("trend.point-no-number", message.Word("field", "points")))
		}
	}
	return nil
}

// at is the line at x.
func (l *Line) at(x float64) float64 { return l.meanY + float64(l.slope*(x-l.meanX)) }

// unsure is the standard error of the line at x for a scatter of 1.
func (l *Line) unsure(x float64) float64 {
	dx := x - l.meanX
	return math.Sqrt(1/float64(l.N) + float64(dx*dx)/l.squares)
}

// Bound returns the line at x and its one-sided bounds below and above, each
// of which holds the true line with the given confidence (0.5 to 1, without
// the ends):
//
//	line(x) ± t(confidence; N − 2) · scatter · √(1/N + (x − mean x)²/Σ(x − mean x)²)
//
// That is the bound by which ICH Q1E sets a shelf life; both together hold it
// with 2·confidence − 1. It needs three points: with two, both bounds are the
// line itself. Published.
func (l *Line) Bound(x, confidence float64) (low, mid, high float64) {
	mid = l.at(x)
	if l.N < 3 {
		return mid, mid, mid
	}
	reach := float64(tQuantile(confidence, float64(l.N-2)) * l.scatter * l.unsure(x))
	return mid - reach, mid, mid + reach
}

// crossing is the first x from a start on at which the line, raised by so many
// of its standard errors for a scatter of 1 (below 0: lowered), is no longer
// above y. It is the start itself where it is not above there, and false where
// it never comes.
//
// With u = x − mean x and a height of h = mean y − y the crossing solves
//
//	(h + slope·u)² = errors²·(1/N + u²/Σ(x − mean x)²)
func (l *Line) crossing(start, y, errors float64) (float64, bool) {
	raised := func(x float64) float64 { return l.at(x) - y + float64(errors*l.unsure(x)) }
	if raised(start) <= 0 {
		return start, true
	}
	if errors == 0 {
		return l.meanX + (y-l.meanY)/l.slope, l.slope < 0
	}
	h, e2 := l.meanY-y, float64(errors*errors)
	a := float64(l.slope*l.slope) - e2/l.squares
	b := 2 * float64(l.slope*h)
	c := float64(h*h) - e2/float64(l.N)
	best, found := 0.0, false
	for _, u := range rootsOf(a, b, c) {
		// Squaring added the crossings of the other bound. Of two the nearer comes last.
		if x := l.meanX + u; x > start && (h+float64(l.slope*u))*errors <= 0 {
			best, found = x, true
		}
	}
	if !found && l.slope < 0 && (errors < 0 || a > 0) {
		// It crosses, so near to the line that their difference is lost in rounding.
		return max(start, l.meanX-h/l.slope), true
	}
	return best, found
}

// rootsOf solves a·u² + b·u + c = 0; the root that is farther from 0 comes first.
func rootsOf(a, b, c float64) []float64 {
	if a == 0 {
		if b == 0 {
			return nil
		}
		return []float64{-c / b}
	}
	inside := float64(b*b) - 4*float64(a*c)
	if inside < 0 {
		return nil
	}
	// Not the difference of two large numbers.
	q := -(b + math.Copysign(math.Sqrt(inside), b)) / 2
	if q == 0 {
		return []float64{0}
	}
	return []float64{q / a, c / q}
}

func slopeProvenance() provenance.Provenance {
	return provenance.Of("formula.line", "source.line", provenance.Published)
}
