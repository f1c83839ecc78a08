package provenance

import (
	"doorsill/internal/decimal"
	"doorsill/internal/fields"
	"math"
)

// Refusal is the error for an input that no number can be computed from.
type Refusal struct {
	// Field names the input, in words.
	Field string
	// Want says what was expected, with the unit.
	Want string
	// Still says what can be said or done without it; it may be empty.
	Still string
}

// Error says the field, what was expected and what can still be said.
func (r *Refusal) Error() string {
	text := r.Field + ": expected " + r.Want
	if r.Still != "" {
		text += ". " + r.Still
	}
	return text
}

// Refuse returns a Refusal.
func Refuse(field, want, still string) error {
	return &Refusal{Field: field, Want: want, Still: still}
}

// Above checks that x is a number above 0 and at most most.
func Above(field string, x, most float64, unit, still string) error {
	if x > 0 && x <= most {
		return nil
	}
	return Refuse(field, join("a number above 0 and at most", Text(most, 3), unit), still)
}

// Within checks that x is a number from least to most, both allowed.
func Within(field string, x, least, most float64, unit, still string) error {
	if x >= least && x <= most {
		return nil
	}
	return Refuse(field, join("a number from "+Text(least, 3)+" to", Text(most, 3), unit), still)
}

// First returns the first error that is one, or nil.
func First(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

func join(words, number, unit string) string {
	if unit == "" {
		return words + " " + number
	}
	return words + " " + number + " " + unit
}

// NotMeasured stands for a value that nobody measured. It is the number that
// is no number, so that no sum can pass it on as one.
func NotMeasured() float64 { return math.NaN() }

// Measured says whether x is a number, and finite.
func Measured(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// Round rounds to the given decimals, a half away from zero, and never gives
// a negative zero. Results of Pow, Log and Exp differ in their last digits
// between processors; once rounded they are the same.
func Round(x float64, decimals int) float64 {
	scale := 1.0
	for range decimals {
		scale *= 10
	}
	return math.Round(float64(x*scale))/scale + 0
}

// Text writes x with at most the given decimals, six at the most, and without
// trailing zeros. Beyond a million million, and for what is no number, it says
// so.
func Text(x float64, decimals int) string {
	m, ok := decimal.Of(Round(x, decimals))
	if !ok {
		return "no usable number"
	}
	return m.Short(decimals)
}

// Whole writes a whole number.
func Whole(n int) string {
	var room [20]byte
	return string(fields.AppendWhole(room[:0], int64(n)))
}

// Percent writes a share of 1 as a percentage with at most one decimal.
func Percent(share float64) string { return Text(100*share, 1) + " %" }
