package passage

import (
	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
	"doorsill/internal/model"
)

// Verdicts on a place, the best first.
const (
	PlaceFits    = "fits"
	PlaceTight   = "tight"
	PlaceNoFit   = "does-not-fit"
	PlaceUnknown = "unknown"
)

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

// chairOf is the chair with its driver.
func chairOf(c *model.ChairMeasured) (*Chair, error) {
	return NewChair(Measures{LengthMM: c.LengthMM, WidthMM: c.WidthMM, Drive: Drive(c.Drive), AxleBackMM: orNot(c.AheadMM)})
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
func Draw(chair *model.ChairMeasured, p *model.PlaceMeasured) (*Result, error) {
	c, err := chairOf(chair)
	if err != nil {
		return nil, err
	}
	fits := Fits{ClearanceMM: chair.ClearanceMM}
	switch p.Kind {
	case KindDoor:
		return c.StraightDoor(Door{ClearMM: p.WidthMM, ClearanceMM: chair.ClearanceMM})
	case KindCorridor:
		const piece = 1000
		result, err := c.StraightDoor(Door{ClearMM: p.CorridorMM, ThickMM: piece, ClearanceMM: chair.ClearanceMM})
		if err == nil {
			result.Plan.Spans[0].Of = ofCorridor
		}
		return result, err
	case KindOff:
		return c.Doorway(Doorway{ClearMM: p.WidthMM, CorridorMM: p.CorridorMM, Fits: fits})
	case KindCorner:
		return c.Corner(Corner{InMM: p.CorridorMM, OutMM: p.Corridor2MM, Fits: fits})
	case KindTurn:
		return c.FullTurn(Room{WidthMM: p.WidthMM, DepthMM: p.WidthMM, ClearanceMM: chair.ClearanceMM})
	case KindHalf, KindThreePoint:
		result, _, err := c.HalfTurn(Corridor{WidthMM: p.CorridorMM, ClearanceMM: chair.ClearanceMM})
		return result, err
	}
	return nil, provenance.NewRefusal(message.New("passage.refused-plan",
		message.Word("field", "plan"), message.Inner("still", message.New("passage.still-no-drawing"))))
}
