package passage

import "math"

// gap is the room between two convex outlines at their nearest places. It is
// negative, the depth, where they overlap.
type gap struct {
	room float64
	// on lies on the first outline, at on the second.
	on, at Point
}

// separation returns the gap between two convex outlines against the clock.
func separation(p, q []Point) gap {
	a, b := aside(p, q), aside(q, p)
	if a.room < b.room {
		a = gap{b.room, b.at, b.on}
	}
	if a.room <= 0 {
		return a
	}
	best := nearest(p, q)
	if other := nearest(q, p); other.room < best.room {
		best = gap{other.room, other.at, other.on}
	}
	return best
}

// aside finds the side of p from which q stands off the most.
func aside(p, q []Point) gap {
	best := gap{room: math.Inf(-1)}
	for i, start := range p {
		edge := p[(i+1)%len(p)].minus(start)
		length := edge.length()
		if length == 0 {
			continue
		}
		out := Point{edge.Y / length, -edge.X / length}
		room, deepest := math.Inf(1), Point{}
		for _, k := range q {
			if d := out.dot(k.minus(start)); d < room {
				room, deepest = d, k
			}
		}
		if room > best.room {
			best = gap{room, deepest.minus(out.times(room)), deepest}
		}
	}
	return best
}

// nearest finds the corner of q that is nearest to a side of p.
func nearest(p, q []Point) gap {
	best := gap{room: math.Inf(1)}
	for i, start := range p {
		for _, k := range q {
			foot := footOn(start, p[(i+1)%len(p)], k)
			if d := distance(foot, k); d < best.room {
				best = gap{d, foot, k}
			}
		}
	}
	return best
}

// footOn is the place on a side that is nearest to a point.
func footOn(a, b, p Point) Point {
	side := b.minus(a)
	square := side.dot(side)
	if square == 0 {
		return a
	}
	along := max(0, min(1, p.minus(a).dot(side)/square))
	return a.plus(side.times(along))
}
