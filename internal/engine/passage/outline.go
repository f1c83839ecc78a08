package passage

import (
	"doorsill/internal/engine/provenance"
)

// outlineOf walks round the chair and its parts, against the clock, so that
// the plan shows the control where it is. Parts that overlap are drawn one by
// one, each on top of the side.
func outlineOf(m Measures, axle float64) []Point {
	half := m.WidthMM / 2
	front, rear := axle, axle-m.LengthMM
	left, right := sideParts(m.Parts, Left), sideParts(m.Parts, Right)
	points := []Point{{rear, -half}}
	for i := len(right) - 1; i >= 0; i-- { // rear to front
		p := right[i]
		points = append(points, Point{axle - p.ToMM, -half}, Point{axle - p.ToMM, -half - p.OutMM},
			Point{axle - p.FromMM, -half - p.OutMM}, Point{axle - p.FromMM, -half})
	}
	points = append(points, Point{front, -half}, Point{front, half})
	for _, p := range left {
		points = append(points, Point{axle - p.FromMM, half}, Point{axle - p.FromMM, half + p.OutMM},
			Point{axle - p.ToMM, half + p.OutMM}, Point{axle - p.ToMM, half})
	}
	return append(points, Point{rear, half})
}

// sideParts are the parts of a side, front to rear.
func sideParts(parts []Part, side Side) []Part {
	var out []Part
	for _, p := range parts {
		if p.Side != side {
			continue
		}
		out = append(out, p)
		for i := len(out) - 1; i > 0 && out[i].FromMM < out[i-1].FromMM; i-- {
			out[i], out[i-1] = out[i-1], out[i]
		}
	}
	return out
}

// Outline returns the corners as given, in the chair's frame.
func (c *Chair) Outline() []Point { return append([]Point{}, c.outline...) }

// Hull returns the corners that passages are judged with: the smallest convex
// outline about the chair, against the clock.
func (c *Chair) Hull() []Point { return append([]Point{}, c.hull...) }

// LengthMM is foremost to rearmost point, WidthMM the widest point with all
// that sticks out, 1 decimal.
func (c *Chair) LengthMM() float64 {
	b := boxOf(c.hull)
	return provenance.Round(b.maxX-b.minX, 1)
}

// WidthMM is the widest point with all that sticks out, 1 decimal.
func (c *Chair) WidthMM() float64 {
	b := boxOf(c.hull)
	return provenance.Round(b.maxY-b.minY, 1)
}

// mirrored is the chair seen in a mirror: right and left changed.
func (c *Chair) mirrored() *Chair {
	flip := func(ps []Point) []Point {
		out := make([]Point, len(ps))
		for i, p := range ps {
			out[len(ps)-1-i] = Point{p.X, -p.Y}
		}
		return out
	}
	return &Chair{outline: flip(c.outline), hull: flip(c.hull), assumes: c.assumes}
}
