package trend

import (
	"math"

	"doorsill/internal/engine/provenance"
)

// Targets of the second-rater mode.
const (
	PairsForKappa = 30   // below it no weighted agreement is shown
	SameTarget    = 75.0 // %
	WithinTarget  = 95.0 // %
	KappaTarget   = 0.61
	ForceApart    = 0.20 // of the mean of both raters
)

// Pair is one item rated by both.
type Pair struct {
	Item string
	// A and B are levels from 0.
	A, B int
	// StopA and StopB say whether the answer raises a stop.
	StopA, StopB bool
}

// Agreement is how far two raters agree on some items.
type Agreement struct {
	N int
	// Same and WithinOne count pairs at the same level and at most one apart.
	Same, WithinOne Proportion
	// Plain, Linear and Quadratic are the coefficients; KappaErr says why there
	// are none.
	Plain, Linear, Quadratic Coefficient
	KappaErr                 error
	// Enough is true from PairsForKappa pairs on; below it the coefficients
	// are kept but not to be shown.
	Enough bool
	// SameMet, WithinMet and KappaMet compare with the targets; KappaMet has a
	// meaning when Enough and without KappaErr.
	SameMet, WithinMet, KappaMet bool
	// Discuss lists items where one rater raised a stop and the other did not:
	// to be talked about at once, the safer answer stands meanwhile.
	Discuss []string
	Say     string
}

// Agree returns how far two raters agree on items with a number of levels (2
// to 20). It refuses an empty list and levels outside the range. Wilson and
// Kappa say formulas and sources; the targets (75 % same, 95 % within one,
// weighted 0.61) and the 30 pairs are a proposal.
func Agree(pairs []Pair, levels int) (Agreement, error) {
	table, err := tableOf(pairs, levels)
	if err != nil {
		return Agreement{}, err
	}
	a := Agreement{N: len(pairs), Enough: len(pairs) >= PairsForKappa}
	same, near := 0, 0
	for _, p := range pairs {
		if p.A == p.B {
			same++
		}
		if d := p.A - p.B; d >= -1 && d <= 1 {
			near++
		}
		if p.StopA != p.StopB {
			a.Discuss = append(a.Discuss, p.Item)
		}
	}
	if a.Same, err = Wilson(same, len(pairs)); err != nil {
		return Agreement{}, err
	}
	if a.WithinOne, err = Wilson(near, len(pairs)); err != nil {
		return Agreement{}, err
	}
	a.coefficients(table)
	a.SameMet, a.WithinMet = a.Same.Percent >= SameTarget, a.WithinOne.Percent >= WithinTarget
	a.KappaMet = a.Enough && a.KappaErr == nil && a.Linear.Kappa >= KappaTarget
	a.Say = a.sentence()
	return a, nil
}

func tableOf(pairs []Pair, levels int) ([][]int, error) {
	if len(pairs) == 0 {
		return nil, provenance.Refuse("pairs", "at least one item rated by both", "")
	}
	if levels < 2 || levels > 20 {
		return nil, provenance.Refuse("levels", "2 to 20", "")
	}
	table := make([][]int, levels)
	for i := range table {
		table[i] = make([]int, levels)
	}
	for i, p := range pairs {
		if p.A < 0 || p.A >= levels || p.B < 0 || p.B >= levels {
			return nil, provenance.Refuse("pair "+provenance.Whole(i+1), "levels from 0 to "+provenance.Whole(levels-1), "The other pairs can still be compared.")
		}
		table[p.A][p.B]++
	}
	return table, nil
}

func (a *Agreement) coefficients(table [][]int) {
	for _, c := range []struct {
		weights Weights
		into    *Coefficient
	}{{Plain, &a.Plain}, {Linear, &a.Linear}, {Quadratic, &a.Quadratic}} {
		*c.into, a.KappaErr = Kappa(table, c.weights)
		if a.KappaErr != nil {
			return
		}
	}
}

func (a Agreement) sentence() string {
	text := "Same answer in " + provenance.Text(a.Same.Percent, 0) + " % (" + provenance.Text(a.Same.Low, 0) + " to " + provenance.Text(a.Same.High, 0) +
		"), within one level in " + provenance.Text(a.WithinOne.Percent, 0) + " % of " + provenance.Whole(a.N) + " pairs."
	switch {
	case a.KappaErr != nil:
		text += " There is no coefficient: " + a.KappaErr.Error()
	case !a.Enough:
		text += " A weighted coefficient is shown from " + provenance.Whole(PairsForKappa) + " pairs on."
	default:
		text += " Weighted kappa (linear) " + provenance.Text(a.Linear.Kappa, 2) + ": " + a.Linear.Word + "."
	}
	if len(a.Discuss) > 0 {
		text += " A stop was raised by one rater only in " + provenance.Whole(len(a.Discuss)) + " items: talk about them now; the safer answer stands meanwhile."
	}
	return text
}

// Apart compares the forces of two raters.
type Apart struct {
	MeanA, MeanB float64 // unit of the readings, 4 decimals
	// Percent is the difference of the means in percent of their mean, 1
	// decimal.
	Percent float64
	// Check is true above 20 %: look at gauge, posture and support.
	Check bool
	Say   string
	provenance.Provenance
}

// ForcesApart compares repeated forces of two raters, in one unit:
//
//	apart = |mean A − mean B| / ((mean A + mean B)/2)
//
// in percent. It refuses empty lists and forces that are not above 0. The mark
// of 20 % is a proposal.
func ForcesApart(a, b []float64) (Apart, error) {
	meanA, err := meanOf("first rater", a)
	if err != nil {
		return Apart{}, err
	}
	meanB, err := meanOf("second rater", b)
	if err != nil {
		return Apart{}, err
	}
	apart := math.Abs(meanA-meanB) / ((meanA + meanB) / 2)
	r := Apart{MeanA: provenance.Round(meanA, 4), MeanB: provenance.Round(meanB, 4), Percent: provenance.Round(100*apart, 1),
		Provenance: provenance.Provenance{Formula: "|mean A − mean B|/((mean A + mean B)/2); above 20 % check gauge, posture, support",
			Source: "own proposal", Status: provenance.Proposal}}
	r.Check = r.Percent > 100*ForceApart
	r.Say = "The raters' forces are " + provenance.Text(r.Percent, 0) + " % apart"
	if r.Check {
		r.Say += ": check gauge, posture and support."
	} else {
		r.Say += "."
	}
	return r, nil
}

func meanOf(name string, values []float64) (float64, error) {
	if len(values) == 0 {
		return 0, provenance.Refuse(name, "at least one force, better three", "The other rater's mean can still be shown.")
	}
	sum := 0.0
	for i, v := range values {
		if err := provenance.Above(name+", force "+provenance.Whole(i+1), v, 1e6, "", "The other forces can still be shown."); err != nil {
			return 0, err
		}
		sum += v
	}
	return sum / float64(len(values)), nil
}
