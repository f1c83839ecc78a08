package passage

import (
	"math"

	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// Room is a free floor to turn in.
type Room struct {
	// WidthMM and DepthMM of the free floor, 300 to 10000.
	WidthMM, DepthMM float64
	// ClearanceMM is the room wanted on each side, 0 to 300.
	ClearanceMM float64
}

// FullTurn judges a full turn on the spot about the middle of the drive axle:
//
//	circle = 2 · farthest point of the outline from the axle
//	left = less of width and depth − circle
//
// in mm, 1 decimal; half of what is left on each side. It refuses missing
// sizes. Derived here; checked by turning the outline degree by degree.
func (c *Chair) FullTurn(room Room) (*Result, error) {
	still := message.New("passage.still-circle")
	err := provenance.First(
		provenance.Between("floor-width", room.WidthMM, 300, 10000, "mm", still),
		provenance.Between("floor-depth", room.DepthMM, 300, 10000, "mm", still),
		provenance.Between("clearance", room.ClearanceMM, 0, 300, "mm", still),
	)
	if err != nil {
		return nil, err
	}
	reach, corner := c.farthest()
	left := min(room.WidthMM, room.DepthMM) - 2*reach
	r := &Result{Kind: "turn", NeedsOf: "floor", NeedsMM: provenance.Round(2*reach, 1)}
	r.judge(left, left/2, room.ClearanceMM)
	if left < 0 && min(room.WidthMM, room.DepthMM) >= c.diameter() {
		r.Way = Shuffle
	}
	r.Say = r.turnSentence(room.ClearanceMM)
	r.Plan = c.turnPlan(room, corner)
	return r, nil
}

// turnSentence says the verdict of a turn on the spot in a room.
func (r *Result) turnSentence(wanted float64) message.Message {
	needs, each := message.Number("needs", r.NeedsMM), message.Number("each", r.EachMM)
	switch {
	case r.Way == NoWay:
		return message.New("passage.turn-none", needs)
	case r.Way == Shuffle:
		return message.New("passage.turn-missing", needs, message.Number("missing", -r.LeftMM))
	case r.Verdict == Marginal:
		return message.New("passage.turn-tight", needs, each, message.Number("wanted", wanted))
	}
	return message.New("passage.turn-fits", needs, each)
}

// farthest is the greatest distance of the outline from the axle's middle.
func (c *Chair) farthest() (float64, Point) {
	far, at := 0.0, c.outline[0]
	for _, p := range c.outline {
		if d := p.length(); d > far {
			far, at = d, p
		}
	}
	return far, at
}

// diameter is the greatest distance between two points of the outline: the
// least corridor in which it can be turned about by any motion.
func (c *Chair) diameter() float64 {
	most := 0.0
	for i, p := range c.outline {
		for _, q := range c.outline[i+1:] {
			most = max(most, distance(p, q))
		}
	}
	return most
}

// turnPlan puts the axle in the middle of the floor, the farthest corner
// pointing at the nearer wall.
func (c *Chair) turnPlan(room Room, corner Point) Plan {
	w, d := room.WidthMM, room.DepthMM
	floor := block(0, w, 0, d)
	p := Plan{Walls: edges([][]Point{floor})}
	p.Spans = []Span{{ofWidth, Segment{Point{0, -spanOff}, Point{w, -spanOff}}}}
	heading, wall := -math.Atan2(corner.Y, corner.X)*180/math.Pi, Point{w, d / 2}
	if d < w {
		heading, wall = heading+90, Point{w / 2, d}
	}
	middle := Point{w / 2, d / 2}
	tight := Pose{middle, heading}
	for turn := 45.0; turn < 360; turn += 45 {
		p.show(c, []Pose{{middle, heading + turn}}, Pose{})
	}
	p.show(c, []Pose{tight}, tight)
	on := middle.plus(corner.turned(direction(heading)))
	p.Tightest = Mark{on, wall, min(w, d)/2 - corner.length()}
	p.tidy()
	return p
}
