package passage

import (
	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// ReleaseWay is how far the chair goes before the hand lets go.
type ReleaseWay struct {
	// Metres has 4 decimals.
	Metres float64
	Say    message.Message
	provenance.Provenance
}

// WayBeforeRelease returns speed · seconds, where seconds, 0 to 10, go from the
// word "stop" to the release, measured for this person and control, and the speed
// is above 0 and at most 20 km/h. Braking comes on top. It refuses other values.
// Physics.
func WayBeforeRelease(speedKMH, seconds float64) (*ReleaseWay, error) {
	still := message.New("passage.still-real-stop")
	err := provenance.First(
		provenance.AboveZero("speed", speedKMH, 20, "km/h", still),
		provenance.Between("reaction", seconds, 0, 10, "s", still),
	)
	if err != nil {
		return nil, err
	}
	w := &ReleaseWay{Metres: provenance.Round(speedKMH/3.6*seconds, 4),
		Provenance: provenance.Of("formula.way-before-release", "source.even-speed", provenance.Derived)}
	w.Say = message.New("passage.way-before-release", message.Number("reaction", w.Metres), message.Number("speed", speedKMH), message.Number("seconds", seconds))
	return w, nil
}
