package passage

import (
	"math"

	"doorsill/internal/message"
)

// Move is one piece of a drive: straight, or a turn about a point beside the
// drive axle.
type Move struct {
	// DistanceMM is driven straight, negative for backwards, when Degrees is 0.
	DistanceMM float64
	// Degrees is how far the chair turns, against the clock.
	Degrees float64
	// RadiusMM puts the middle of the turn that far to the left of the axle,
	// negative for the right, 0 for a turn on the spot.
	RadiusMM float64
}

// Steps of a sweep: small enough that nothing is missed by a tenth of a
// millimetre that matters.
const (
	sweepDegrees = 0.5
	sweepMM      = 20
)

// drive lists the poses along some moves, ends included.
func drive(start Pose, moves []Move, degrees, mm float64) []Pose {
	path := []Pose{start}
	for _, m := range moves {
		from := path[len(path)-1]
		n := steps(m, degrees, mm)
		for i := 1; i <= n; i++ {
			path = append(path, m.after(from, float64(i)/float64(n)))
		}
	}
	return path
}

func steps(m Move, degrees, mm float64) int {
	if m.Degrees != 0 {
		return max(1, int(math.Ceil(math.Abs(m.Degrees)/degrees)))
	}
	return max(1, int(math.Ceil(math.Abs(m.DistanceMM)/mm)))
}

// after is the pose when a part of the move is done, 0 to 1.
func (m Move) after(from Pose, part float64) Pose {
	ahead := direction(from.Heading)
	if m.Degrees == 0 {
		d := m.DistanceMM * part
		return Pose{from.At.plus(Point{ahead.cos * d, ahead.sin * d}), from.Heading}
	}
	middle := from.At.plus(Point{-ahead.sin * m.RadiusMM, ahead.cos * m.RadiusMM})
	turn := m.Degrees * part
	return Pose{middle.plus(from.At.minus(middle).turned(direction(turn))), from.Heading + turn}
}

// at is the outline of the chair at a pose.
func (c *Chair) at(p Pose) []Point { return shifted(turnedAll(c.outline, p.Heading), p.At) }

// tightest finds the pose at which the chair comes nearest to a wall.
func (c *Chair) tightest(path []Pose, walls [][]Point) (gap, int) {
	best, at := gap{room: math.Inf(1)}, 0
	for i, pose := range path {
		outline := c.at(pose)
		for _, w := range walls {
			if g := separation(outline, w); g.room < best.room {
				best, at = g, i
			}
		}
	}
	return best, at
}

// assumptions are those of every passage.
func (c *Chair) assumptions() []message.Message {
	return append([]message.Message{message.New("passage.assumes-walls"), message.New("passage.assumes-outline")}, c.assumes...)
}
