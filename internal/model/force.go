package model

// Sizes of the units of force, all exact: NIST SP 811, 2008, App. B. A gram-force
// is the weight of a gram at the standard acceleration of free fall; the
// avoirdupois pound is 0.45359237 kg and has 16 ounces.
const (
	StandardGravity = 9.80665 // m/s²
	NewtonPerGF     = StandardGravity / 1000
	GFPerLBF        = 453.59237
	GFPerOZF        = GFPerLBF / 16
)

// ToGF converts a force in one of ForceUnits to gram-force. It reports false for
// another unit.
func ToGF(value float64, unit string) (gf float64, known bool) {
	switch unit {
	case "gf":
		return value, true
	case "N":
		return value / NewtonPerGF, true
	case "ozf":
		return value * GFPerOZF, true
	case "lbf":
		return value * GFPerLBF, true
	}
	return 0, false
}

// FromGF converts gram-force to one of ForceUnits, as ToGF.
func FromGF(gf float64, unit string) (value float64, known bool) {
	switch unit {
	case "gf":
		return gf, true
	case "N":
		return gf * NewtonPerGF, true
	case "ozf":
		return gf / GFPerOZF, true
	case "lbf":
		return gf / GFPerLBF, true
	}
	return 0, false
}
