package passage

import (
	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// Doorway is a door in the long wall of a corridor that goes on past it.
type Doorway struct {
	// ClearMM is the clear opening, 400 to 3000, ThickMM the wall, 0 to 1000.
	ClearMM, ThickMM float64
	// CorridorMM is the width of the corridor, 300 to 6000.
	CorridorMM float64
	Fits
}

// Doorway judges a quarter turn from a corridor through a door in its long
// wall. The lower bound pushes the real outline into the opening as far as it
// goes at every angle and asks the corridor for the rest; the driven line is
// one turn about a point beside the drive axle, found by search to about 2 mm.
// LeftMM is the less of what the opening and the corridor leave. It refuses missing and impossible widths.
// Derived here and checked by a search of all positions and angles.
//
// In the plan of a left turn the wall lies along x with the opening between x
// = 0 and ClearMM; the corridor is below it, the chair comes along x and
// leaves upwards.
func (c *Chair) Doorway(d Doorway) (*Result, error) {
	if err := d.check(); err != nil {
		return nil, err
	}
	r := &Result{Kind: "doorway", NeedsOf: "corridor"}
	p := plug{c.outline, d.ClearMM, d.ThickMM}
	needs, angle := p.needs()
	left := min(d.ClearMM-c.width(), d.CorridorMM-needs)
	line := c.enter(d, c.bestEntry(d))
	r.NeedsMM = provenance.Round(needs, 1)
	r.judge(left, line.gap.room, d.ClearanceMM)
	r.sentence(d.ClearanceMM)
	if d.ClearMM < c.width() {
		r.NeedsOf, r.NeedsMM = "door-clear", provenance.Round(c.width(), 1)
		r.sentence(d.ClearanceMM)
	}
	r.Plan = c.doorwayPlan(d, r.Way, line, p, angle)
	r.Plan.tidy()
	return r, nil
}

func (d Doorway) check() error {
	return provenance.First(
		checkDoor(d.ClearMM, d.ThickMM),
		provenance.Between("corridor-width", d.CorridorMM, 300, 6000, "mm", message.New("passage.still-door-straight")),
		d.Fits.check(),
	)
}

// plug is an outline that is pushed into an opening.
type plug struct {
	hull         []Point
	clear, thick float64
}

// needs is the least corridor for any motion, and the angle that asks for it.
// Turning from along the corridor, the chair must at every angle be pushed in
// far enough, up to the first angle at which it slips through.
func (p plug) needs() (corridor, degrees float64) {
	const steps = 360
	free := 90.0
	for i := range steps + 1 {
		d := 90 * float64(i) / steps
		if p.slips(d) {
			free = d
			break
		}
	}
	if free > 0 {
		// The first free angle lies between the last step and this one.
		last := max(0, free-90.0/steps)
		free = most(func(d float64) bool { return !p.slips(d) }, last, free, 40)
	}
	degrees, corridor = highest(p.rest, 0, free, 90, 24)
	if at := p.rest(free); at > corridor {
		degrees, corridor = free, at
	}
	// Coming along the corridor it has no opening to stick into yet.
	b := boxOf(p.hull)
	if along := b.maxY - b.minY; along > corridor {
		degrees, corridor = 0, along
	}
	return corridor, degrees
}

// slips says whether the chair goes straight through at an angle.
func (p plug) slips(degrees float64) bool {
	_, through := p.depth(turnedAll(p.hull, degrees))
	return through
}

// rest is how much of the chair stays in the corridor at an angle when it is
// pushed in as far as it goes.
func (p plug) rest(degrees float64) float64 {
	turned := turnedAll(p.hull, degrees)
	b := boxOf(turned)
	depth, through := p.depth(turned)
	if through {
		return 0
	}
	return b.maxY - b.minY - depth
}

// depth is how far an outline goes into the opening before it is as wide as
// the opening. The thickness of the wall counts as if the outline were drawn
// out by it backwards.
func (p plug) depth(outline []Point) (depth float64, through bool) {
	drawn := outline
	if p.thick > 0 {
		drawn = hull(append(shifted(outline, Point{0, -p.thick}), outline...))
	}
	top := boxOf(drawn).maxY
	above, width := top, 0.0
	for _, height := range levels(drawn) {
		at := widthAt(drawn, height)
		if at > p.clear {
			part := (p.clear - width) / (at - width)
			return top - (above + part*(height-above)), false
		}
		above, width = height, at
	}
	return 0, true
}
