package trend

import (
	"math"

	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
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
	// Trial is the id of the trial that both saw; pairs without one are each of a
	// trial of their own.
	Trial string
	// A and B are levels from 0.
	A, B int
	// StopA and StopB say whether the answer raises a stop.
	StopA, StopB bool
}

// Agreement is how far two raters agree on some items.
type Agreement struct {
	// N is the number of pairs, Trials of the trials that they come from.
	N, Trials int
	// Clustered is true where a trial gave several pairs: these are not
	// independent, and intervals then come from whole trials.
	Clustered bool
	// Same and WithinOne count pairs at the same level and at most one apart.
	Same, WithinOne Proportion
	// Plain, Linear and Quadratic are the coefficients; KappaErr says why there
	// are none.
	Plain, Linear, Quadratic Coefficient
	KappaErr                 error
	// Enough is true from PairsForKappa pairs on; below it the coefficients
	// are kept but not to be shown.
	Enough bool
	// SameMet, WithinMet and KappaMet compare with the targets; KappaMet is false
	// unless Enough, and with KappaErr.
	SameMet, WithinMet, KappaMet bool
	// Discuss lists items where one rater raised a stop and the other did not:
	// to be talked about at once, the safer answer stands meanwhile.
	Discuss []string
	Say     message.Message
}

// Agree returns how far two raters agree on items with a number of levels (2
// to 20). Where a trial gave several pairs the intervals come from drawing whole
// trials, and there are none below LeastTrials. It refuses an empty list and levels outside the range. Wilson and
// Kappa say formulas and sources; the targets (75 % same, 95 % within one,
// weighted 0.61) and the 30 pairs are a proposal.
func Agree(pairs []Pair, levels int) (Agreement, error) {
	table, err := tableOf(pairs, levels)
	if err != nil {
		return Agreement{}, err
	}
	a := Agreement{N: len(pairs), Enough: len(pairs) >= PairsForKappa}
	same, within := 0, 0
	for _, p := range pairs {
		if p.A == p.B {
			same++
		}
		if near(p) {
			within++
		}
		if p.StopA != p.StopB {
			a.Discuss = append(a.Discuss, p.Item)
		}
	}
	a.Same, a.WithinOne = score(same, len(pairs)), score(within, len(pairs))
	a.coefficients(table)
	trials := trialsOf(pairs, levels)
	if a.Trials = len(trials); a.Trials < len(pairs) {
		a.overTrials(trials)
	}
	a.SameMet, a.WithinMet = a.Same.Percent >= SameTarget, a.WithinOne.Percent >= WithinTarget
	a.KappaMet = a.Enough && a.Linear.Kappa >= KappaTarget
	a.Say = a.sentence()
	return a, nil
}

func tableOf(pairs []Pair, levels int) ([][]int, error) {
	if len(pairs) == 0 {
		return nil, provenance.NewRefusal(message.New("trend.no-pairs", message.Word("field", "pairs")))
	}
	if levels < 2 || levels > 20 {
		return nil, provenance.NewRefusal(message.New("trend.levels-outside", message.Word("field", "levels")))
	}
	table := emptyTable(levels)
	for i, p := range pairs {
		if p.A < 0 || p.A >= levels || p.B < 0 || p.B >= levels {
			return nil, provenance.NewRefusal(message.New("trend.pair-outside", message.Word("field", "pair"), message.Count("n", i+1), message.Count("most", levels-1)))
		}
		table[p.A][p.B]++
	}
	return table, nil
}

// coefficients fills in all three. What has one has each, as only raters who
// always gave one level have none.
func (a *Agreement) coefficients(table [][]int) {
	for _, c := range []struct {
		weights Weights
		into    *Coefficient
	}{{Plain, &a.Plain}, {Linear, &a.Linear}, {Quadratic, &a.Quadratic}} {
		*c.into, a.KappaErr = Kappa(table, c.weights)
	}
}

func (a Agreement) sentence() message.Message {
	more := []message.Message{a.coefficientSentence()}
	if len(a.Discuss) > 0 {
		more = append(more, message.New("trend.discuss", message.Count("items", len(a.Discuss))))
	}
	whole := func(name string, percent float64) message.Arg {
		return message.Number(name, provenance.Round(percent, 0))
	}
	args := []message.Arg{message.Count("pairs", a.N), whole("same", a.Same.Percent), whole("within", a.WithinOne.Percent), message.List("more", more)}
	if a.Clustered {
		args = append(args, message.Count("trials", a.Trials))
	}
	if !a.Same.Bounded {
		return message.New("trend.agreement-few-trials", args...)
	}
	args = append(args, whole("low", a.Same.Low), whole("high", a.Same.High))
	if a.Clustered {
		return message.New("trend.agreement-trials", args...)
	}
	return message.New("trend.agreement", args...)
}

func (a Agreement) coefficientSentence() message.Message {
	switch {
	case a.KappaErr != nil:
		return message.New("trend.no-coefficient", message.Inner("why", provenance.MessageOf(a.KappaErr)))
	case !a.Enough:
		return message.New("trend.coefficient-from", message.Count("pairs", PairsForKappa))
	}
	return message.New("trend.coefficient", message.Number("kappa", provenance.Round(a.Linear.Kappa, 2)), message.Inner("word", a.Linear.Word))
}

// Apart compares the forces of two raters.
type Apart struct {
	MeanA, MeanB float64 // unit of the readings, 4 decimals
	// Percent is the difference of the means in percent of their mean, 1
	// decimal.
	Percent float64
	// Check is true above 20 %: look at gauge, posture and support.
	Check bool
	Say   message.Message
	provenance.Provenance
}

// ForcesApart compares repeated forces of two raters, in one unit:
//
//	apart = |mean A − mean B| / ((mean A + mean B)/2)
//
// in percent. It refuses empty lists and forces that are not above 0. The mark
// of 20 % is a proposal.
func ForcesApart(a, b []float64) (Apart, error) {
	meanA, err := meanOf("first-rater", a)
	if err != nil {
		return Apart{}, err
	}
	meanB, err := meanOf("second-rater", b)
	if err != nil {
		return Apart{}, err
	}
	apart := math.Abs(meanA-meanB) / ((meanA + meanB) / 2)
	r := Apart{MeanA: provenance.Round(meanA, 4), MeanB: provenance.Round(meanB, 4), Percent: provenance.Round(100*apart, 1),
		Provenance: provenance.Of("formula.forces-apart", "source.own", provenance.Proposal)}
	r.Check = r.Percent > 100*ForceApart
	percent := message.Number("percent", provenance.Round(r.Percent, 0))
	r.Say = message.New("trend.forces-apart", percent)
	if r.Check {
		r.Say = message.New("trend.forces-far-apart", percent)
	}
	return r, nil
}

// meanOf returns the mean of the forces of one rater, whose id is field.
func meanOf(field string, values []float64) (float64, error) {
	if len(values) == 0 {
		return 0, provenance.NewRefusal(message.New("trend.no-force-of-rater", message.Word("field", field)))
	}
	sum := 0.0
	for i, v := range values {
		if !(v > 0 && v <= MostForce) {
			return 0, provenance.NewRefusal(message.New("trend.force-outside", message.Word("field", field), message.Count("n", i+1), message.Number("most", MostForce)))
		}
		sum += v
	}
	return sum / float64(len(values)), nil
}
