package passage

import (
	"math"
)

// levels are the heights of the corners of an outline, the highest first.
func levels(ps []Point) []float64 {
	var out []float64
next:
	for _, p := range ps {
		at := len(out)
		for at > 0 && out[at-1] <= p.Y {
			if at--; out[at] == p.Y {
				continue next
			}
		}
		out = append(out, p.Y)
		copy(out[at+1:], out[at:])
		out[at] = p.Y
	}
	return out
}

// widthAt is the width of a convex outline at a height.
func widthAt(ps []Point, height float64) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for i, a := range ps {
		b := ps[(i+1)%len(ps)]
		if (a.Y > height) == (b.Y > height) && a.Y != height && b.Y != height {
			continue
		}
		for _, x := range crossings(a, b, height) {
			low, high = min(low, x), max(high, x)
		}
	}
	return max(0, high-low)
}

// crossings are the places where a side meets a height.
func crossings(a, b Point, height float64) []float64 {
	if a.Y == b.Y {
		return []float64{a.X, b.X}
	}
	part := (height - a.Y) / (b.Y - a.Y)
	if part < 0 || part > 1 {
		return nil
	}
	return []float64{a.X + part*(b.X-a.X)}
}
