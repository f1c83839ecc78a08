package model

import (
	"doorsill/internal/validation"
)

// ChairMeasured is the chair's outline with control and hands, in millimetres.
type ChairMeasured struct {
	LengthMM float64 `json:"length_mm" check:"400..2000" unit:"mm"`
	WidthMM  float64 `json:"width_mm" check:"400..900" unit:"mm"`
	// Drive is the place of the drive wheels: "front", "mid" or "rear".
	Drive string `json:"drive" check:"oneof=Drives"`
	// AheadMM is from the drive axle to the foremost point;
	// what is behind is the rest of the length.
	AheadMM float64 `json:"ahead_mm" check:"0..LengthMM" unit:"mm, within the length"`
	// ClearanceMM is wanted on each side.
	ClearanceMM float64 `json:"clearance_mm" check:"0..200" unit:"mm"`
	// SlopeDeg is the chair's own slope limit, 0 when not known.
	SlopeDeg float64 `json:"slope_deg,omitempty" check:"3..20,zero" unit:"degrees"`
	// StepMM is the highest step that the chair's manual allows, 0 when not known.
	StepMM float64 `json:"step_mm,omitempty" check:"5..300,zero" unit:"mm"`
	// ChairKG and PersonKG are masses, 0 when not known.
	ChairKG  float64 `json:"chair_kg,omitempty" check:"0..500" unit:"kg"`
	PersonKG float64 `json:"person_kg,omitempty" check:"3..350,zero" unit:"kg"`
}

// Chair is the chair's outline with its stamp.
type Chair struct {
	Stamp
	ChairMeasured
}

// PlaceMeasured adds a passage of the home, or replaces the one with the same
// Place id. Which figures it needs depends on Kind; those not measured are 0.
type PlaceMeasured struct {
	// Place is an id made by the tablet.
	Place string `json:"place" check:"id"`
	// Kind is one of PlaceKinds, Name the household's own.
	Kind string `json:"kind" check:"oneof=PlaceKinds"`
	Name string `json:"name" check:"required,max=LongestName" want:"the household's name for it"`
	// WidthMM is the clear width of the door, the ramp or the room's shorter
	// side; CorridorMM and Corridor2MM are corridors driven in and out.
	WidthMM     float64 `json:"width_mm,omitempty" check:"400..10000,zero" unit:"mm"`
	CorridorMM  float64 `json:"corridor_mm,omitempty" check:"600..3000,zero" unit:"mm"`
	Corridor2MM float64 `json:"corridor2_mm,omitempty" check:"600..3000,zero" unit:"mm"`
	// RiseMM, RunMM and LandingMM describe a ramp; HeightMM a threshold.
	RiseMM    float64 `json:"rise_mm,omitempty" check:"0..3000" unit:"mm"`
	RunMM     float64 `json:"run_mm,omitempty" check:"0..60000" unit:"mm"`
	LandingMM float64 `json:"landing_mm,omitempty" check:"0..5000" unit:"mm"`
	HeightMM  float64 `json:"height_mm,omitempty" check:"0..300" unit:"mm"`
	// LimitKG is the rating of a lift, floor or hoist.
	LimitKG float64 `json:"limit_kg,omitempty" check:"0..1000" unit:"kg"`
	// NotNeeded says that the person can live without this passage; one that is
	// needed and does not let the chair through limits the level.
	NotNeeded bool `json:"not_needed,omitempty"`
	// LeadsTo is what is reached through it, in the household's words.
	LeadsTo string `json:"leads_to,omitempty" check:"max=LongestName"`
	// Gone takes the passage out again.
	Gone bool `json:"gone,omitempty"`
}

// Place is a passage of the home with its stamp.
type Place struct {
	Stamp
	PlaceMeasured
}

// Check asks only for the id of a passage that is taken out.
func (p *PlaceMeasured) Check() *validation.Error {
	if err := validation.ID("place", p.Place); err != nil || p.Gone {
		return err
	}
	return validation.First(p.checkWidth(), p.checkFields(), p.checkSlope())
}

// checkWidth: a door is at most 2 m wide; a room may be wider.
func (p *PlaceMeasured) checkWidth() *validation.Error {
	switch p.Kind {
	case "turn-on-spot", "half-turn", "three-point", "ramp":
		return nil
	}
	return zeroOrBetween("width_mm", p.WidthMM, 400, 2_000, "mm")
}

// checkSlope refuses a ramp outside 1 in 2 to 1 in 50: rise or run is then a
// slip of the unit.
func (p *PlaceMeasured) checkSlope() *validation.Error {
	const steep, flat = 2, 50
	if p.RiseMM == 0 || p.RunMM == 0 {
		return nil
	}
	if ratio := p.RunMM / p.RiseMM; ratio >= steep && ratio <= flat {
		return nil
	}
	return &validation.Error{Code: validation.CodeOutOfRange, Path: "run_mm",
		Want: validation.Number(steep*p.RiseMM) + " to " + validation.Number(flat*p.RiseMM) + " mm for this rise, 1 in 2 to 1 in 50", Got: validation.Number(p.RunMM)}
}
