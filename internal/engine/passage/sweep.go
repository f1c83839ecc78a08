package passage

import (
	"math"

	"doorsill/internal/engine/basis"
)

// Wall is a convex piece of building, its corners in order.
type Wall []Point

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

// Sweep drives the outline of the chair from a pose through the moves and
// finds where it comes nearest to a wall: the room there, negative where it
// runs into it. Moves: 1 to 50, at most 20 m or 720 degrees each; walls: 1 to
// 100, convex. The room is exact at poses 0.5 degrees or 20 mm apart, and
// rounded to 0.1 mm. It assumes a convex outline, walls from the floor up, and
// a chair that follows the line.
func (c *Chair) Sweep(start Pose, moves []Move, walls []Wall) (*Result, error) {
	solid, err := checkSweep(start, moves, walls)
	if err != nil {
		return nil, err
	}
	r := &Result{Kind: "sweep", Way: "as driven"}
	line := c.follow(start, moves, solid)
	r.Plan.Walls = edges(solid)
	r.Plan.draw(c, line)
	r.Plan.tidy()
	r.LeftMM = basis.Round(line.gap.room, 1)
	r.EachMM = r.LeftMM
	r.Verdict, r.Say = NotFeasible, "Runs "+basis.Text(-r.LeftMM, 0)+" mm into a wall at the tightest point."
	if r.LeftMM >= 0 {
		r.Verdict, r.Say = Feasible, basis.Text(r.LeftMM, 0)+" mm are left at the tightest point."
	}
	return r, nil
}

func checkSweep(start Pose, moves []Move, walls []Wall) ([][]Point, error) {
	const far = 1e5
	err := basis.First(
		basis.Within("start, x", start.At.X, -far, far, "mm", ""),
		basis.Within("start, y", start.At.Y, -far, far, "mm", ""),
		basis.Within("start, heading", start.Heading, -720, 720, "degrees", ""),
		basis.Within("number of moves", float64(len(moves)), 1, 50, "", ""),
		basis.Within("number of walls", float64(len(walls)), 1, 100, "", "Without walls there is nothing to run into."),
	)
	if err != nil {
		return nil, err
	}
	for i, m := range moves {
		name := "move " + basis.Whole(i+1)
		err := basis.First(
			basis.Within(name+", distance", m.DistanceMM, -20000, 20000, "mm", ""),
			basis.Within(name+", turn", m.Degrees, -720, 720, "degrees", ""),
			basis.Within(name+", radius", m.RadiusMM, -20000, 20000, "mm", ""),
		)
		if err != nil {
			return nil, err
		}
	}
	return solids(walls)
}

func solids(walls []Wall) ([][]Point, error) {
	var out [][]Point
	for i, w := range walls {
		for _, p := range w {
			if !basis.Measured(p.X) || !basis.Measured(p.Y) {
				return nil, basis.Refuse("wall "+basis.Whole(i+1), "corners that are numbers in mm", "The other walls can still be judged.")
			}
		}
		corners := hull(w)
		if len(corners) < 2 {
			return nil, basis.Refuse("wall "+basis.Whole(i+1), "at least two different corners", "The other walls can still be judged.")
		}
		out = append(out, corners)
	}
	return out, nil
}

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

// at is the hull of the chair at a pose.
func (c *Chair) at(p Pose) []Point { return shifted(turnedAll(c.hull, p.Heading), p.At) }

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
func (c *Chair) assumptions() []string {
	return append([]string{
		"Walls go straight up, and handles, skirting and door leaf are counted in the measured width.",
		"Hollows in the outline of the chair are filled in; hands, control and feet are part of it.",
	}, c.assumes...)
}
