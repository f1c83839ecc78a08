package strength

import (
	"doorsill/internal/message"
	"doorsill/internal/model"
)

// Error says that a number cannot be a measurement. It is the code of a message
// without arguments.
type Error string

func (e Error) Error() string { return string(e) }

// Message returns what is wrong.
func (e Error) Message() message.Message { return message.New(string(e)) }

// Errors of numbers that cannot be a measurement.
const (
	ErrNotANumber = Error("strength.not-a-number")
	ErrNegative   = Error("strength.below-zero")
	ErrUnit       = Error("strength.unknown-unit")
	ErrNoRepeats  = Error("strength.no-repeats")
)

// ToGF converts a force in gf, N, ozf or lbf to gram-force. It returns ErrUnit
// for another or a missing unit, ErrNotANumber for NaN and the infinities, and
// ErrNegative below zero.
func ToGF(value float64, unit string) (float64, error) {
	if err := check(value); err != nil {
		return 0, err
	}
	gf, known := model.ToGF(value, unit)
	if !known {
		return 0, ErrUnit
	}
	return gf, nil
}

// FromGF converts gram-force to gf, N, ozf or lbf, with the errors of ToGF.
func FromGF(gf float64, unit string) (float64, error) {
	if err := check(gf); err != nil {
		return 0, err
	}
	value, known := model.FromGF(gf, unit)
	if !known {
		return 0, ErrUnit
	}
	return value, nil
}

// check refuses what no gauge can show.
func check(value float64) error {
	if value-value != 0 { // NaN, or one of the infinities
		return ErrNotANumber
	}
	if value < 0 {
		return ErrNegative
	}
	return nil
}
