package passage

// show adds the chair to a plan at some poses and at the tightest.
func (p *Plan) show(c *Chair, poses []Pose, tightest Pose) {
	for _, pose := range poses {
		outline := shifted(turnedAll(c.outline, pose.Heading), pose.At)
		p.Poses = append(p.Poses, Placed{Pose: pose, Outline: outline, Tightest: pose == tightest})
	}
}

// driven is a path with its tightest point.
type driven struct {
	path []Pose
	at   int
	gap  gap
}

// follow drives moves past walls.
func (c *Chair) follow(start Pose, moves []Move, walls [][]Point) driven {
	d := driven{path: drive(start, moves, sweepDegrees, sweepMM)}
	d.gap, d.at = c.tightest(d.path, walls)
	return d
}

// parked is one pose next to walls.
func (c *Chair) parked(pose Pose, walls [][]Point) driven {
	d := driven{path: []Pose{pose}}
	d.gap, _ = c.tightest(d.path, walls)
	return d
}

// draw adds a path and its tightest point to a plan.
func (p *Plan) draw(c *Chair, d driven) {
	p.Tightest = Mark{d.gap.on, d.gap.at, d.gap.room}
	p.show(c, thin(d.path, d.at), d.path[d.at])
}

// thin picks about ten poses of a path for a drawing: the ends, the tightest,
// and some between.
func thin(path []Pose, tightest int) []Pose {
	const about = 8
	var out []Pose
	every := max(1, len(path)/about)
	for i, pose := range path {
		if i%every == 0 || i == len(path)-1 || i == tightest {
			out = append(out, pose)
		}
	}
	return out
}

// edges are the sides of walls, for a drawing.
func edges(walls [][]Point) []Segment {
	var out []Segment
	for _, w := range walls {
		for i, a := range w {
			out = append(out, Segment{a, w[(i+1)%len(w)]})
		}
	}
	return out
}

// block is an upright rectangle, against the clock.
func block(minX, maxX, minY, maxY float64) []Point {
	return []Point{{minX, minY}, {maxX, minY}, {maxX, maxY}, {minX, maxY}}
}
