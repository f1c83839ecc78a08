package trend

import (
	"math"

	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// Proportion is a count of a total with its interval.
type Proportion struct {
	Count, Of int
	// Percent is 100 · count/total, 1 decimal; Low and High bound it with 95 %
	// confidence, in percent, 2 decimals, where Bounded.
	Percent, Low, High float64
	Bounded            bool
	provenance.Provenance
}

// Wilson returns a proportion with its score interval:
//
//	(p + z²/2n ± z·√(p(1−p)/n + z²/4n²)) / (1 + z²/n), z = 1.959964
//
// in percent. Count is 0 to the total, the total at least 1. Ten of ten are
// 72.25 to 100 %, not 100 %. Wilson 1927; Newcombe, Stat Med 1998;17:857–872.
// Published.
func Wilson(count, of int) (Proportion, error) {
	if of < 1 || of > 1e6 {
		return Proportion{}, provenance.NewRefusal(message.New("trend.no-total", message.Word("field", "total")))
	}
	if count < 0 || count > of {
		return Proportion{}, provenance.NewRefusal(message.New("trend.count-outside", message.Word("field", "count")))
	}
	return score(count, of), nil
}

// score is Wilson of a count that was checked.
func score(count, of int) Proportion {
	n := float64(of)
	p, z2 := float64(count)/n, normal975*normal975
	middle := (p + z2/(2*n)) / (1 + z2/n)
	half := normal975 * math.Sqrt(p*(1-p)/n+z2/(4*n*n)) / (1 + z2/n)
	return Proportion{
		Count: count, Of: of, Bounded: true, Percent: provenance.Round(100*p, 1),
		Low: provenance.Round(100*max(0, middle-half), 2), High: provenance.Round(100*min(1, middle+half), 2),
		Provenance: provenance.Of("formula.score-interval", "source.score-interval", provenance.Published),
	}
}
