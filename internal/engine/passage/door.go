package passage

import (
	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// Door is a door or gap that is driven through straight.
type Door struct {
	// ClearMM is the clear opening, 400 to 3000.
	ClearMM float64
	// ThickMM is the thickness of the wall, 0 to 1000.
	ThickMM float64
	// ClearanceMM is the room wanted on each side, 0 to 300.
	ClearanceMM float64
}

// StraightDoor judges a door that is driven through straight:
//
//	left = clear opening − widest point of chair and control, half of it on each side
//
// in mm, 1 decimal. Feasible with the wanted clearance on each side, marginal
// with less, not feasible below zero. It refuses missing and impossible
// measures. Plane geometry; the wanted clearance is a proposal.
func (c *Chair) StraightDoor(d Door) (*Result, error) {
	err := provenance.First(
		checkDoor(d.ClearMM, d.ThickMM),
		provenance.Between("clearance", d.ClearanceMM, 0, 300, "mm", message.Message{}),
	)
	if err != nil {
		return nil, err
	}
	b := boxOf(c.outline)
	width := b.maxY - b.minY
	left := d.ClearMM - width
	r := &Result{Kind: "door", NeedsOf: "door-clear", NeedsMM: provenance.Ceil(width, 1)}
	r.judge(left, left/2, d.ClearanceMM)
	if left >= 0 {
		r.Way = Straight
	}
	r.Say = doorSentence(r, d.ClearanceMM)
	r.Plan = c.doorPlan(d, b)
	return r, nil
}

func checkDoor(clear, thick float64) error {
	still := message.New("passage.still-own-width")
	return provenance.First(
		provenance.Between("door-clear", clear, 400, 3000, "mm", still),
		provenance.Between("wall-thickness", thick, 0, 1000, "mm", still),
	)
}

func doorSentence(r *Result, wanted float64) message.Message {
	left, each := message.Number("left", r.LeftMM), message.Number("each", r.EachMM)
	switch r.Verdict {
	case NotFeasible:
		return message.New("passage.door-missing", message.Number("missing", -r.LeftMM), message.Number("needs", r.NeedsMM))
	case Marginal:
		return message.New("passage.door-tight", left, each, message.Number("wanted", wanted))
	}
	return message.New("passage.door-fits", left, each)
}

// doorPlan drives the chair up through a door in a wall along x.
func (c *Chair) doorPlan(d Door, b box) Plan {
	const side = 400
	walls := [][]Point{block(-side, 0, 0, d.ThickMM), block(d.ClearMM, d.ClearMM+side, 0, d.ThickMM)}
	x := (d.ClearMM + b.maxY + b.minY) / 2 // left side of the chair is at x − maxY
	widest := c.outline[0]
	for _, p := range c.outline {
		if p.Y > widest.Y {
			widest = p
		}
	}
	mid := Pose{Point{x, d.ThickMM/2 - widest.X}, 90}
	before, after := mid, mid
	before.At.Y, after.At.Y = -b.maxX-100, d.ThickMM-b.minX+100
	p := Plan{Walls: edges(walls)}
	p.Spans = []Span{{ofWidth, Segment{Point{0, d.ThickMM + spanOff}, Point{d.ClearMM, d.ThickMM + spanOff}}}}
	on := Point{x - widest.Y, d.ThickMM / 2}
	p.Tightest = Mark{on, Point{0, d.ThickMM / 2}, on.X}
	p.show(c, []Pose{before, mid, after}, mid)
	p.tidy()
	return p
}

func doorProvenance() provenance.Provenance {
	return provenance.Of("formula.door", "source.plane-geometry", provenance.Derived)
}
