package provenance

import (
	"math"

	"doorsill/internal/message"
)

// Refusal is the error for an input that no number can be computed from. Its
// message says which input, what was expected and what can still be said or done
// without it; the argument "field" is the input's id, an entry "field." of the
// catalogue.
type Refusal struct{ message.Message }

// Error returns the code of the message and its arguments.
func (r *Refusal) Error() string { return r.Message.String() }

// NewRefusal returns a Refusal with a message.
//
//go:noinline
func NewRefusal(m message.Message) error { return &Refusal{Message: m} }

// AboveZero checks that x is a number above 0 and at most most. Field is the
// id of the input and unit an id too, or empty; still says what can be said or
// done without the number, and may be empty.
func AboveZero(field string, x, most float64, unit string, still message.Message) error {
	if x > 0 && x <= most {
		return nil
	}
	codes := [...]string{"refusal.above-zero", "refusal.above-zero-unit", "refusal.above-zero-still", "refusal.above-zero-unit-still"}
	return outside(codes, unit, still, message.Word("field", field), message.Number("most", Round(most, 3)))
}

// Between checks that x is a number from least to most, both allowed; the rest
// is as for AboveZero.
func Between(field string, x, least, most float64, unit string, still message.Message) error {
	if x >= least && x <= most {
		return nil
	}
	codes := [...]string{"refusal.between", "refusal.between-unit", "refusal.between-still", "refusal.between-unit-still"}
	return outside(codes, unit, still, message.Word("field", field), message.Number("least", Round(least, 3)), message.Number("most", Round(most, 3)))
}

// outside returns the refusal of a number. Codes are the one without unit and
// still, the one with a unit, the one with still, and the one with both.
func outside(codes [4]string, unit string, still message.Message, args ...message.Arg) error {
	code := 0
	if unit != "" {
		code++
		args = append(args, message.Word("unit", unit))
	}
	if !still.Empty() {
		code += 2
		args = append(args, message.Inner("still", still))
	}
	return NewRefusal(message.New(codes[code], args...))
}

// InPart says of a refusal in which of several like parts the input stands, such
// as the second "task"; n counts from 1. Part is an entry "part." of the
// catalogue. Other errors, and none, are returned as they are.
func InPart(part string, n int, err error) error {
	r, ok := err.(*Refusal)
	if !ok {
		return err
	}
	return NewRefusal(message.New("refusal.in-part", message.Word("part", part), message.Count("n", n), message.Inner("why", r.Message)))
}

// MessageOf returns the message of a refusal; of another error one whose code is
// the error's text.
func MessageOf(err error) message.Message {
	if r, ok := err.(*Refusal); ok {
		return r.Message
	}
	return message.New(err.Error())
}

// Sentence states a refusal by itself.
func Sentence(err error) message.Message {
	return message.New("refusal.alone", message.Inner("why", MessageOf(err)))
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

// NotMeasured stands for a value that nobody measured. It is the number that
// is no number, so that no sum can pass it on as one.
func NotMeasured() float64 { return math.NaN() }

// Measured says whether x is a number, and finite.
func Measured(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// Round rounds to the given decimals, a half away from zero, and never gives
// a negative zero. Results of Pow, Log and Exp differ in their last digits
// between processors; once rounded they are the same.
//
//go:noinline
func Round(x float64, decimals int) float64 {
	scale := 1.0
	for range decimals {
		scale *= 10
	}
	return math.Round(float64(x*scale))/scale + 0
}
