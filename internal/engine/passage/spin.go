package passage

import (
	"math"

	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
	"doorsill/internal/model"
)

// spin is a chair that can turn on the spot, judged by closed forms: a lower
// bound for any motion, and turning on the spot, which a driver can do. What
// lies between is looked at with the search that the plan uses, or a shorter one
// that agrees with it about what fits.
type spin struct {
	// clearanceMM is wanted on each side.
	clearanceMM float64
	chair       *Chair
	rect        rect
}

// straight judges driving straight through an opening. Field is an entry "field."
// of the catalogue.
func (s *spin) straight(field string, clear float64, reference string) (*QuickCheck, error) {
	if err := provenance.Between(field, clear, 300, 3000, "mm", message.New("passage.still-length-and-width")); err != nil {
		return nil, err
	}
	r := &Result{NeedsMM: provenance.Ceil(s.rect.WidthMM, 1)}
	left := clear - s.rect.WidthMM
	r.judge(left, left/2, s.clearanceMM)
	r.Say = doorSentence(r, s.clearanceMM)
	return s.quickCheck(r, doorProvenance(), compared(reference, clear), message.New("passage.assumes-straight")), nil
}

// corner judges a bend by the least room over all angles of a slide along both
// outer walls, and by turning on the spot.
func (s *spin) corner(p *model.PlaceMeasured) (*QuickCheck, error) {
	k := Corner{InMM: p.CorridorMM, OutMM: p.Corridor2MM, Fits: Fits{ClearanceMM: s.clearanceMM}}
	if err := k.check(); err != nil {
		return nil, err
	}
	front, rear := s.rect.reaches()
	half := s.rect.WidthMM / 2
	r := &Result{NeedsOf: "corridor-out", NeedsMM: provenance.Ceil(s.rect.outFrom(k.InMM), 1)}
	if k.InMM < s.rect.WidthMM {
		r.NeedsOf, r.NeedsMM = "corridor-in", provenance.Ceil(s.rect.WidthMM, 1)
	}
	left, each := s.rect.cornerLeft(k.InMM, k.OutMM), min(k.InMM-half-rear, k.OutMM-half-front)/2
	arc := false
	if left >= 0 && each < k.ClearanceMM {
		if line := s.chair.quickTurn(k); line.room > each {
			each, arc = line.room, line.radius > 0
		}
	}
	r.judge(left, each, k.ClearanceMM)
	s.say(r, arc)
	return s.quickCheck(r, cornerProvenance(), compared("route-width", min(k.InMM, k.OutMM)), anyMotion(), message.New("passage.assumes-forwards")), nil
}

// cornerLeft is the least of a·sin θ + b·cos θ − L·sin θ·cos θ − W.
func (r rect) cornerLeft(in, out float64) float64 {
	length := r.FrontMM + r.RearMM
	_, left := lowest(func(degrees float64) float64 {
		d := direction(degrees)
		return float64(in*d.sin) + float64(out*d.cos) - float64(length*d.sin*d.cos) - r.WidthMM
	}, 0, 90, 90, 24)
	return left
}

// outFrom is the least corridor driven out for any motion from a corridor at
// least as wide as the chair: the same solved for b.
func (r rect) outFrom(in float64) float64 {
	length := r.FrontMM + r.RearMM
	_, out := highest(func(degrees float64) float64 {
		d := direction(degrees)
		return (r.WidthMM + float64(length*d.sin*d.cos) - float64(in*d.sin)) / d.cos
	}, 0, 89, 89, 24)
	return out
}

// doorway judges turning from a corridor through a door in its long wall.
func (s *spin) doorway(p *model.PlaceMeasured) (*QuickCheck, error) {
	d := Doorway{ClearMM: p.WidthMM, CorridorMM: p.CorridorMM, Fits: Fits{ClearanceMM: s.clearanceMM}}
	if err := d.check(); err != nil {
		return nil, err
	}
	front, rear := s.rect.reaches()
	wide := s.rect.WidthMM
	needs := max(wide, (s.rect.FrontMM+s.rect.RearMM)*wide/d.ClearMM)
	r := &Result{NeedsOf: "corridor", NeedsMM: provenance.Ceil(needs, 1)}
	if d.ClearMM < wide {
		r.NeedsOf, r.NeedsMM = "door-clear", provenance.Ceil(wide, 1)
	}
	left, each := min(d.ClearMM-wide, d.CorridorMM-needs), min(d.ClearMM-wide, d.CorridorMM-front-rear)/2
	arc := false
	if left >= 0 && each < d.ClearanceMM {
		// The front may swing into the opening.
		if line := s.chair.quickEntry(d); line.room > each {
			each, arc = line.room, line.radius > 0
		}
	}
	r.judge(left, each, d.ClearanceMM)
	s.say(r, arc)
	return s.quickCheck(r, doorwayProvenance(), compared("door-clear", d.ClearMM), anyMotion(), message.New("passage.assumes-corridor-goes-on")), nil
}

// turn judges a full turn on the spot in a room.
func (s *spin) turn(p *model.PlaceMeasured) (*QuickCheck, error) {
	r, err := s.chair.FullTurn(Room{WidthMM: p.WidthMM, DepthMM: p.WidthMM, ClearanceMM: s.clearanceMM})
	if err != nil {
		return nil, err
	}
	return s.quickCheck(r, pivotProvenance(), compared("turning-circle", p.WidthMM), message.New("passage.assumes-about-axle")), nil
}

// about judges turning about in a corridor: on the spot, or with the longest
// distance between two points of the outline as the bound for any motion.
func (s *spin) about(p *model.PlaceMeasured) (*QuickCheck, error) {
	if err := provenance.Between("corridor-width", p.CorridorMM, 300, 10000, "mm", message.New("passage.still-length-and-width")); err != nil {
		return nil, err
	}
	front, rear := s.rect.reaches()
	any := math.Sqrt(float64((s.rect.FrontMM+s.rect.RearMM)*(s.rect.FrontMM+s.rect.RearMM)) + float64(s.rect.WidthMM*s.rect.WidthMM))
	r := &Result{NeedsOf: "corridor", NeedsMM: provenance.Ceil(any, 1)}
	r.judge(p.CorridorMM-any, (p.CorridorMM-front-rear)/2, s.clearanceMM)
	s.say(r, false)
	if r.Way == Shuffle {
		k, one, three := Corridor{WidthMM: p.CorridorMM, ClearanceMM: s.clearanceMM}, about{width: front + rear}, s.chair.threePoint(0)
		r.takeTurn(k, one, three, any)
	}
	return s.quickCheck(r, pivotProvenance(), compared("turning-circle", p.CorridorMM), anyMotion(), message.New("passage.assumes-long-corridor")), nil
}

// anyMotion says what the bound for any motion takes for granted.
func anyMotion() message.Message { return message.New("passage.assumes-any-motion") }

// say says the verdict of a turn on the spot, or about a point beside the axle.
func (s *spin) say(r *Result, arc bool) {
	each := message.Number("each", r.EachMM)
	switch {
	case r.Verdict == NotFeasible || arc:
		r.sentence(s.clearanceMM)
	case r.Verdict == Marginal:
		r.Say = message.New("passage.spin-tight", each, message.Number("wanted", s.clearanceMM))
	default:
		r.Say = message.New("passage.spin-fits", each)
	}
}

func (s *spin) quickCheck(r *Result, b provenance.Provenance, beside Compared, assumes ...message.Message) *QuickCheck {
	g := newQuickCheck(r.Verdict, r.Say, append(s.chair.assumptions(), assumes...), beside)
	// What sliding sideways would leave is no room that is left.
	g.LeftMM, g.HasLeft, g.Provenance = r.LeftMM, r.Way != Shuffle || r.LeftMM < 0, b
	return g
}
