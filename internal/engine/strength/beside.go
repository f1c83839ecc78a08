package strength

import "doorsill/internal/message"

// digit is what a digit too many or too few makes of a number.
const digit = 10

// Beside judges a value by the person's other readings in the same unit: others of
// the same series; without any, those in other directions, from which only a digit
// too many can be told. It asks about a value that is more than twice or less than
// half of the middle one, and suggests the one with a digit less or more where that
// lies near the others. Kinds of which the largest counts are not asked about.
func Beside(what What, value float64, unit string, others, directions []float64) Judgement {
	switch what {
	case Force, Travel, SwitchForce, PowerForce, ModeForce, StopForce, Breath:
	default:
		return Judgement{Answer: PlausibleOK}
	}
	code, near := "strength.beside-others", others
	if len(others) == 0 {
		code, near = "strength.beside-directions", directions
	}
	if len(near) == 0 {
		return Judgement{Answer: PlausibleOK}
	}
	middle := median(append([]float64(nil), near...))
	less, more := !isOdd(value/digit, middle), !isOdd(value*digit, middle)
	if !isOdd(value, middle) || len(others) == 0 && !less {
		return Judgement{Answer: PlausibleOK}
	}
	j := ask(message.New(code, message.Number("value", value), message.Word("unit", unit), message.Number("middle", middle)))
	switch {
	case less:
		j.Suggested, j.Unit = micro(value/digit).Near(storedPlaces(unit)), unit
	case more:
		j.Suggested, j.Unit = micro(value*digit).Near(storedPlaces(unit)), unit
	}
	return j
}
