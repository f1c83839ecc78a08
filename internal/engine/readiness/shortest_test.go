package readiness

import (
	"math/rand/v2"
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/strength"
	"doorsill/internal/engine/trial"
)

// oneSection is a random checklist of one section, with random answers.
func oneSection(r *rand.Rand) (*checklist.Definition, []Head) {
	var items []checklist.Item
	var heads []Head
	types := []string{checklist.TypeHelp, checklist.TypeFit, checklist.TypeYesNo}
	for i := range 3 + r.IntN(6) {
		it := checklist.Item{ID: "item-" + string(rune('a'+i)), Title: "Item", Type: types[r.IntN(3)], Weight: 1 + r.IntN(3), NA: true}
		items = append(items, it)
		h := Head{Item: i, State: State(r.IntN(3))}
		if r.IntN(2) == 0 {
			h.State = Answered
		}
		if h.State == Answered {
			list := checklist.Levels(it.Type)
			h.Level = list[r.IntN(len(list))]
		}
		heads = append(heads, h)
	}
	return &checklist.Definition{Sections: []checklist.Section{{Code: "pos", Title: "Sitting", Items: items}}}, heads
}

func newWay(list *checklist.Definition, heads []Head) (way, *judge) {
	c := Compile(list)
	in := Input{Heads: heads, Analysis: &strength.Analysis{}, Trial: &trial.Findings{}, Access: &access.Result{}}
	j := &judge{Checklist: c, in: in, Result: Result{Answers: c.answers(in)}}
	j.domains()
	return way{judge: j, next: Accompanied, named: make([]bool, c.Len())}, j
}

// meets applies the gate as a reader would: the coverage, and the rounded score
// in which what is not tested counts as nothing.
func meets(points, weights []int, state []State, least int) bool {
	sum, answered, all := 0, 0, 0
	for i := range points {
		if state[i] == NotApplicable {
			continue
		}
		all += weights[i]
		if state[i] == Answered {
			answered += weights[i]
			sum += weights[i] * points[i]
		}
	}
	if answered == 0 || 100*answered < 90*all {
		return false
	}
	score := (2*sum + all) / (2 * all)
	return score >= least
}

// TestShortestWayIsShortest compares with trying every set of items.
func TestShortestWayIsShortest(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	compared := 0
	for range 4000 {
		list, heads := oneSection(r)
		w, j := newWay(list, heads)
		g := gate{level: Accompanied, section: 0, code: "pos", least: 40 + r.IntN(60)}
		if j.Domains[0].Applicable == 0 {
			continue
		}
		n := len(j.items)
		points, weights, state := make([]int, n), make([]int, n), make([]State, n)
		for i := range n {
			points[i], weights[i], state[i] = j.Answers[i].Points, j.items[i].Weight, j.Answers[i].State
		}
		w.section(g)
		best := bruteForce(points, weights, state, g.least)
		if len(w.steps) != best {
			t.Fatalf("%d steps, trying every set finds %d: points %v weights %v states %v least %d", len(w.steps), best, points, weights, state, g.least)
		}
		compared++
	}
	if compared < 3000 {
		t.Errorf("only %d checklists compared", compared)
	}
}

// bruteForce returns the size of the smallest set of items that, at their best,
// meets the gate.
func bruteForce(points, weights []int, state []State, least int) int {
	n, best := len(points), len(points)+1
	for set := range 1 << n {
		p, s, size := append([]int(nil), points...), append([]State(nil), state...), 0
		for i := range n {
			if set&(1<<i) != 0 && state[i] != NotApplicable {
				p[i], s[i] = 100, Answered
				size++
			}
		}
		if size < best && meets(p, weights, s, least) {
			best = size
		}
	}
	return best
}

// TestTheWayLeadsThere: doing no more than what the steps ask meets the gate.
func TestTheWayLeadsThere(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 2000 {
		list, heads := oneSection(r)
		w, j := newWay(list, heads)
		least := 40 + r.IntN(60)
		d := &j.Domains[0]
		short := newShortfall(d, least)
		if d.Applicable == 0 || short.met() {
			continue
		}
		var free []candidate
		for i := range j.items {
			if c, ok := w.candidate(i); ok {
				free = append(free, c)
			}
		}
		chosen := fewest(short, free)
		for _, c := range chosen {
			short = short.with(c, c.gain)
		}
		n := len(j.items)
		points, weights, state := make([]int, n), make([]int, n), make([]State, n)
		for i := range n {
			points[i], weights[i], state[i] = j.Answers[i].Points, j.items[i].Weight, j.Answers[i].State
		}
		for k, o := range w.ease(chosen, short) {
			points[chosen[k].item], state[chosen[k].item] = o.points, Answered
		}
		if !meets(points, weights, state, least) {
			t.Fatalf("the steps do not reach %d: points %v weights %v states %v", least, points, weights, state)
		}
	}
}
