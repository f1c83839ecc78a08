package readiness

import (
	"doorsill/internal/checklist"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
)

// Step is one change on the way to the next level.
type Step struct {
	// Level is the next level.
	Level Level
	// Item is a place in the checklist, or -1.
	Item int
	// Say says what must change, and to what.
	Say message.Message
}

// up lists the fewest changes that lead to the next level. First come the ones
// without which it cannot be reached; then, for each section that falls short,
// the fewest items to answer better or at all.
func (j *judge) up() {
	next := j.next()
	if next >= levels {
		return
	}
	w := way{judge: j, next: next, named: make([]bool, len(j.items)), facts: derive(&j.in)}
	w.effects()
	w.beforeMoving()
	w.gravest()
	w.untested()
	shown, gate := j.stopShown()
	w.must(next == Practise && !shown, itemStop, gate, message.New("readiness.step-stop"))
	w.control()
	w.force()
	if next == Accompanied {
		w.accompanied()
	}
	if next == WiderGround {
		w.wider()
	}
	for _, g := range j.gated {
		if g.level == next {
			w.section(g)
		}
	}
	w.sayCleared()
	j.Up = w.steps
}

// way is the list of changes in the making.
type way struct {
	*judge
	next  Level
	named []bool
	steps []Step
	facts derived
	// cleared are items that are named because of what they raise. What each must
	// come to is known once the scores are.
	cleared []cleared
}

// cleared is an item of which another answer clears what it raises.
type cleared struct {
	raised Raised
	step   int
	// least is the lowest answer that is enough by itself, asked the one that is
	// asked for, which a score may want to be better.
	least, asked option
	// scored: a score wants this answer too.
	scored bool
}

func (w *way) add(item int, say message.Message) {
	if item >= 0 {
		w.named[item] = true
	}
	w.steps = append(w.steps, Step{w.next, item, say})
}

// effects names every item whose effect holds the level down.
func (w *way) effects() {
	for _, r := range w.Effects {
		switch {
		case limitOf(r.Effect) >= w.next:
		case r.Barrier != nil:
			w.add(r.Item, r.Barrier.Clear)
		case !w.named[r.Item]:
			least := w.least(r.Item)
			w.cleared = append(w.cleared, cleared{raised: r, step: len(w.steps), least: least, asked: least})
			w.add(r.Item, message.Message{})
		}
	}
}

// sayCleared says what would clear each item that is named for what it raises.
func (w *way) sayCleared() {
	for k := range w.cleared {
		w.steps[w.cleared[k].step].Say = w.clearing(&w.cleared[k])
	}
}

// clearing says what would clear an effect: another answer, to be without a fact,
// either of them or both.
func (w *way) clearing(c *cleared) message.Message {
	i, effect := c.raised.Item, message.Word("effect", c.raised.Effect)
	item, answer := message.Word("item", w.items[i].ID), message.Inner("answer", w.answer(i))
	option := message.Inner("option", w.items[i].asks(c.asked))
	better := c.asked.points > w.Answers[i].Points || w.Answers[i].unanswered()
	behind, alone := w.factBehind(i, c.raised.Effect), factMessage(w.factAlone(i))
	switch {
	case w.Answers[i].Choice():
		return message.New("readiness.clear-choose", item, answer, effect)
	case c.raised.Assumed:
		return message.New("readiness.clear-question", item, answer, effect)
	case !alone.Empty() && better:
		return message.New("readiness.clear-both", item, answer, message.Inner("fact", alone), option, effect)
	case !alone.Empty():
		return message.New("readiness.clear-fact", item, answer, message.Inner("fact", alone), effect)
	case behind.Empty() || c.scored || !better:
		return message.New("readiness.clear-answer", item, answer, option, effect)
	}
	return message.New("readiness.clear-either", item, answer, message.Inner("fact", behind), option, effect)
}

// factAlone returns the fact that stands against the next level whatever the answer
// to an item is, or "". A release that did not come is the worst answer itself, so
// any better one is without it.
func (w *way) factAlone(i int) string {
	a := Answer{State: Answered}
	for _, e := range w.items[i].Effects {
		if limitOf(e.Effect) >= w.next {
			continue
		}
		for _, when := range e.When {
			if holds, _ := a.holds(when, w.headOf(i), w.facts); holds && bare(&when) && when.Facts[0] != checklist.FactReleaseMissed {
				return when.Facts[0]
			}
		}
	}
	return ""
}

// least returns the lowest answer to an item that leaves the next level, with what
// else is known of it as it is.
func (w *way) least(i int) option {
	options := w.items[i].options()
	least := options[0]
	for _, o := range options {
		if w.leaves(i, o) {
			least = o
		}
	}
	return least
}

// leaves reports whether the next level can be reached with an answer to an item:
// neither its effects, nor the control, nor a gate that names it stands against it.
func (w *way) leaves(i int, o option) bool {
	it := &w.items[i]
	head := w.headOf(i)
	a := Answer{State: Answered, Level: o.level, Band: o.band}
	for _, e := range it.Effects {
		if limitOf(e.Effect) >= w.next {
			continue
		}
		for _, when := range e.When {
			if holds, _ := a.holds(when, head, w.facts); holds && !bare(&when) {
				return false
			}
		}
	}
	return w.bears(i, o) && w.passes(it, o)
}

// headOf returns what was said of an item, where nobody contradicted it.
func (w *way) headOf(i int) *Head {
	for k := range w.in.Heads {
		if w.in.Heads[k].Item == i {
			return &w.in.Heads[k]
		}
	}
	return &Head{Item: i}
}

// bears reports whether the control does for the next level with an answer that its
// verdict rests on.
func (w *way) bears(i int, o option) bool {
	for _, r := range w.in.Access.Reasons {
		if w.inTheWay(&r) && w.itemOf(r) == i && w.items[i].controlVerdict(o) >= w.worst() {
			return false
		}
	}
	return true
}

// passes reports whether an answer meets the gates that name the item.
func (w *way) passes(it *item, o option) bool {
	switch {
	case it.ID == itemStop && w.next == Practise, it.ID == itemLimits && w.next == Accompanied:
		return o.points == 100
	case it.ID == itemTeach && w.next == Accompanied && o.band > 0:
		return o.band <= len(it.bounds) && it.bounds[o.band-1] >= micro(strength.TeachLeast)
	}
	return true
}

// beforeMoving names what must be known before anybody drives.
func (w *way) beforeMoving() {
	for i := range w.items {
		if w.items[i].BeforeMoving && w.items[i].ID != itemStop && w.Answers[i].unanswered() && !w.named[i] {
			w.add(i, message.New("readiness.step-before-moving", message.Word("item", w.items[i].ID)))
		}
	}
}

// untested names what holds the level down because it was not tested.
func (w *way) untested() {
	for _, r := range w.Untested {
		limit := limitOf(r.Effect)
		if limit >= w.next || w.named[r.Item] {
			continue
		}
		item, level := message.Word("item", w.items[r.Item].ID), message.Word("level", limit.String())
		switch why := w.computedFrom(r.Item); {
		case w.Answers[r.Item].Choice():
			w.add(r.Item, message.New("readiness.step-untested-choose", item, level))
		case why.Empty():
			w.add(r.Item, message.New("readiness.step-untested", item, level))
		default:
			w.add(r.Item, message.New("readiness.step-untested-computed", item, message.Inner("why", why), level))
		}
	}
}

// gravest names what must be answered at all.
func (w *way) gravest() {
	if w.next < Accompanied {
		return
	}
	for _, i := range w.unansweredGrave() {
		if !w.named[i] {
			w.add(i, w.known(i))
		}
	}
}

// known tells how to get an answer to an item that can raise a STOP.
func (w *way) known(i int) message.Message {
	item := message.Word("item", w.items[i].ID)
	if why := w.computedFrom(i); !why.Empty() {
		return message.New("readiness.step-known-computed", item, message.Inner("why", why))
	}
	return message.New("readiness.step-known", item)
}

// must names one item that a gate asks for by name, when that gate fails.
// Without that item in the checklist only the gate's own message helps.
func (w *way) must(fails bool, id string, gate, say message.Message) {
	i, ok := w.byID[id]
	switch {
	case !fails || ok && w.named[i]:
	case ok:
		w.add(i, say)
	default:
		w.add(-1, gate)
	}
}

// worst is the best verdict on the control that does not do for the next level.
func (w *way) worst() access.Verdict {
	switch w.next {
	case Practise:
		return access.NotFeasible
	case Accompanied:
		return access.Unknown
	}
	return access.Marginal
}

// inTheWay reports whether a reason of the verdict on the control stands against
// the next level.
func (w *way) inTheWay(r *access.Reason) bool {
	return r.Verdict >= w.worst() && !r.Advisory && (!r.OutdoorsOnly || w.next == WiderGround)
}

// control names what would change the verdict that stands in the way.
func (w *way) control() {
	if w.in.Setup == nil {
		w.add(-1, message.New("readiness.step-setup"))
		return
	}
	for _, r := range w.in.Access.Reasons {
		if !w.inTheWay(&r) {
			continue
		}
		if i := w.itemOf(r); i < 0 || !w.named[i] {
			w.add(i, message.New("readiness.step-control", message.Inner("reason", r.Say), message.Inner("change", r.Change)))
		}
	}
}

// itemOf returns the place of the item that goes with a control rule, or -1.
func (w *way) itemOf(r access.Reason) int {
	if i, ok := w.byID[r.Item]; ok {
		return i
	}
	for i := range w.items {
		if r.From != "" && w.items[i].From == r.From {
			return i
		}
	}
	return -1
}

func (w *way) accompanied() {
	if w.in.Access.PractiseOnly {
		for i := range w.items {
			if w.items[i].From == checklist.FromHold && !w.named[i] {
				w.add(i, message.New("readiness.step-hold", message.Inner("hold", w.in.Analysis.Hold.Say), message.Number("least", strength.HoldBrief)))
			}
		}
	}
	met, gate := w.taught()
	w.must(!met, itemTeach, gate, message.New("readiness.step-teach", message.Count("least", strength.TeachLeast)))
	met, gate = w.limitsWritten()
	w.must(!met, itemLimits, gate, message.New("readiness.step-limits"))
}

func (w *way) wider() {
	if met, driven := w.runs(); !met {
		w.add(-1, message.New("readiness.step-drive", message.Inner("runs", driven)))
	}
	met, gate := w.outdoorHelp()
	w.must(!met, itemHelp, gate, message.New("readiness.step-help"))
	for s := range w.Domains {
		// With too few items that apply, no answer can lift the count.
		if d := &w.Domains[s]; d.Code == sectionOut && d.Applicable < strength.OutdoorLeast {
			_, gate := w.outdoorItems()
			w.add(-1, message.New("readiness.step-outdoors", message.Inner("gate", gate)))
		}
	}
}
