package passage

import (
	"math"

	"doorsill/internal/engine/provenance"
)

const gravity = 9.80665 // m/s², exact by definition

// Braking is what a stop depends on.
type Braking struct {
	// SpeedKMH is above 0, at most 20.
	SpeedKMH float64
	// ReactionS is from the word "stop" to the release, measured for this
	// person and control, 0 to 10 s.
	ReactionS float64
	// Deceleration of the chair on the level, above 0, at most 10 m/s².
	Deceleration float64
	// DownDegrees is the slope driven down, 0 to 30; 0 on the level.
	DownDegrees float64
}

// Stop is how far the chair still goes.
type Stop struct {
	// ReactionM is driven before the release, BrakingM after it, TotalM both;
	// metres, 4 decimals.
	ReactionM, BrakingM, TotalM float64
	Say                         string
	Assumes                     []string
	provenance.Provenance
}

// Stopping returns the distance to standstill:
//
//	s = v·t + v²/(2·(a − g·sin θ))
//
// in metres, 4 decimals, with v in m/s, t the reaction, a the deceleration on
// the level and θ the slope driven down. It refuses missing values, and a
// slope on which the brakes do not stop the chair. Physics.
func Stopping(b Braking) (*Stop, error) {
	const still = "Time and pace out a real stop instead."
	err := provenance.First(
		provenance.Above("speed", b.SpeedKMH, 20, "km/h", still),
		provenance.Within("reaction", b.ReactionS, 0, 10, "s", still),
		provenance.Above("deceleration", b.Deceleration, 10, "m/s²", still),
		provenance.Within("slope driven down", b.DownDegrees, 0, 30, "degrees", still),
	)
	if err != nil {
		return nil, err
	}
	left := b.Deceleration - gravity*math.Sin(radians(b.DownDegrees))
	if left <= 0 {
		return nil, provenance.Refuse("deceleration", "more than the pull of this slope, "+provenance.Text(b.Deceleration-left, 2)+" m/s²",
			"With less the chair does not stop here: do not drive this slope.")
	}
	v := b.SpeedKMH / 3.6
	reaction, braking := v*b.ReactionS, v*v/(2*left)
	s := &Stop{
		ReactionM: provenance.Round(reaction, 4), BrakingM: provenance.Round(braking, 4), TotalM: provenance.Round(reaction+braking, 4),
		Assumes:    []string{"Even braking on a dry floor, no wheel slips, nobody slides in the seat."},
		Provenance: provenance.Provenance{Formula: "s = v·t + v²/(2·(a − g·sin θ))", Source: "mechanics of even braking; g = 9.80665 m/s²", Status: provenance.Derived},
	}
	s.Say = "Stops after " + provenance.Text(s.TotalM, 1) + " m, of which " + provenance.Text(s.ReactionM, 1) + " m before the release."
	return s, nil
}
