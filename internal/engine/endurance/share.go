package endurance

import (
	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// ShareOf returns the share of strength that a force asks:
//
//	share = needed / usable
//
// Both forces are above 0 and in the same unit; the share has none and is not
// rounded, since limits are held against it. Above 1 the force is more than the person has. It
// refuses zero, negative and missing forces. By definition; no source needed.
func ShareOf(needed, usable float64) (float64, error) {
	err := provenance.First(
		provenance.AboveZero("force-needed", needed, mostForce, "", message.New("endurance.still-strength")),
		provenance.AboveZero("usable-force", usable, mostForce, "", message.New("endurance.still-force-needed")),
	)
	if err != nil {
		return 0, err
	}
	return needed / usable, nil
}

// ShareProvenance says what ShareOf rests on.
func ShareProvenance() provenance.Provenance {
	return provenance.Of("formula.share", "source.share", provenance.Published)
}
