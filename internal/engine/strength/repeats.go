package strength

import (
	"math"
	"strconv"

	"doorsill/internal/engine/decimal"
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

// Enough reports whether there are as many repeats as the mean should rest on.
func (r *Repeats) Enough() bool { return r.N >= RepeatsWanted }

// Say tells in one sentence what the repeats show, in the unit given, and what
// cannot be said when there are too few of them.
func (r *Repeats) Say(unit string) string { return r.say(unit, 1) }

func (r *Repeats) say(unit string, decimals int) string {
	mean := number(r.Mean, decimals) + " " + unit
	if r.N == 0 {
		return "Not measured yet."
	}
	if r.Max == 0 {
		return "Tried " + times(r.N) + " and nothing came: 0 " + unit + "."
	}
	if r.N == 1 {
		return "One reading only, " + mean + ": it stands as it is, but how steady it is cannot be said; two more are wanted."
	}
	between := "the true mean probably lies between " + number(max(r.Low, 0), decimals) + " and " + number(r.High, decimals) + " " + unit
	if r.N < RepeatsWanted {
		return "Mean of two, " + mean + ", " + number(r.Spread, 0) + " % apart; two readings say little (" + between + "), one more is wanted."
	}
	return "Mean of " + strconv.Itoa(r.N) + ", " + mean + ", spread " + number(r.Spread, 0) + " %; " + between + "."
}

// number writes x with at most that many decimals.
func number(x float64, decimals int) string {
	m, ok := decimal.Of(x)
	if !ok {
		return "a number that is too large"
	}
	return m.Short(decimals)
}

// atLeast writes x with one decimal, rounded down: what a person can give never
// looks like more than it is.
func atLeast(x float64) string { return micro(x).Down(1).Short(1) }

// times counts: "once", "twice", "3 times".
func times(n int) string {
	switch n {
	case 1:
		return "once"
	case 2:
		return "twice"
	}
	return strconv.Itoa(n) + " times"
}
