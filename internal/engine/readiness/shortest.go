package readiness

import (
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
)

// candidate is an item that could help a section's score.
type candidate struct {
	item, weight int
	// gain is what the best answer adds to the section's slack: see shortfall.
	gain    int
	untried bool
}

// shortfall is how far a section is from a gate. Twice the points times weight,
// less twice the least score (less a half, since scores are rounded) times the
// applicable weight, is the slack; it must not be negative. In that form every
// item adds its own part, so the items with the largest parts are the fewest.
type shortfall struct {
	slack int
	// cover is the weight that still has to be answered.
	cover int
}

func newShortfall(d *Domain, least int) shortfall {
	return shortfall{
		slack: 2*d.sum - (2*least-1)*d.weight,
		cover: (strength.CoverageGate*d.weight+99)/100 - d.answeredWeight,
	}
}

func (s shortfall) met() bool { return s.slack >= 0 && s.cover <= 0 }

// part is what an answer that is worth so many points more adds to the slack.
func part(weight, more int) int { return 2 * weight * more }

func (s shortfall) with(c candidate, part int) shortfall {
	s.slack += part
	if c.untried {
		s.cover -= c.weight
	}
	return s
}

// section adds the fewest items that lift a section over its gate.
func (w *way) section(g gate) {
	if g.section < 0 || w.Domains[g.section].Applicable == 0 {
		_, say := w.scored(g)
		w.add(-1, say)
		return
	}
	short := newShortfall(&w.Domains[g.section], g.least)
	var free, named []candidate
	for i := w.sections[g.section].from; i < w.sections[g.section].to; i++ {
		c, ok := w.candidate(i)
		switch {
		case ok && w.named[i]:
			short, named = short.with(c, c.gain), append(named, c)
		case ok:
			free = append(free, c)
		}
	}
	var chosen []candidate
	if !short.met() {
		chosen = fewest(short, free)
	}
	for _, c := range chosen {
		short = short.with(c, c.gain)
	}
	// Of those that are named for what they raise, too, as much as is needed.
	all := append(chosen, named...)
	asked := w.ease(all, short)
	for n, c := range chosen {
		w.add(c.item, w.better(c, asked[n], g))
	}
	for n, c := range all {
		short.slack += part(c.weight, asked[n].points-100)
	}
	for n, c := range all[len(chosen):] {
		if clear := w.clearedItem(c.item); clear != nil {
			clear.asked = asked[len(chosen)+n]
			clear.scored = c.untried && short.cover > -c.weight || short.slack < part(c.weight, clear.asked.points-w.before(c))
		}
	}
}

// clearedItem returns the item among those that are named for what they raise, or nil.
func (w *way) clearedItem(item int) *cleared {
	for k := range w.cleared {
		if w.cleared[k].raised.Item == item {
			return &w.cleared[k]
		}
	}
	return nil
}

// candidate reports whether an item can still help, and by how much.
func (w *way) candidate(i int) (candidate, bool) {
	a := &w.Answers[i]
	if a.State == NotApplicable {
		return candidate{}, false
	}
	c := candidate{item: i, weight: w.items[i].Weight, untried: !a.covered()}
	c.gain = part(c.weight, 100-w.before(c))
	return c, c.untried || c.gain > 0
}

// before is what the item is worth as it stands: nothing where it is not tested.
func (w *way) before(c candidate) int {
	if c.untried {
		return 0
	}
	return w.Answers[c.item].Points
}

// fewest returns the smallest set of candidates that meets the shortfall: for
// every number of untried items, heaviest first, the fewest answered ones that
// then still have to be better. Of sets of one size it takes the one that tests
// most anew. When nothing suffices it returns all.
func fewest(short shortfall, free []candidate) []candidate {
	var untried, tried []candidate
	for _, c := range free {
		if c.untried {
			untried = append(untried, c)
		} else {
			tried = append(tried, c)
		}
	}
	dearestFirst(untried)
	dearestFirst(tried)
	best, bestNew, bestOld := -1, len(untried), len(tried)
	for n := range len(untried) + 1 {
		after := short
		for _, c := range untried[:n] {
			after = after.with(c, c.gain)
		}
		old := 0
		for ; old < len(tried) && after.slack < 0; old++ {
			after = after.with(tried[old], tried[old].gain)
		}
		if after.met() && (best < 0 || n+old <= best) {
			best, bestNew, bestOld = n+old, n, old
		}
	}
	return append(untried[:bestNew:bestNew], tried[:bestOld]...)
}

// dearestFirst sorts by gain and keeps the checklist's order among equals.
func dearestFirst(list []candidate) {
	for i := range list {
		for k := i; k > 0 && list[k].gain > list[k-1].gain; k-- {
			list[k], list[k-1] = list[k-1], list[k]
		}
	}
}

// ease lowers what items must reach, one answer at a time and in turn, to the
// least that still suffices and leaves the next level. short is the shortfall with
// all of them at their best, and those stay there of which a step asks just for an
// answer.
func (w *way) ease(chosen []candidate, short shortfall) []option {
	asked := make([]option, len(chosen))
	for n, c := range chosen {
		asked[n] = w.items[c.item].options()[0]
	}
	for eased := true; eased; {
		eased = false
		for n, c := range chosen {
			lower, ok := w.lower(c, asked[n])
			if !ok {
				continue
			}
			slack := short.slack + part(c.weight, lower.points-asked[n].points)
			if slack >= 0 {
				asked[n], short.slack, eased = lower, slack, true
			}
		}
	}
	return asked
}

// lower returns the next answer below o that leaves the next level and, for an item
// that was answered, is still better than the answer.
func (w *way) lower(c candidate, o option) (option, bool) {
	clear := w.clearedItem(c.item)
	if w.named[c.item] && (clear == nil || o == clear.least) {
		return o, false
	}
	found := false
	for _, next := range w.items[c.item].options() {
		if found && w.leaves(c.item, next) && (clear != nil || c.untried || next.points > w.Answers[c.item].Points) {
			return next, true
		}
		found = found || next == o
	}
	return o, false
}

// better says which answer to an item a section's score asks for.
func (w *way) better(c candidate, o option, g gate) message.Message {
	it, why := &w.items[c.item], w.computedFrom(c.item)
	item, asks := message.Word("item", it.ID), message.Inner("option", it.asks(o))
	section := message.Word("section", w.Domains[g.section].Code)
	switch {
	case !c.untried:
		return message.New("readiness.step-better", item, message.Inner("answer", w.answer(c.item)), asks, section)
	case !why.Empty():
		return message.New("readiness.step-computed", item, message.Inner("why", why), asks, section)
	}
	return message.New("readiness.step-test", item, asks, section)
}
