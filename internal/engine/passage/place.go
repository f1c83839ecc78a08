package passage

import (
	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// Verdicts on a place, the best first.
const (
	PlaceFits    = "fits"
	PlaceTight   = "tight"
	PlaceNoFit   = "does-not-fit"
	PlaceUnknown = "unknown"
)

// Place is a passage of a home. What nobody measured is 0; which measures
// count depends on the kind.
type Place struct {
	// Kind is one of Kinds.
	Kind string
	// WidthMM is the clear width of a door or ramp, or the shorter side of a
	// room; CorridorMM and Corridor2MM are corridors driven in and out.
	WidthMM, CorridorMM, Corridor2MM float64
	// RiseMM, RunMM and LandingMM, the shorter of its landings, are a ramp's;
	// HeightMM is a threshold's.
	RiseMM, RunMM, LandingMM, HeightMM float64
	// LimitKG is the rating of what carries the chair.
	LimitKG float64
}

// Kinds of place.
const (
	KindDoor       = "door"
	KindOff        = "door-off-corridor"
	KindCorner     = "corner"
	KindTurn       = "turn-on-spot"
	KindHalf       = "half-turn"
	KindThreePoint = "three-point"
	KindCorridor   = "corridor"
	KindRamp       = "ramp"
	KindThreshold  = "threshold"
	KindLoad       = "load"
)

// Ride is the chair with its driver as a rectangle, and what it weighs.
type Ride struct {
	// LengthMM and WidthMM are at the foremost, rearmost and widest points.
	LengthMM, WidthMM float64
	Drive             Drive
	// AheadMM is from the drive axle to the foremost point, 0 when not known.
	AheadMM float64
	// ClearanceMM is wanted on each side.
	ClearanceMM float64
	// SlopeDegrees is the chair's own limit; ChairKG and PersonKG are masses.
	// Each is 0 when not known.
	SlopeDegrees, ChairKG, PersonKG float64
}

func (r *Ride) chair() (*Chair, error) {
	m := Measures{LengthMM: r.LengthMM, WidthMM: r.WidthMM, Drive: r.Drive, AxleBackMM: orNot(r.AheadMM)}
	c, _, err := m.rectangle()
	return c, err
}

// orNot marks what is 0 as not measured.
func orNot(x float64) float64 {
	if x == 0 {
		return provenance.NotMeasured()
	}
	return x
}

// Draw returns the full judgement of a place with its plan, by the searches
// that take too long for each tap. A ramp, a threshold and a load have no plan.
func (r *Ride) Draw(p *Place) (*Result, error) {
	c, err := r.chair()
	if err != nil {
		return nil, err
	}
	fits := Fits{ClearanceMM: r.ClearanceMM, Turn: Left}
	switch p.Kind {
	case KindDoor:
		return c.StraightDoor(Door{ClearMM: p.WidthMM, ClearanceMM: r.ClearanceMM})
	case KindCorridor:
		const piece = 1000
		return c.StraightDoor(Door{ClearMM: p.CorridorMM, ThickMM: piece, ClearanceMM: r.ClearanceMM})
	case KindOff:
		return c.Doorway(Doorway{ClearMM: p.WidthMM, CorridorMM: p.CorridorMM, Fits: fits})
	case KindCorner:
		return c.Corner(Corner{InMM: p.CorridorMM, OutMM: p.Corridor2MM, Fits: fits})
	case KindTurn:
		return c.FullTurn(Room{WidthMM: p.WidthMM, DepthMM: p.WidthMM, ClearanceMM: r.ClearanceMM})
	case KindHalf, KindThreePoint:
		result, _, err := c.HalfTurn(Corridor{WidthMM: p.CorridorMM, ClearanceMM: r.ClearanceMM})
		return result, err
	}
	return nil, provenance.NewRefusal(message.New("passage.refused-plan",
		message.Word("field", "plan"), message.Inner("still", message.New("passage.still-no-drawing"))))
}
