package passage_test

import (
	"math"

	"doorsill/internal/engine/passage"
)

// The search below knows nothing of pushing chairs against walls. For every
// heading and every place across it lists where along the other direction the
// outline is free, and walks from start to goal through places that touch.

// grid is the search's resolution.
type grid struct{ degrees, mm float64 }

// coarse does for most passages, fine where there are only millimetres to
// either side.
var (
	coarse = grid{0.5, 5}
	fine   = grid{0.25, 1.5}
)

// gridFor picks the fine grid where a passage is little wider than the chair.
func gridFor(ps []passage.Point, width, little float64) grid {
	if _, _, low, high := extent(ps); width-(high-low) < little {
		return fine
	}
	return coarse
}

// across is how many columns a step of heading can shift a chair by.
func (g grid) across(ps []passage.Point) int {
	return int(math.Ceil(reach(ps) * g.degrees * math.Pi / 180 / g.mm))
}

// span is a stretch of free places; it is empty when high is less than low.
type span struct{ low, high float64 }

var empty = span{1, 0}

func (s span) meets(o span) bool { return max(s.low, o.low) <= min(s.high, o.high) }

// space holds the free stretches by heading, column and layer.
type space struct {
	grid
	headings, columns, layers, shift int
	free                             []span
}

func newSpace(g grid, degrees, mm float64, layers, shift int) *space {
	s := &space{grid: g, headings: int(degrees/g.degrees) + 1, columns: int(mm/g.mm) + 1, layers: layers, shift: shift}
	s.free = make([]span, s.headings*s.columns*layers)
	for i := range s.free {
		s.free[i] = empty
	}
	return s
}

func (s *space) at(heading, column, layer int) int {
	return (heading*s.columns+column)*s.layers + layer
}

// reaches walks from one place to another, both as at gives them. Each stretch
// is first cut by a floor and a ceiling of its heading.
func (s *space) reaches(from, to int, cut func(heading int) span) bool {
	free := make([]span, len(s.free))
	per := s.columns * s.layers
	for h := range s.headings {
		limit := cut(h)
		for i := h * per; i < (h+1)*per; i++ {
			free[i] = span{max(s.free[i].low, limit.low), min(s.free[i].high, limit.high)}
		}
	}
	seen := make([]bool, len(free))
	queue := []int{from}
	seen[from] = true
	for len(queue) > 0 {
		n := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		if n == to {
			return free[to].meets(free[to])
		}
		column := n / s.layers % s.columns
		for dh := -1; dh <= 1; dh++ {
			across := s.shift
			if dh == 0 {
				across = 1
			}
			first := n - n%s.layers + dh*per
			if first < 0 || first >= len(free) {
				continue
			}
			for dc := max(-across, -column); dc <= min(across, s.columns-1-column); dc++ {
				for next := first + dc*s.layers; next < first+(dc+1)*s.layers; next++ {
					if !seen[next] && free[n].meets(free[next]) {
						seen[next] = true
						queue = append(queue, next)
					}
				}
			}
		}
	}
	return false
}

// centred moves an outline so that turning it shifts it least.
func centred(ps []passage.Point) []passage.Point {
	minX, maxX, minY, maxY := extent(ps)
	out := make([]passage.Point, len(ps))
	for i, p := range ps {
		out[i] = passage.Point{X: p.X - (minX+maxX)/2, Y: p.Y - (minY+maxY)/2}
	}
	return out
}

// spin turns an outline.
func spin(ps []passage.Point, degrees float64) []passage.Point {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	out := make([]passage.Point, len(ps))
	for i, p := range ps {
		out[i] = passage.Point{X: p.X*cos - p.Y*sin, Y: p.X*sin + p.Y*cos}
	}
	return out
}

// beyond is the stretch of heights of the part of an outline with x below a
// limit.
func beyond(ps []passage.Point, limit float64) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for i, p := range ps {
		q := ps[(i+1)%len(ps)]
		if p.X < limit {
			low, high = min(low, p.Y), max(high, p.Y)
		}
		if (p.X < limit) != (q.X < limit) {
			y := p.Y + (limit-p.X)/(q.X-p.X)*(q.Y-p.Y)
			low, high = min(low, y), max(high, y)
		}
	}
	return low, high
}

func extent(ps []passage.Point) (minX, maxX, minY, maxY float64) {
	minX, maxX, minY, maxY = math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, p := range ps {
		minX, maxX, minY, maxY = min(minX, p.X), max(maxX, p.X), min(minY, p.Y), max(maxY, p.Y)
	}
	return minX, maxX, minY, maxY
}

func reach(ps []passage.Point) float64 {
	r := 0.0
	for _, p := range ps {
		r = max(r, math.Sqrt(p.X*p.X+p.Y*p.Y))
	}
	return r
}

// cornerSearch prepares the search of a left turn from a corridor that comes
// up between 0 and in to one that leaves to the left, the inner corner at the
// origin. The function it returns tells whether a corridor out is wide enough.
func cornerSearch(ps []passage.Point, in float64) func(out float64) bool {
	const from, to = 75.0, 195.0
	ps = centred(ps)
	left := -reach(ps) - 20
	g := gridFor(ps, in, 150)
	s := newSpace(g, to-from, in-left, 1, g.across(ps))
	tops := make([]float64, s.headings)
	for h := range s.headings {
		turned := spin(ps, from+float64(h)*s.degrees)
		_, maxX, _, maxY := extent(turned)
		tops[h] = maxY
		for c := 0; c < s.columns && left+float64(c)*s.mm+maxX <= in; c++ {
			low, _ := beyond(turned, -left-float64(c)*s.mm) // what lies left of the inner corner must lie above it
			s.free[s.at(h, c, 0)] = span{max(-low, -1e9), 1e9}
		}
	}
	minX, _, _, _ := extent(spin(ps, 90))
	start := s.at(int((90-from)/s.degrees), int(math.Ceil((-minX-left)/s.mm)), 0)
	goal := s.at(int((180-from)/s.degrees), 0, 0)
	return func(out float64) bool {
		return s.reaches(start, goal, func(h int) span { return span{-1e9, out - tops[h]} })
	}
}

// doorwaySearch prepares the search of a left turn from a corridor below a
// wall of some thickness through an opening from 0 to clear. The function it
// returns tells whether a corridor is wide enough.
func doorwaySearch(g grid, ps []passage.Point, clear, thick float64) func(corridor float64) bool {
	const from, to = -15.0, 105.0
	ps = centred(ps)
	left, right := -reach(ps)-20, clear+reach(ps)+20
	s := newSpace(g, to-from, right-left, 3, g.across(ps))
	bottoms := make([]float64, s.headings)
	for h := range s.headings {
		turned := spin(ps, from+float64(h)*s.degrees)
		_, _, bottoms[h], _ = extent(turned)
		flipped := make([]passage.Point, len(turned))
		for i, p := range turned {
			flipped[i] = passage.Point{X: -p.X, Y: p.Y}
		}
		for c := range s.columns {
			x := left + float64(c)*s.mm
			free := between(blocked(turned, -x, thick), blocked(flipped, x-clear, thick))
			copy(s.free[s.at(h, c, 0):], free[:])
		}
	}
	start := s.at(int((0-from)/s.degrees), 0, 0)
	goal := s.at(int((90-from)/s.degrees), 0, 2)
	return func(corridor float64) bool {
		return s.reaches(start, goal, func(h int) span { return span{-corridor - bottoms[h], 1e9} })
	}
}

// blocked is where the part beyond a jamb meets the wall.
func blocked(ps []passage.Point, limit, thick float64) span {
	low, high := beyond(ps, limit)
	if low > high {
		return empty
	}
	return span{-high, thick - low}
}

// between lists what two blocked stretches leave: below both, between, above.
func between(a, b span) [3]span {
	const sky = 1e9
	switch {
	case a == empty && b == empty:
		return [3]span{{-sky, sky}, empty, empty}
	case a == empty:
		a = b
	case b == empty:
		b = a
	}
	if b.low < a.low {
		a, b = b, a
	}
	free := [3]span{{-sky, a.low}, empty, {max(a.high, b.high), sky}}
	if a.high < b.low {
		free[1] = span{a.high, b.low}
	}
	return free
}
