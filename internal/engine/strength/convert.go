package strength

import "doorsill/internal/decimal"

// Convert writes a force of one unit in another, rounded to what a gauge of
// that unit shows, so that a force that was typed comes back as it was typed.
// It has the errors of ToGF, and ErrNotANumber for a force beyond a million
// million.
func Convert(value float64, from, to string) (decimal.Micro, error) {
	gf, err := ToGF(value, from)
	if err != nil {
		return 0, err
	}
	other, err := FromGF(gf, to)
	if err != nil {
		return 0, err
	}
	m, ok := decimal.Of(other)
	if !ok {
		return 0, ErrNotANumber
	}
	return m.Near(storedPlaces(to)), nil
}

// storedPlaces is how many decimals a converted force keeps.
func storedPlaces(unit string) int {
	if unit == "lbf" {
		return 4
	}
	return 3
}

// DrawnPlaces is how many decimals a figure in a drawing has: as few as tell it from
// its neighbours.
func DrawnPlaces(unit string, value float64) int {
	const single = 10
	switch places := shownPlaces(unit); {
	case unit != "gf" && unit != "mm":
		return places
	case value < single:
		return 1
	}
	return 0
}

// shownPlaces is how many decimals a mean of a unit is shown with.
func shownPlaces(unit string) int {
	switch unit {
	case "N", "ozf":
		return 2
	case "lbf":
		return 3
	}
	return 1
}
