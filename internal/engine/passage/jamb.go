package passage

import "math"

// jamb is a piece of wall that ends at x and goes on for ever towards smaller
// x, between the heights low and high. The inner corner of a bend is a jamb
// whose low is far away.
type jamb struct{ x, low, high float64 }

// shape is a convex outline made ready to be held against many jambs.
type shape struct {
	points []Point
	box    box
	// sides are those that look towards smaller x: only they can part the
	// outline from a jamb, beside its own ends.
	sides []side
}

// side is a point on a side and the direction that it looks in.
type side struct{ start, out Point }

func newShape(points []Point) shape {
	s := shape{points: points, box: boxOf(points)}
	for i, start := range points {
		edge := points[(i+1)%len(points)].minus(start)
		if edge.Y >= 0 {
			continue
		}
		length := edge.length()
		s.sides = append(s.sides, side{start, Point{edge.Y / length, -edge.X / length}})
	}
	return s
}

// room is the gap between an outline and a jamb, as separation gives it. A gap
// of enough or more may be given as any number from enough up: whoever looks
// for the least need not know it.
func (j jamb) room(s shape, enough float64) float64 {
	best := max(s.box.minX-j.x, j.low-s.box.maxY, s.box.minY-j.high)
	for _, side := range s.sides {
		if best >= enough {
			return best
		}
		across := float64(side.out.X * (j.x - side.start.X))
		best = max(best, across+min(float64(side.out.Y*(j.low-side.start.Y)), float64(side.out.Y*(j.high-side.start.Y))))
	}
	if best <= 0 || best >= enough {
		return best
	}
	return j.distance(s.points)
}

// distance is the distance of an outline that stands apart.
func (j jamb) distance(outline []Point) float64 {
	best := math.Inf(1)
	for i, p := range outline {
		q := outline[(i+1)%len(outline)]
		dx, dy := max(0, p.X-j.x), max(0, j.low-p.Y, p.Y-j.high)
		square := float64(dx*dx) + float64(dy*dy)
		for _, end := range [2]Point{{j.x, j.low}, {j.x, j.high}} {
			d := footOn(p, q, end).minus(end)
			square = min(square, d.dot(d))
		}
		best = min(best, square)
	}
	return math.Sqrt(best)
}

// flipped is an outline seen in a mirror along x = 0, against the clock again.
func flipped(ps []Point) []Point {
	out := make([]Point, len(ps))
	for i, p := range ps {
		out[len(ps)-1-i] = Point{-p.X, p.Y}
	}
	return out
}
