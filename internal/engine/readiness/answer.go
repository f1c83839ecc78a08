package readiness

import (
	"doorsill/internal/checklist"
	"doorsill/internal/decimal"
	"doorsill/internal/engine/quantity"
)

// State of an answer.
type State uint8

const (
	NotTested State = iota
	NotApplicable
	Answered
)

// stateIDs is read only.
var stateIDs = [...]string{"not-tested", "not-applicable", "answered"}

// String returns the id of the state.
func (s State) String() string { return stateIDs[s] }

// Head is one answer to one item. Item is a place in the checklist; the answer
// fits the item's type.
type Head struct {
	Item  int
	State State
	// Level answers an item in levels, "" when there is none.
	Level string
	// Number answers a number or count, Left and Right one with sides.
	Number, Left, Right decimal.Micro
	HasNumber           bool
	// Facts are the answered side questions by fact id; nil for none.
	Facts map[string]bool
	// Named: the item does not apply, for a reason that the checklist names;
	// Reason is then that reason.
	Named  bool
	Reason string
}

// Answer is what stands for one item.
type Answer struct {
	State State
	// Level is the chosen level, or "".
	Level string
	// Band is the band of a number or count, 1 being the best, or 0.
	Band int
	// Points is the worth of the answer, 0 to 100.
	Points int
	// Value is the number; it has a meaning when HasValue. Left and Right are its
	// two sides where the item has sides.
	Value, Left, Right decimal.Micro
	HasValue           bool
	// Computed answers come from readings and runs.
	Computed bool
	// raised has a bit for each effect of the item that any head raises, and
	// assumed for those that rest on a question that was not answered; known has
	// one for those that rest on more than that the item was not tested.
	raised, assumed, known uint32
	heads, na              int
	// open: somebody says that it was not tested, or people do not agree whether
	// it applies. It then covers nothing, whatever else was answered.
	open bool
	// named and reason are those of the head that stands.
	named  bool
	reason string
}

// unanswered reports whether the item is open for anybody.
func (a *Answer) unanswered() bool { return a.open }

// covered reports whether the answer counts towards what was answered.
func (a *Answer) covered() bool { return a.State == Answered && !a.open }

// Choice reports whether several people's answers wait for a choice.
func (a *Answer) Choice() bool { return a.heads > 1 }

// answers works out what counts for every item, in the checklist's order.
func (c *Checklist) answers(in Input) []Answer {
	facts := derive(&in)
	answers := make([]Answer, len(c.items))
	for i := range in.Heads {
		h := &in.Heads[i]
		answers[h.Item].merge(&c.items[h.Item], c.resolve(h, &in, facts))
	}
	for i := range answers {
		if answers[i].heads == 0 {
			answers[i].merge(&c.items[i], c.resolve(&Head{Item: i}, &in, facts))
			answers[i].heads, answers[i].na = 0, 0 // nobody said so, so nobody disagrees
		}
		answers[i].settle(c, i, &in, facts)
	}
	return answers
}

// resolve returns what one head says.
func (c *Checklist) resolve(h *Head, in *Input, facts derived) Answer {
	it := &c.items[h.Item]
	a := Answer{State: h.State, named: h.Named, reason: h.Reason}
	switch {
	case it.From != "":
		a = it.computed(quantityOf(in, it.source), h.State, in.Analysis.Missed > 0 && it.From == checklist.FromRelease)
	case h.State != Answered:
	case h.Level != "":
		a.Level = h.Level
		a.Points = it.levelPoints(h.Level)
	default:
		a.Value, a.HasValue = h.Number, true
		a.Left, a.Right = h.Left, h.Right
		a.Band = it.band(a.Value)
		a.Points = bandPoints(a.Band, it.bands())
	}
	a.raise(it, h, facts)
	if a.State == NotTested {
		a.Band = 0 // of a rate that rests on too little
	}
	return a
}

// computed turns a quantity into an answer. What was measured counts even where
// somebody marked the item as not applicable; but that nothing was counted of what
// there is not, such as presses without a switch, is no measurement.
func (it *item) computed(f *quantity.Quantity, state State, worst bool) Answer {
	a := Answer{Computed: true}
	none := state == NotApplicable && it.NA && it.Type == checklist.TypeCount && f.Value == 0
	if f.Has() && !none {
		a.Band = it.band(f.Value)
		if worst {
			a.Band = it.bands()
		}
		if !f.Thin || a.Band == it.bands() {
			a.State, a.Value, a.HasValue = Answered, f.Value, true
			a.Points = bandPoints(a.Band, it.bands())
			return a
		}
		// What rests on too little can only become worse: it is not tested, and
		// yet raises what its band raises. In the best band it shows nothing.
		if a.Band > 1 {
			return a
		}
		a.Band = 0
	}
	if f.Origin == quantity.NotAsked || state == NotApplicable && it.NA {
		a.State = NotApplicable
	}
	return a
}

// merge adds one more head: all effects count, and the more cautious answer
// stands. Not tested is more cautious than any answer that raises nothing.
func (a *Answer) merge(it *item, b Answer) {
	raised, assumed, known := a.raised|b.raised, a.assumed|b.assumed, a.known|b.known
	heads, na, open := a.heads+1, a.na, a.open || b.State == NotTested
	if b.State == NotApplicable {
		na++
	}
	if a.heads == 0 || b.caution(it) > a.caution(it) {
		*a = b
	}
	a.raised, a.assumed, a.known, a.heads, a.na, a.open = raised, assumed, known, heads, na, open
}

// caution orders answers: first by the gravest effect, then by worth. An item
// that does not apply comes last.
func (a *Answer) caution(it *item) int {
	weight := 0
	for i := range it.Effects {
		if a.raised&(1<<i) != 0 {
			weight = max(weight, gravity(it.Effects[i].Effect))
		}
	}
	switch a.State {
	case NotApplicable:
		return weight*1000 - 1
	case NotTested:
		if it.grave {
			weight = max(weight, gravity(checklist.LimitPractise))
		}
		return weight*1000 + 200
	}
	return weight*1000 + 100 - a.Points
}

// settle counts it as one more head that was not tested when people do not agree
// whether the item applies: that holds back most.
func (a *Answer) settle(c *Checklist, place int, in *Input, facts derived) {
	if a.na == 0 || a.na == a.heads {
		return
	}
	heads, na := a.heads, a.na
	untested := Answer{Computed: a.Computed}
	untested.raise(&c.items[place], &Head{Item: place}, facts)
	a.merge(&c.items[place], untested)
	a.heads, a.na = heads, na
}
