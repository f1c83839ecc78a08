package trend

import (
	"math"

	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// Line is a straight line through points that a few bad ones do not move.
type Line struct {
	// N is the number of points, Pairs of pairs with different x.
	N, Pairs int
	// Slope and Intercept in the units of the points, 6 decimals.
	Slope, Intercept float64
	// Low and High bound the slope with 95 % confidence by Sen's rule; they
	// have a meaning when Bounded, from 4 points on.
	Low, High float64
	Bounded   bool
	provenance.Provenance

	exact, exactIntercept, exactLow, exactHigh float64
}

// TheilSen returns the line
//
//	slope = median of (yj − yi)/(xj − xi) over pairs with different x
//	intercept = median(y) − slope · median(x)
//
// and from 4 points on an interval for the slope: of the N sorted pair slopes
// the two whose ranks lie z·σ/2 from the middle, σ² = n(n−1)(2n+5)/18 less
// what ties take off. It refuses fewer than two points, lists of different
// length, values that are no numbers, and points that all have the same x.
//
// Theil 1950; Sen, J Am Stat Assoc 1968;63:1379–1389. Published.
func TheilSen(x, y []float64) (Line, error) {
	if err := checkPoints(x, y); err != nil {
		return Line{}, err
	}
	slopes := pairSlopes(x, y)
	if len(slopes) == 0 {
		return Line{}, provenance.NewRefusal(message.New("trend.one-day", message.Word("field", "visit-days")))
	}
	slope := median(slopes)
	l := Line{N: len(x), Pairs: len(slopes), exact: slope, exactIntercept: median(y) - slope*median(x), Provenance: slopeProvenance()}
	l.Slope, l.Intercept = provenance.Round(slope, 6), provenance.Round(l.exactIntercept, 6)
	if len(x) >= 4 {
		l.Bounded = true
		low, high := senRanks(x, y, len(slopes))
		l.exactLow, l.exactHigh = slopes[low], slopes[high]
		l.Low, l.High = provenance.Round(slopes[low], 6), provenance.Round(slopes[high], 6)
	}
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

// pairSlopes are the slopes of all pairs, the smallest first.
func pairSlopes(x, y []float64) []float64 {
	var out []float64
	for i := range x {
		for j := i + 1; j < len(x); j++ {
			if x[j] != x[i] {
				out = append(out, (y[j]-y[i])/(x[j]-x[i]))
			}
		}
	}
	return ascending(out)
}

// ascending is a copy in order. The few values of a client's visits need no
// quicker sort.
func ascending(values []float64) []float64 {
	sorted := append([]float64{}, values...)
	for i := range sorted {
		for j := i; j > 0 && sorted[j] < sorted[j-1]; j-- {
			sorted[j], sorted[j-1] = sorted[j-1], sorted[j]
		}
	}
	return sorted
}

func median(values []float64) float64 {
	sorted := ascending(values)
	n := len(sorted)
	if n%2 == 1 {
		return sorted[n/2]
	}
	return (sorted[n/2-1] + sorted[n/2]) / 2
}

// senRanks are the places of the bounds among the sorted pair slopes.
func senRanks(x, y []float64, pairs int) (low, high int) {
	n := float64(len(x))
	variance := (n*(n-1)*(2*n+5) - tied(x) - tied(y)) / 18
	reach := normal975 * math.Sqrt(max(0, variance))
	low = max(0, int(math.Round((float64(pairs)-reach)/2))-1)
	high = min(pairs-1, int(math.Round((float64(pairs)+reach)/2)))
	return low, high
}

// tied is what equal values take off the variance.
func tied(values []float64) float64 {
	sorted := ascending(values)
	sum := 0.0
	for i := 0; i < len(sorted); {
		j := i
		for j < len(sorted) && sorted[j] == sorted[i] {
			j++
		}
		k := float64(j - i)
		sum += k * (k - 1) * (2*k + 5)
		i = j
	}
	return sum
}

func slopeProvenance() provenance.Provenance {
	return provenance.Of("formula.slope", "source.slope", provenance.Published)
}
