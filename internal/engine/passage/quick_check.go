package passage

import (
	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
	"doorsill/internal/model"
)

// QuickCheck is the judgement of a place by closed forms alone, quick enough for
// each tap. It is never better than what Draw finds.
type QuickCheck struct {
	// Verdict is PlaceFits, PlaceTight, PlaceNoFit or PlaceUnknown.
	Verdict string
	// LeftMM is the room left at the tightest point by any motion, negative
	// where it is missing, 1 decimal. It has a meaning when HasLeft.
	LeftMM  float64
	HasLeft bool
	// Barred says that a limit of the chair's manual or of a plate is passed: the
	// way is not to be taken, also not with company.
	Barred bool
	// Say gives the numbers, or what is missing and what can still be said.
	// Assumes is what is taken for granted, and Reference a building standard's
	// figures beside it; both may be empty.
	Say, Assumes, Reference message.Message
	provenance.Provenance
}

// QuickCheckOf judges a place. What was not measured, or cannot be, gives
// PlaceUnknown and a sentence that names it.
func QuickCheckOf(chair *model.ChairMeasured, p *model.PlaceMeasured) *QuickCheck {
	if lacks := lacksOf(chair, p); len(lacks) > 0 {
		return &QuickCheck{Verdict: PlaceUnknown, Say: message.New("passage.lacks", message.Words("lacks", lacks))}
	}
	g, err := quickCheck(chair, p)
	if err != nil {
		return &QuickCheck{Verdict: PlaceUnknown, Say: Refused(err)}
	}
	return g
}

// lacksOf returns the ids of the measures without which nothing can be said of a
// place. Where the chair was never measured, only a ramp and a threshold can be
// spoken of.
func lacksOf(chair *model.ChairMeasured, p *model.PlaceMeasured) []string {
	type need struct {
		field string
		value float64
	}
	outline := []need{{"chair-length", chair.LengthMM}, {"chair-width", chair.WidthMM}}
	var needs []need
	switch p.Kind {
	case KindDoor:
		needs = append(outline, need{"door-clear", p.WidthMM})
	case KindOff:
		needs = append(outline, need{"door-clear", p.WidthMM}, need{"corridor-width", p.CorridorMM})
	case KindCorner:
		needs = append(outline, need{"corridor-in", p.CorridorMM}, need{"corridor-out", p.Corridor2MM})
	case KindTurn:
		needs = append(outline, need{"floor-width", p.WidthMM})
	case KindCorridor, KindHalf, KindThreePoint:
		needs = append(outline, need{"corridor-width", p.CorridorMM})
	case KindRamp:
		needs = []need{{"rise", p.RiseMM}, {"run", p.RunMM}}
	case KindThreshold:
		needs = []need{{"threshold-height", p.HeightMM}}
	case KindLoad:
		needs = []need{{"chair-mass", chair.ChairKG}, {"person-mass", chair.PersonKG}}
	}
	var lacks []string
	for _, n := range needs {
		if n.value == 0 {
			lacks = append(lacks, n.field)
		}
	}
	return lacks
}

func quickCheck(chair *model.ChairMeasured, p *model.PlaceMeasured) (*QuickCheck, error) {
	switch p.Kind {
	case KindRamp:
		return checkRamp(chair, p)
	case KindThreshold:
		return checkThreshold(chair, p)
	case KindLoad:
		return checkLoad(chair, p)
	}
	c, err := chairOf(chair)
	if err != nil {
		return nil, err
	}
	s := spin{clearanceMM: chair.ClearanceMM, chair: c, rect: c.rect()}
	switch p.Kind {
	case KindDoor:
		return s.straight("door-clear", p.WidthMM, "door-clear")
	case KindCorridor:
		return s.straight("corridor-width", p.CorridorMM, "route-width")
	case KindOff:
		return s.doorway(p)
	case KindCorner:
		return s.corner(p)
	case KindTurn:
		return s.turn(p)
	}
	return s.about(p)
}

// rect is the chair as a rectangle about its axle.
func (c *Chair) rect() rect {
	b := boxOf(c.outline)
	return rect{b.maxX, -b.minX, b.maxY - b.minY}
}

// Refused states a refusal of this package by itself. One that says what can
// still be said ends as a sentence does.
func Refused(err error) message.Message {
	why := provenance.MessageOf(err)
	if why.Arg("still") == nil {
		return message.New("passage.refused", message.Inner("why", why))
	}
	return provenance.Sentence(err)
}

// newQuickCheck turns a judgement into a quick check.
func newQuickCheck(verdict string, say message.Message, assumes []message.Message, compared ...Compared) *QuickCheck {
	g := &QuickCheck{Verdict: PlaceNoFit, Say: say, Assumes: message.New("passage.assumes", message.List("all", assumes))}
	switch verdict {
	case Feasible:
		g.Verdict = PlaceFits
	case Marginal:
		g.Verdict = PlaceTight
	case Unknown:
		g.Verdict = PlaceUnknown
	}
	var refers []message.Message
	for _, row := range compared {
		if row.Measured {
			refers = append(refers, row.Say)
		}
	}
	if len(refers) > 0 {
		g.Reference = message.New("passage.references", message.List("all", refers))
	}
	return g
}

func checkRamp(chair *model.ChairMeasured, p *model.PlaceMeasured) (*QuickCheck, error) {
	c, err := chairOf(chair)
	if err != nil {
		incline, steep := InclineOf(p.RiseMM, p.RunMM)
		if steep != nil {
			return nil, steep
		}
		return &QuickCheck{Verdict: PlaceUnknown, Say: message.New("passage.refused-chair-on-slope",
			message.Inner("refusal", Refused(err)), message.Number("run", provenance.Round(incline.OneIn, 1)))}, nil
	}
	s, err := c.RampFor(Ramp{RiseMM: p.RiseMM, RunMM: p.RunMM, WidthMM: orNot(p.WidthMM),
		LandingTopMM: orNot(p.LandingMM), LandingBottomMM: orNot(p.LandingMM), ChairLimitDegrees: orNot(chair.SlopeDeg)})
	if err != nil {
		return nil, err
	}
	g := newQuickCheck(s.Verdict, s.Say, s.Assumes, s.Compared[:len(s.Compared)-1]...) // both landings are the shorter one
	g.Provenance, g.Barred = s.Incline.Provenance, s.OverLimit
	return g, nil
}

func checkThreshold(chair *model.ChairMeasured, p *model.PlaceMeasured) (*QuickCheck, error) {
	t, err := DoorThresholdFor(DoorThreshold{HeightMM: p.HeightMM, ChairLimitMM: orNot(chair.StepMM)})
	if err != nil {
		return nil, err
	}
	g := newQuickCheck(t.Verdict, t.Say, t.Assumes, t.Compared...)
	g.Provenance, g.Barred = t.Provenance, t.OverLimit
	return g, nil
}

func checkLoad(chair *model.ChairMeasured, p *model.PlaceMeasured) (*QuickCheck, error) {
	b, err := LoadOn(Load{RatingKG: orNot(p.LimitKG), ChairKG: chair.ChairKG, PersonKG: chair.PersonKG})
	if err != nil {
		return nil, err
	}
	g := newQuickCheck(b.Verdict, b.Say, b.Assumes)
	g.Provenance, g.Barred = b.Provenance, b.Verdict == NotFeasible
	return g, nil
}
