package passage

import "math"

// turnLine is one turn about a point beside the drive axle.
type turnLine struct {
	// middle of the turn and distance of the axle from it.
	middle Point
	radius float64
	// room is what is kept on every side, negative where it does not fit.
	room float64
}

// Search of radii: from the tightest that is driven to this much more.
const (
	radiiMore = 1500.0
	radiiStep = 50.0
)

// bestTurn finds the radius and middle of a left turn round a corner that keep
// the most room on every side.
func (c *Chair) bestTurn(k Corner) turnLine { return c.bestOfTurns(k, int(radiiMore/radiiStep), 8) }

// quickTurn is bestTurn with fewer radii. Where it misses by little, the full
// search decides.
func (c *Chair) quickTurn(k Corner) turnLine {
	line := c.bestOfTurns(k, 5, 6)
	if line.room < 0 && line.room > -nearMiss {
		line = c.bestTurn(k)
	}
	line.room = c.round(k, line).gap.room
	return line
}

func (c *Chair) bestOfTurns(k Corner, radii, refine int) turnLine {
	best := turnLine{room: math.Inf(-1)}
	room := func(radius float64) float64 {
		line := c.turnAt(k, radius)
		if line.room > best.room {
			best = line
		}
		return line.room
	}
	highest(room, k.MinRadiusMM, k.MinRadiusMM+radiiMore, radii, refine)
	return best
}

// turnAt finds the middle of a turn of one radius that keeps the most room: as
// far out as the outer walls let it for some room, and the most room for which
// the inner corner still keeps as much.
func (c *Chair) turnAt(k Corner, radius float64) turnLine {
	arc := newArc(c, radius)
	place := func(room float64) Point {
		return Point{k.InMM - arc.reach.maxX - room, k.OutMM - arc.reach.maxY - room}
	}
	keeps := func(room float64) bool {
		middle := place(room)
		if min(middle.X, middle.Y)+radius-arc.left < room {
			return false
		}
		return arc.keeps(jamb{-middle.X, -far, -middle.Y}, room)
	}
	high := (min(k.InMM, k.OutMM) - c.width()) / 2
	low := high - 3000
	room := most(keeps, low, high, 16)
	return turnLine{place(room), radius, room}
}

// arc is a quarter turn to the left about the origin, beginning with the
// chair pointing up at x = radius.
type arc struct {
	poses []shape
	// reach is the box about all poses.
	reach box
	// left is how far the chair reaches to its left.
	left float64
}

// arcSteps are the poses of a quarter turn.
const arcSteps = 45

func newArc(c *Chair, radius float64) arc {
	start := shifted(turnedAll(c.outline, 90), Point{radius, 0})
	a := arc{left: boxOf(c.outline).maxY, reach: quarterReach(start)}
	for i := range arcSteps + 1 {
		a.poses = append(a.poses, newShape(turnedAll(start, 90*float64(i)/arcSteps)))
	}
	return a
}

// keeps says whether every pose keeps some room to a jamb.
func (a arc) keeps(j jamb, room float64) bool {
	for _, pose := range a.poses {
		if j.room(pose, room) < room {
			return false
		}
	}
	return true
}

// quarterReach is the box that points fill while they turn by 90 degrees
// against the clock about the origin. A point that passes an axis reaches its
// full distance along it.
func quarterReach(points []Point) box { return reachOf(points, 90) }

// reachOf is quarterReach for any turn from 0 to 360 degrees.
func reachOf(points []Point, degrees float64) box {
	ends := boxOf(append(turnedAll(points, degrees), points...))
	for _, p := range points {
		distance, from := p.length(), math.Atan2(p.Y, p.X)*180/math.Pi
		passes := func(axis float64) bool {
			ahead := math.Mod(axis-from+720, 360)
			return ahead <= degrees
		}
		if passes(0) {
			ends.maxX = max(ends.maxX, distance)
		}
		if passes(90) {
			ends.maxY = max(ends.maxY, distance)
		}
		if passes(180) {
			ends.minX = min(ends.minX, -distance)
		}
		if passes(270) {
			ends.minY = min(ends.minY, -distance)
		}
	}
	return ends
}

// walls are the walls of a corner, as solid pieces.
func (k Corner) walls() [][]Point {
	return [][]Point{
		block(-far, 0, -far, 0),
		block(k.InMM, k.InMM+100, -far, k.OutMM+100),
		block(-far, k.InMM+100, k.OutMM, k.OutMM+100),
	}
}

// round drives a line round a corner.
func (c *Chair) round(k Corner, line turnLine) driven {
	start := Pose{Point{line.middle.X + line.radius, line.middle.Y - 1000}, 90}
	return c.follow(start, []Move{{DistanceMM: 1000}, {Degrees: 90, RadiusMM: line.radius}, {DistanceMM: 1000}}, k.walls())
}

// cornerPlan draws the driven line, or the slide where no line fits.
func (c *Chair) cornerPlan(k Corner, way string, line driven, angle float64) Plan {
	p := Plan{Walls: []Segment{{Point{0, 0}, Point{0, -2500}}, {Point{0, 0}, Point{-2500, 0}},
		{Point{k.InMM, -2500}, Point{k.InMM, k.OutMM}}, {Point{k.InMM, k.OutMM}, Point{-2500, k.OutMM}}}}
	p.Spans = []Span{{ofCorridor, Segment{Point{0, -1000}, Point{k.InMM, -1000}}}, {ofCorridor2, Segment{Point{-1000, 0}, Point{-1000, k.OutMM}}}}
	if way == OneTurn {
		p.draw(c, line)
		return p
	}
	s := slide{c.outline, k.InMM}
	for _, d := range []float64{0, 30, 60, 90} {
		_, pose := s.pushed(d, k.OutMM)
		p.show(c, []Pose{pose}, Pose{})
	}
	_, pose := s.pushed(angle, k.OutMM)
	p.draw(c, c.parked(pose, k.walls()[:1]))
	return p
}
