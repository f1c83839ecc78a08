package passage

import (
	"math"

	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
	"doorsill/internal/model"
)

// Braking is what a stop depends on.
type Braking struct {
	// SpeedKMH is above 0, at most 20.
	SpeedKMH float64
	// ReactionS is from the word "stop" to the release, measured for this
	// person and control, 0 to 10 s.
	ReactionS float64
	// Deceleration of the chair on the level, above 0, at most 10 m/s²;
	// provenance.NotMeasured() leaves the way of the brakes out.
	Deceleration float64
	// DownDegrees is the slope driven down, 0 to 30; 0 on the level.
	DownDegrees float64
}

// Stop is how far the chair still goes.
type Stop struct {
	// ReactionM is driven before the release, BrakingM after it, TotalM both;
	// metres, 4 decimals. Without a deceleration there is ReactionM alone.
	ReactionM, BrakingM, TotalM float64
	Say                         message.Message
	Assumes                     []message.Message
	provenance.Provenance
}

// Stopping returns the distance to standstill:
//
//	s = v·t + v²/(2·(a − g·sin θ))
//
// in metres, 4 decimals, with v in m/s, t the reaction, a the deceleration on
// the level and θ the slope driven down. It refuses other missing values, and a
// slope on which the brakes do not stop the chair. Physics.
func Stopping(b Braking) (*Stop, error) {
	still := message.New("passage.still-real-stop")
	err := provenance.First(
		provenance.AboveZero("speed", b.SpeedKMH, 20, "km/h", still),
		provenance.Between("reaction", b.ReactionS, 0, 10, "s", still),
		optional(b.Deceleration, provenance.AboveZero("deceleration", b.Deceleration, 10, "m/s²", still)),
		provenance.Between("slope-down", b.DownDegrees, 0, 30, "degrees", still),
	)
	if err != nil {
		return nil, err
	}
	v := b.SpeedKMH / 3.6
	reaction := v * b.ReactionS
	if math.IsNaN(b.Deceleration) {
		s := &Stop{ReactionM: provenance.Round(reaction, 4), Provenance: provenance.Of("formula.way-before-release", "source.even-braking", provenance.Derived)}
		s.Say = message.New("passage.way-before-release", message.Number("reaction", s.ReactionM), message.Number("speed", b.SpeedKMH), message.Number("seconds", b.ReactionS))
		return s, nil
	}
	left := b.Deceleration - model.StandardGravity*math.Sin(radians(b.DownDegrees))
	if left <= 0 {
		return nil, provenance.NewRefusal(message.New("passage.refused-deceleration", message.Word("field", "deceleration"),
			message.Number("pull", provenance.Round(b.Deceleration-left, 2)), message.Inner("still", message.New("passage.still-no-stop"))))
	}
	braking := v * v / (2 * left)
	s := &Stop{
		ReactionM: provenance.Round(reaction, 4), BrakingM: provenance.Round(braking, 4), TotalM: provenance.Round(reaction+braking, 4),
		Assumes:    []message.Message{message.New("passage.assumes-even-braking")},
		Provenance: provenance.Of("formula.stopping", "source.even-braking", provenance.Derived),
	}
	s.Say = message.New("passage.stops-after", message.Number("total", s.TotalM), message.Number("reaction", s.ReactionM))
	return s, nil
}
