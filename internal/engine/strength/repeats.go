package strength

import (
	"math"

	"doorsill/internal/message"
)

// Repeats sums up repeated readings of one thing.
type Repeats struct {
	// N is how many readings there are, at least 1.
	N int
	// Mean, Min and Max are in the readings' unit.
	Mean, Min, Max float64
	// SD is the standard deviation with n-1; it has a meaning from 2 readings.
	SD float64
	// Spread is (Max-Min)/Mean and CV is SD/Mean, in percent. They have a
	// meaning when HasSpread.
	Spread, CV float64
	// Low and High bound the mean with 95 % confidence, Lower from below
	// alone, by Student's t. They have a meaning from 2 readings, and can lie
	// below zero when the readings scatter widely.
	Low, High, Lower float64
}

// Summarise sums up readings of one thing. It returns ErrNoRepeats for none,
// ErrNotANumber and ErrNegative for values that no gauge can show.
func Summarise(values []float64) (Repeats, error) {
	if len(values) == 0 {
		return Repeats{}, ErrNoRepeats
	}
	for _, v := range values {
		if err := check(v); err != nil {
			return Repeats{}, err
		}
	}
	var r Repeats
	r.sum(values)
	return r, nil
}

// sum sums up at least one reading.
func (r *Repeats) sum(values []float64) {
	*r = Repeats{N: len(values), Min: values[0], Max: values[0]}
	total := 0.0
	for _, v := range values {
		total += v
		r.Min, r.Max = min(r.Min, v), max(r.Max, v)
	}
	r.Mean = total / float64(r.N)
	if r.N > 1 {
		r.scatter(values)
	}
}

func (r *Repeats) scatter(values []float64) {
	squares := 0.0
	for _, v := range values {
		d := v - r.Mean
		squares += float64(d * d) // rounded on its own, on every processor
	}
	r.SD = math.Sqrt(squares / float64(r.N-1))
	if r.HasSpread() {
		r.Spread = 100 * (r.Max - r.Min) / r.Mean
		r.CV = 100 * r.SD / r.Mean
	}
	error1 := r.SD / math.Sqrt(float64(r.N))
	two, one := float64(tTwoSided(r.N-1)*error1), float64(tOneSided(r.N-1)*error1)
	r.Low, r.High, r.Lower = r.Mean-two, r.Mean+two, r.Mean-one
}

// HasSpread reports whether spread and CV have a meaning: at least two
// readings, and not all of them zero.
func (r *Repeats) HasSpread() bool { return r.N > 1 && r.Mean > 0 }

// HasRange reports whether Low and High say something: the readings lie so close
// together that the true mean is above zero.
func (r *Repeats) HasRange() bool { return r.N > 1 && r.Low > 0 }

// Enough reports whether there are as many repeats as the mean should rest on.
func (r *Repeats) Enough() bool { return r.N >= RepeatsWanted }

// Say tells what the repeats show, in the unit given, and what cannot be said
// when there are too few of them.
func (r *Repeats) Say(unit string) message.Message { return r.say(unit, 1) }

// say writes amounts with at most that many decimals, 0 to 3.
func (r *Repeats) say(unit string, decimals int) message.Message {
	in, places := message.Word("unit", unit), message.Count("places", decimals)
	mean := message.Number("mean", r.Mean)
	switch {
	case r.Max == 0:
		return message.New("strength.nothing-came", message.Count("n", r.N), in)
	case r.N == 1:
		return message.New("strength.one-reading", mean, in, places)
	}
	n, spread := message.Count("n", r.N), message.Number("spread", r.Spread)
	if !r.HasRange() {
		return message.New("strength.no-range", n, mean, spread, in, places)
	}
	low, high := message.Number("low", r.Low), message.Number("high", r.High)
	if r.N < RepeatsWanted {
		return message.New("strength.two-readings", mean, spread, low, high, in, places)
	}
	return message.New("strength.repeats", n, mean, spread, low, high, in, places)
}
