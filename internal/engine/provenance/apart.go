package provenance

import (
	"math"

	"doorsill/internal/decimal"
)

// Apart returns with how many decimals, least to six, x is to be shown so that
// it does not read like a mark that it differs from: 12.996 beside 13 needs
// three. Differences beyond the sixth decimal do not count.
func Apart(x float64, least int, marks ...float64) int {
	shown, ok := decimal.Of(x)
	if !ok {
		return least
	}
	places := least
	for _, mark := range marks {
		other, ok := decimal.Of(mark)
		if !ok || other == shown {
			continue
		}
		for places < decimal.Places && shown.Near(places) == other.Near(places) {
			places++
		}
	}
	return places
}

// Floor rounds down to the given decimals; what is a millionth short of a step
// counts as on it, so that the last digits of a sum decide nothing.
func Floor(x float64, decimals int) float64 {
	scale := 1.0
	for range decimals {
		scale *= 10
	}
	return math.Floor(float64(x*scale)+1e-6) / scale
}

// Ceil rounds up, as Floor rounds down, and never gives a negative zero.
func Ceil(x float64, decimals int) float64 { return -Floor(-x, decimals) + 0 }
