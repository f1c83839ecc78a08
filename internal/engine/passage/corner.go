package passage

import (
	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// Corner is a right-angle bend between two corridors.
type Corner struct {
	// InMM is the corridor that the chair comes from, OutMM the one it goes
	// to, 300 to 6000.
	InMM, OutMM float64
	Fits
}

// far is beyond everything that is drawn or driven.
const far = 20000.0

// Corner judges a right-angle corner. The lower bound slides the real outline
// along both outer walls at every angle; the driven line is one turn about a
// point beside the drive axle. LeftMM and NeedsMM come from the bound, EachMM
// from the line. It refuses missing and impossible widths. Derived here and
// checked by a search of all positions and angles.
//
// In the plan of a left turn the inner corner is the origin, the chair comes
// up between x = 0 and InMM and leaves to the left between y = 0 and OutMM.
func (c *Chair) Corner(k Corner) (*Result, error) {
	if err := k.check(); err != nil {
		return nil, err
	}
	r := &Result{Kind: "corner", NeedsOf: "corridor-out"}
	s := slide{c.outline, k.InMM}
	left, angle := s.left(k.OutMM)
	line := c.round(k, c.bestTurn(k))
	r.NeedsMM = provenance.Round(s.needs(), 1)
	r.judge(left, line.gap.room, k.ClearanceMM)
	if s.needs() == far {
		r.NeedsOf, r.NeedsMM = "corridor-in", provenance.Round(s.needsIn(k.OutMM, c.width()), 1)
	}
	r.sentence(k.ClearanceMM)
	r.Plan = c.cornerPlan(k, r.Way, line, angle)
	r.Plan.tidy()
	return r, nil
}

func (k Corner) check() error {
	still := message.New("passage.still-other-corridor")
	return provenance.First(
		provenance.Between("corridor-in", k.InMM, 300, 6000, "mm", still),
		provenance.Between("corridor-out", k.OutMM, 300, 6000, "mm", still),
		k.Fits.check(),
	)
}

// slide is an outline that slides along the outer walls of a corner.
type slide struct {
	hull []Point
	in   float64
}

// pushed is the outline turned by some degrees from its way in and pushed
// against both outer walls. Every other place at that angle is nearer to the
// inner corner, so if this one fails, all do.
func (s slide) pushed(degrees, out float64) ([]Point, Pose) {
	turned := turnedAll(s.hull, 90+degrees)
	b := boxOf(turned)
	by := Point{s.in - b.maxX, out - b.maxY}
	return shifted(turned, by), Pose{by, 90 + degrees}
}

// room is the gap to the inner corner at an angle.
func (s slide) room(degrees, out float64) float64 {
	outline, _ := s.pushed(degrees, out)
	return jamb{0, -far, 0}.room(newShape(outline), far)
}

// left is the least room over the whole turn and both straights, and the angle
// of it.
func (s slide) left(out float64) (room, degrees float64) {
	degrees, room = lowest(func(d float64) float64 { return s.room(d, out) }, 0, 90, 90, 24)
	b := boxOf(s.hull)
	if in := s.in - (b.maxY - b.minY); in < room {
		degrees, room = 0, in
	}
	if o := out - (b.maxY - b.minY); o < room {
		degrees, room = 90, o
	}
	return room, degrees
}

// needs is the least corridor driven out, or far when the corridor driven in
// is too narrow for any.
func (s slide) needs() float64 {
	ok := func(narrower float64) bool {
		room, _ := s.left(far - narrower)
		return room >= 0
	}
	if !ok(0) {
		return far
	}
	return far - most(ok, 0, far, 20)
}

// needsIn is the least corridor driven in for a corridor driven out; where that
// is too narrow for any, what the chair is wide.
func (s slide) needsIn(out, width float64) float64 {
	ok := func(narrower float64) bool {
		room, _ := slide{s.hull, far - narrower}.left(out)
		return room >= 0
	}
	if !ok(0) {
		return width
	}
	return far - most(ok, 0, far, 20)
}
