package passage

import (
	"math"

	"doorsill/internal/engine/provenance"
)

// spin is a chair that can turn on the spot, judged by closed forms: a lower
// bound for any motion, and turning on the spot, which a driver can do. What
// lies between is tight, and the plan looks for a better line there.
type spin struct {
	Ride
	chair *Chair
	rect  Rect
}

const (
	anyMotion  = "The best motion includes sliding sideways, which a chair cannot do: the room left is at most that."
	stillWidth = "The chair's own length and width can still be compared by hand."
	lineAside  = " There is no room to turn on the spot: see the plan for the best line, and try it at walking pace with a helper."
)

// straight judges driving straight through an opening.
func (s *spin) straight(name string, clear float64, reference string) (*QuickCheck, error) {
	if err := provenance.Within(name, clear, 300, 3000, "mm", stillWidth); err != nil {
		return nil, err
	}
	r := &Result{NeedsMM: provenance.Round(s.rect.WidthMM, 1)}
	left := clear - s.rect.WidthMM
	r.judge(left, left/2, s.ClearanceMM)
	r.Say = doorSentence(r, s.ClearanceMM)
	return s.quickCheck(r, doorProvenance(), compared(reference, clear), "The chair comes straight at it and the driver holds the middle."), nil
}

// corner judges a bend by the least room over all angles of a slide along both
// outer walls, and by turning on the spot.
func (s *spin) corner(p *Place) (*QuickCheck, error) {
	k := Corner{InMM: p.CorridorMM, OutMM: p.Corridor2MM, Fits: Fits{ClearanceMM: s.ClearanceMM, Turn: Left}}
	if err := k.check(); err != nil {
		return nil, err
	}
	front, rear := s.rect.reaches()
	half := s.rect.WidthMM / 2
	r := &Result{NeedsOf: "corridor driven out", NeedsMM: provenance.Round(s.rect.outFrom(k.InMM), 1)}
	if k.InMM < s.rect.WidthMM {
		r.NeedsOf, r.NeedsMM = "corridor driven in", provenance.Round(s.rect.WidthMM, 1)
	}
	r.judge(s.rect.cornerLeft(k.InMM, k.OutMM), min(k.InMM-half-rear, k.OutMM-half-front)/2, k.ClearanceMM)
	s.say(r)
	return s.quickCheck(r, cornerProvenance(), compared("route-width", min(k.InMM, k.OutMM)), anyMotion+" The chair comes in and goes out forwards."), nil
}

// cornerLeft is the least of a·sin θ + b·cos θ − L·sin θ·cos θ − W.
func (r Rect) cornerLeft(in, out float64) float64 {
	length := r.FrontMM + r.RearMM
	_, left := lowest(func(degrees float64) float64 {
		d := direction(degrees)
		return float64(in*d.sin) + float64(out*d.cos) - float64(length*d.sin*d.cos) - r.WidthMM
	}, 0, 90, 90, 24)
	return left
}

// outFrom is the least corridor driven out for any motion from a corridor at
// least as wide as the chair: the same solved for b.
func (r Rect) outFrom(in float64) float64 {
	length := r.FrontMM + r.RearMM
	_, out := highest(func(degrees float64) float64 {
		d := direction(degrees)
		return (r.WidthMM + float64(length*d.sin*d.cos) - float64(in*d.sin)) / d.cos
	}, 0, 89, 89, 24)
	return out
}

// doorway judges turning from a corridor through a door in its long wall.
func (s *spin) doorway(p *Place) (*QuickCheck, error) {
	d := Doorway{ClearMM: p.WidthMM, CorridorMM: p.CorridorMM, Fits: Fits{ClearanceMM: s.ClearanceMM, Turn: Left}}
	if err := d.check(); err != nil {
		return nil, err
	}
	front, rear := s.rect.reaches()
	wide := s.rect.WidthMM
	needs := max(wide, (s.rect.FrontMM+s.rect.RearMM)*wide/d.ClearMM)
	r := &Result{NeedsOf: "corridor", NeedsMM: provenance.Round(needs, 1)}
	if d.ClearMM < wide {
		r.NeedsOf, r.NeedsMM = "clear opening of the door", provenance.Round(wide, 1)
	}
	r.judge(min(d.ClearMM-wide, d.CorridorMM-needs), min(d.ClearMM-wide, d.CorridorMM-front-rear)/2, d.ClearanceMM)
	s.say(r)
	return s.quickCheck(r, doorwayProvenance(), compared("door-clear", d.ClearMM), anyMotion+" The corridor goes on past the door, and the room behind it is open."), nil
}

// turn judges a full turn on the spot in a room.
func (s *spin) turn(p *Place) (*QuickCheck, error) {
	r, err := s.chair.FullTurn(Room{WidthMM: p.WidthMM, DepthMM: p.WidthMM, ClearanceMM: s.ClearanceMM})
	if err != nil {
		return nil, err
	}
	return s.quickCheck(r, pivotProvenance(), compared("turning-circle", p.WidthMM), "The chair turns about the middle of its drive axle without moving off; on carpet and slopes it does not quite."), nil
}

// about judges turning about in a corridor: on the spot, or with the longest
// distance between two points of the outline as the bound for any motion.
func (s *spin) about(p *Place) (*QuickCheck, error) {
	if err := provenance.Within("width of the corridor", p.CorridorMM, 300, 10000, "mm", stillWidth); err != nil {
		return nil, err
	}
	front, rear := s.rect.reaches()
	any := math.Sqrt(float64((s.rect.FrontMM+s.rect.RearMM)*(s.rect.FrontMM+s.rect.RearMM)) + float64(s.rect.WidthMM*s.rect.WidthMM))
	r := &Result{NeedsOf: "corridor", NeedsMM: provenance.Round(any, 1)}
	r.judge(p.CorridorMM-any, (p.CorridorMM-front-rear)/2, s.ClearanceMM)
	s.say(r)
	if r.Way == Shuffle {
		r.Say = "Turning on the spot takes " + provenance.Text(front+rear, 0) + " mm. A three-point turn or several small moves may do: see the plan, and try it with a helper."
	}
	return s.quickCheck(r, pivotProvenance(), compared("turning-circle", p.CorridorMM), anyMotion+" The corridor is long enough to either side."), nil
}

// say says the verdict of a turn on the spot.
func (s *spin) say(r *Result) {
	each := provenance.Text(r.EachMM, 0) + " mm on each side"
	switch {
	case r.Verdict == NotFeasible:
		r.sentence(s.ClearanceMM)
	case r.Way == Shuffle:
		r.Say = "By the best of motions " + provenance.Text(r.LeftMM, 0) + " mm are left at the tightest point." + lineAside
	case r.Verdict == Marginal:
		r.Say = "Turns on the spot with " + each + ", less than the " + provenance.Text(s.ClearanceMM, 0) + " mm wanted."
	default:
		r.Say = "Turns on the spot with " + each + "."
	}
}

func (s *spin) quickCheck(r *Result, b provenance.Provenance, beside Compared, assumes string) *QuickCheck {
	g := quickCheckOf(r.Verdict, r.Say, append(s.chair.assumptions(), assumes), beside)
	g.LeftMM, g.HasLeft, g.Provenance = r.LeftMM, true, b
	return g
}
