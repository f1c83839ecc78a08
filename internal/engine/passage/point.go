package passage

import (
	"math"
)

// Point is a place in millimetres.
type Point struct{ X, Y float64 }

// Segment is a straight piece of wall.
type Segment struct{ A, B Point }

func (p Point) plus(q Point) Point    { return Point{p.X + q.X, p.Y + q.Y} }
func (p Point) minus(q Point) Point   { return Point{p.X - q.X, p.Y - q.Y} }
func (p Point) dot(q Point) float64   { return float64(p.X*q.X) + float64(p.Y*q.Y) }
func (p Point) cross(q Point) float64 { return float64(p.X*q.Y) - float64(p.Y*q.X) }
func (p Point) length() float64       { return math.Sqrt(p.dot(p)) }
func (p Point) times(f float64) Point { return Point{p.X * f, p.Y * f} }
func (p Point) turned(a angle) Point {
	return Point{float64(p.X*a.cos) - float64(p.Y*a.sin), float64(p.X*a.sin) + float64(p.Y*a.cos)}
}
func radians(degrees float64) float64 { return degrees * math.Pi / 180 }
func distance(p, q Point) float64     { return p.minus(q).length() }
func direction(degrees float64) angle {
	s, c := math.Sincos(radians(degrees))
	return angle{s, c}
}

func turnedAll(ps []Point, d float64) []Point {
	a := direction(d)
	out := make([]Point, len(ps))
	for i, p := range ps {
		out[i] = p.turned(a)
	}
	return out
}

// angle is a direction by its sine and cosine.
type angle struct{ sin, cos float64 }

func shifted(ps []Point, by Point) []Point {
	out := make([]Point, len(ps))
	for i, p := range ps {
		out[i] = p.plus(by)
	}
	return out
}

// box is the smallest upright rectangle about some points.
type box struct{ minX, maxX, minY, maxY float64 }

func boxOf(ps []Point) box {
	b := box{ps[0].X, ps[0].X, ps[0].Y, ps[0].Y}
	for _, p := range ps[1:] {
		b.minX, b.maxX = min(b.minX, p.X), max(b.maxX, p.X)
		b.minY, b.maxY = min(b.minY, p.Y), max(b.maxY, p.Y)
	}
	return b
}

// hull returns the corners of the smallest convex outline about the points,
// against the clock, without corners that lie on a side.
func hull(points []Point) []Point {
	ps := inOrder(points)
	if len(ps) < 3 {
		return ps
	}
	lower := chain(ps)
	for i, j := 0, len(ps)-1; i < j; i, j = i+1, j-1 {
		ps[i], ps[j] = ps[j], ps[i]
	}
	upper := chain(ps)
	return append(lower[:len(lower)-1], upper[:len(upper)-1]...)
}

// inOrder are the different points from left to right, and from below where
// they lie above each other. An outline has few.
func inOrder(points []Point) []Point {
	var ps []Point
next:
	for _, p := range points {
		at := len(ps)
		for at > 0 && (p.X < ps[at-1].X || p.X == ps[at-1].X && p.Y <= ps[at-1].Y) {
			if at--; ps[at] == p {
				continue next
			}
		}
		ps = append(ps, p)
		copy(ps[at+1:], ps[at:])
		ps[at] = p
	}
	return ps
}

// chain is one half of the hull of sorted points.
func chain(ps []Point) []Point {
	var out []Point
	for _, p := range ps {
		for n := len(out); n >= 2 && out[n-1].minus(out[n-2]).cross(p.minus(out[n-2])) <= 0; n = len(out) {
			out = out[:n-1]
		}
		out = append(out, p)
	}
	return out
}
