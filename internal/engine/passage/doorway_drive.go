package passage

import "math"

// entrance is a quarter turn into an opening, ready to be tried with many
// lines.
type entrance struct {
	Doorway
	// headings are the directions of the poses; shapes and flipped are the
	// outline at each, about the axle, and the same in a mirror.
	headings        []angle
	shapes, flipped []shape
	// left and right are how far the chair reaches to its sides.
	left, right float64
}

// newEntrance lists the poses of a turn that begins along x and ends upwards.
func newEntrance(c *Chair, d Doorway, steps int) entrance {
	b := boxOf(c.outline)
	e := entrance{Doorway: d, left: b.maxY, right: -b.minY}
	for i := range steps + 1 {
		degrees := 90 * float64(i) / float64(steps)
		outline := turnedAll(c.outline, degrees)
		e.headings = append(e.headings, direction(degrees))
		e.shapes = append(e.shapes, newShape(outline))
		e.flipped = append(e.flipped, newShape(flipped(outline)))
	}
	return e
}

// room is what a line keeps on every side. Once it is below the floor it may
// be given as any number below it.
func (e entrance) room(l turnLine, floor float64) float64 {
	axle := l.middle.X + l.radius
	room := min(
		l.radius-e.left-l.middle.Y,          // this wall, driving along it
		axle-e.left, e.ClearMM-axle-e.right, // jambs, driving through
	)
	for i, heading := range e.headings {
		if room < floor {
			return room
		}
		at := Point{l.middle.X + float64(l.radius*heading.sin), l.middle.Y - float64(l.radius*heading.cos)}
		room = min(room, at.Y+e.shapes[i].box.minY+e.CorridorMM) // far wall
		room = min(room, jamb{-at.X, -at.Y, e.ThickMM - at.Y}.room(e.shapes[i], room))
		room = min(room, jamb{at.X - e.ClearMM, -at.Y, e.ThickMM - at.Y}.room(e.flipped[i], room))
	}
	return room
}

// bestEntry finds the radius and middle of a left turn into an opening that
// keep the most room on every side. The best place for each radius is found
// with few poses; every summit among the radii is then improved with many.
func (c *Chair) bestEntry(d Doorway) turnLine {
	few, many := newEntrance(c, d, arcSteps/2), newEntrance(c, d, 2*arcSteps)
	var lines []turnLine
	for more := 0.0; more <= radiiMore; more += radiiStep {
		lines = append(lines, few.place(d.MinRadiusMM+more))
	}
	best := turnLine{room: math.Inf(-1)}
	directions := around()
	for i, line := range lines {
		if i > 0 && lines[i-1].room > line.room || i < len(lines)-1 && lines[i+1].room > line.room {
			continue
		}
		if line = many.improve(line, directions); line.room > best.room {
			best = line
		}
	}
	return best
}

// nearMiss is by how much, in mm, the short search may miss a turn that the full
// one finds.
const nearMiss = 10

// quickEntry finds a turn into an opening: on the spot where that fits, else the
// best of a few radii. Where it misses by little, the full search decides.
func (c *Chair) quickEntry(d Doorway) turnLine {
	few, many := newEntrance(c, d, arcSteps/2), newEntrance(c, d, 2*arcSteps)
	const neighbours = 26
	var beside [][3]float64
	for _, by := range around()[:neighbours] {
		if by[2] == 0 {
			beside = append(beside, by)
		}
	}
	best := many.improve(few.place(d.MinRadiusMM), beside)
	if best.room >= d.ClearanceMM {
		return best
	}
	spot := best
	for _, more := range [...]float64{0, 100, 200, 350, 500, 700, 1000} {
		if line := few.place(d.MinRadiusMM + more); line.room > best.room {
			best = line
		}
	}
	best = many.improve(best, around()[:neighbours])
	if best.room < 0 && best.room > -nearMiss {
		best = c.bestEntry(d)
		best.room = c.enter(d, best).gap.room
	}
	if spot.room >= best.room {
		return spot
	}
	return best
}

// place finds the middle of a turn of one radius that keeps the most room: for
// each place of the axle between the jambs the best depth, and of these the
// best.
func (e entrance) place(radius float64) turnLine {
	best := turnLine{radius: radius, room: math.Inf(-1)}
	high := radius - e.left
	low := min(-e.CorridorMM, high-100)
	room := func(x float64) float64 {
		y, room := highest(func(y float64) float64 {
			return e.room(turnLine{middle: Point{x, y}, radius: radius}, math.Inf(-1))
		}, low, high, 8, 9)
		if room > best.room {
			best.middle, best.room = Point{x, y}, room
		}
		return room
	}
	spare := max(0, e.ClearMM-e.left-e.right)
	highest(room, e.left-radius, e.left+spare-radius, 4, 8)
	return best
}

// improve climbs from a line by steps in the given directions that become
// smaller.
func (e entrance) improve(line turnLine, directions [][3]float64) turnLine {
	line.room = e.room(line, math.Inf(-1))
	for step := 32.0; step > 0.1; {
		before := line.room
		for _, by := range directions {
			next := turnLine{middle: line.middle.plus(Point{by[0] * step, by[1] * step}), radius: line.radius + by[2]*step}
			if next.radius < e.MinRadiusMM {
				continue
			}
			if next.room = e.room(next, line.room); next.room > line.room {
				line = next
			}
		}
		if line.room == before {
			step /= 2
		}
	}
	return line
}

// around are directions in middle and radius: to every neighbour, and more
// spread evenly by the golden section. The least of many rooms has sharp
// ridges, which a few directions do not climb.
func around() [][3]float64 {
	const spread = 100
	var out [][3]float64
	for i := range 27 {
		if i != 13 {
			out = append(out, [3]float64{float64(i%3 - 1), float64(i/3%3 - 1), float64(i/9 - 1)})
		}
	}
	for i := range spread {
		z := 1 - (2*float64(i)+1)/spread
		flat := math.Sqrt(1 - float64(z*z))
		turn := direction(360 * golden * float64(i))
		out = append(out, [3]float64{flat * turn.cos, flat * turn.sin, z})
	}
	return out
}

// walls are the walls of a doorway, as solid pieces.
func (d Doorway) walls() [][]Point {
	thick := max(d.ThickMM, 1)
	return [][]Point{
		block(-far, 0, 0, thick),
		block(d.ClearMM, far, 0, thick),
		block(-far, far, -d.CorridorMM-100, -d.CorridorMM),
	}
}

// enter drives a line into an opening, until the axle is through: off a wide corridor
// the turn may end far before the wall.
func (c *Chair) enter(d Doorway, line turnLine) driven {
	start := Pose{Point{line.middle.X - 1000, line.middle.Y - line.radius}, 0}
	moves := []Move{{DistanceMM: 1000}, {Degrees: 90, RadiusMM: line.radius}, {DistanceMM: d.ThickMM + max(1000, -line.middle.Y)}}
	return c.follow(start, moves, d.walls())
}

// doorwayPlan draws the driven line, or the chair pushed into the opening.
func (c *Chair) doorwayPlan(d Doorway, way string, line driven, p plug, angle float64) Plan {
	const side = 2500
	thick := max(d.ThickMM, 1)
	plan := Plan{Walls: edges([][]Point{block(-side, 0, 0, thick), block(d.ClearMM, d.ClearMM+side, 0, thick)})}
	plan.Walls = append(plan.Walls, Segment{Point{-side, -d.CorridorMM}, Point{d.ClearMM + side, -d.CorridorMM}})
	plan.Spans = []Span{
		{ofWidth, Segment{Point{0, thick + spanOff}, Point{d.ClearMM, thick + spanOff}}},
		{ofCorridor, Segment{Point{d.ClearMM + spanOff, -d.CorridorMM}, Point{d.ClearMM + spanOff, 0}}},
	}
	if way != OneTurn {
		line = c.parked(p.pushed(angle), d.walls()[2:])
	}
	plan.draw(c, line)
	return plan
}

// pushed is the chair at an angle, as far into the opening as it goes, its
// widest slice between the jambs.
func (p plug) pushed(degrees float64) Pose {
	turned := turnedAll(p.hull, degrees)
	b := boxOf(turned)
	depth, through := p.depth(turned)
	if through {
		depth = b.maxY - b.minY
	}
	inside := box{minX: math.Inf(1), maxX: math.Inf(-1)}
	for i, a := range turned {
		next := turned[(i+1)%len(turned)]
		for _, x := range crossings(a, next, b.maxY-depth) {
			inside.minX, inside.maxX = min(inside.minX, x), max(inside.maxX, x)
		}
	}
	if math.IsInf(inside.minX, 1) {
		inside = b
	}
	return Pose{Point{p.clear/2 - (inside.minX+inside.maxX)/2, depth - b.maxY}, degrees}
}
