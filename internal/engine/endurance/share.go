package endurance

import (
	"doorsill/internal/engine/basis"
)

// ShareOf returns the share of strength that a force asks:
//
//	share = needed / usable
//
// Both forces are above 0 and in the same unit; the share has none and is
// rounded to 4 decimals. Above 1 the force is more than the person has. It
// refuses zero, negative and missing forces. By definition; no source needed.
func ShareOf(needed, usable float64) (float64, error) {
	err := basis.First(
		basis.Above("force that the control needs", needed, mostForce, "",
			"The person's own strength can still be shown."),
		basis.Above("usable force", usable, mostForce, "",
			"Measure this direction three times; what the control needs can still be shown."),
	)
	if err != nil {
		return 0, err
	}
	return basis.Round(needed/usable, 4), nil
}

// ShareBasis says what ShareOf rests on.
func ShareBasis() basis.Basis {
	return basis.Basis{
		Formula: "share = force to full command / usable force in that direction",
		Source:  "definition of relative force (percent of maximum), as used by every endurance study",
		Status:  basis.Published,
	}
}
