package trend

import (
	"math"
	"math/rand/v2"
)

// Draws is how many courses are drawn where several directions count; seed
// begins them, so that the same visits always give the same forecast.
const (
	Draws = 8000
	seed  = 20
)

// weakestOf is an outlook for whichever of several directions is the weakest at
// a time. Its middle is the least of the lines. Its lower end comes from drawn
// courses, each with a line a direction that lies as far from the one that was
// found as the scatter allows, and is never above the lines' own lower bounds. The scatter is one for all, directions are otherwise taken
// as independent, which brings the date forward. The least of several unsure
// lines lies too low to bound the truth from above too: the upper end is the
// least of the lines' own upper bounds, each so sure that all of them together
// hold.
type weakestOf struct {
	lines   []oneLine
	courses [][]straight
}

// straight is a line as its force at the last visit and its slope.
type straight struct{ force, slope float64 }

func newWeakest(lines []Line, s scatter) *weakestOf {
	w := &weakestOf{courses: make([][]straight, Draws)}
	for i := range lines {
		w.lines = append(w.lines, oneLine{lines[i], s})
	}
	random := rand.New(rand.NewPCG(seed, seed))
	all := make([]straight, Draws*len(lines))
	for i := range w.courses {
		w.courses[i] = all[i*len(lines) : (i+1)*len(lines)]
		share := s.share * s.drawn(random)
		for j := range lines {
			l := &lines[j]
			force := l.meanY + float64(share*l.meanY*random.NormFloat64())/math.Sqrt(float64(l.N))
			slope := l.slope + float64(share*l.meanY*random.NormFloat64())/math.Sqrt(l.squares)
			w.courses[i][j] = straight{force - float64(slope*l.meanX), slope}
		}
	}
	return w
}

// drawn is by how much a scatter may really be larger than was measured.
func (s scatter) drawn(random *rand.Rand) float64 {
	if s.freedom == 0 {
		return 1
	}
	sum := 0.0
	for range int(s.freedom) {
		z := random.NormFloat64()
		sum += float64(z * z)
	}
	return math.Sqrt(s.freedom / sum)
}

func (w *weakestOf) at(weeks float64) span {
	all := w.least(func(o *oneLine, reach float64) span { return o.between(weeks, reach) })
	all.low = min(all.low, w.lowest(func(course []straight) float64 { return weakestAt(course, weeks) }))
	return all
}

// least is the least of what the lines say by themselves, with the surer upper
// bounds.
func (w *weakestOf) least(says func(o *oneLine, reach float64) span) span {
	sure := 1 - (1-Confidence)/float64(len(w.lines))
	all := span{math.Inf(1), math.Inf(1), math.Inf(1)}
	for i := range w.lines {
		o := &w.lines[i]
		one, high := says(o, o.reach()), says(o, o.scatter.reach(sure)*o.line.meanY).high
		all = span{min(all.low, one.low), min(all.mid, one.mid), min(all.high, high)}
	}
	return all
}

func weakestAt(course []straight, weeks float64) float64 {
	least := math.Inf(1)
	for _, s := range course {
		least = min(least, s.force+float64(s.slope*weeks))
	}
	return least
}

func (w *weakestOf) reaches(force float64) span {
	all := w.least(func(o *oneLine, reach float64) span { return o.reachesWithin(force, reach) })
	all.low = min(all.low, w.lowest(func(course []straight) float64 { return firstBelow(course, force) }))
	return all
}

// firstBelow is when the first line of a course is no longer above a force.
func firstBelow(course []straight, force float64) float64 {
	first := math.Inf(1)
	for _, s := range course {
		switch above := s.force - force; {
		case above <= 0:
			return 0
		case s.slope < 0:
			first = min(first, within(above/-s.slope))
		}
	}
	return first
}

func (w *weakestOf) chance(force, weeks float64) (float64, bool) {
	above := 0
	for _, course := range w.courses {
		if weakestAt(course, weeks) > force {
			above++
		}
	}
	return float64(above) / Draws, true
}

// lowest is what all but a twentieth of the courses lie above.
func (w *weakestOf) lowest(value func([]straight) float64) float64 {
	const tail = Draws/20 + 1
	var least []float64 // in order, at most tail of them
	for _, course := range w.courses {
		v := value(course)
		if len(least) == tail && v >= least[tail-1] {
			continue
		}
		if len(least) < tail {
			least = append(least, v)
		}
		i := len(least) - 1
		for ; i > 0 && least[i-1] > v; i-- {
			least[i] = least[i-1]
		}
		least[i] = v
	}
	return least[tail-1]
}
