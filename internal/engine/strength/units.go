package strength

// Exact sizes of the force units. A gram-force is the weight of a gram at
// standard gravity, 9.80665 m/s²; the pound is 453.59237 g and has 16 ounces.
const (
	newtonPerGF = 0.00980665
	gfPerLBF    = 453.59237
	gfPerOZF    = gfPerLBF / 16
)

// Error is a number that cannot be a measurement, as a sentence.
type Error string

func (e Error) Error() string { return string(e) }

// Errors of numbers that cannot be a measurement.
const (
	ErrNotANumber = Error("the value is not a number: expected a number such as 12.5")
	ErrNegative   = Error("the value is below 0: a reading is 0 when it was tried and nothing came, never less")
	ErrUnit       = Error("the force has no unit that is known: expected gf, N, ozf or lbf")
	ErrNoRepeats  = Error("there are no repeats yet: expected at least one reading")
)

// ToGF converts a force in gf, N, ozf or lbf to gram-force. It returns ErrUnit
// for another or a missing unit, ErrNotANumber for NaN and the infinities, and
// ErrNegative below zero.
func ToGF(value float64, unit string) (float64, error) {
	if err := check(value); err != nil {
		return 0, err
	}
	switch unit {
	case "gf":
		return value, nil
	case "N":
		return value / newtonPerGF, nil
	case "ozf":
		return value * gfPerOZF, nil
	case "lbf":
		return value * gfPerLBF, nil
	}
	return 0, ErrUnit
}

// FromGF converts gram-force to gf, N, ozf or lbf, with the errors of ToGF.
func FromGF(gf float64, unit string) (float64, error) {
	if err := check(gf); err != nil {
		return 0, err
	}
	switch unit {
	case "gf":
		return gf, nil
	case "N":
		return gf * newtonPerGF, nil
	case "ozf":
		return gf / gfPerOZF, nil
	case "lbf":
		return gf / gfPerLBF, nil
	}
	return 0, ErrUnit
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
