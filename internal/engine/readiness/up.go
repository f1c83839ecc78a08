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
	w := way{judge: j, next: next, named: make([]bool, len(j.items))}
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
	j.Up = w.steps
}

// way is the list of changes in the making.
type way struct {
	*judge
	next  Level
	named []bool
	steps []Step
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
			w.add(r.Item, w.clearing(r))
		}
	}
}

// clearing says what would clear an effect.
func (w *way) clearing(r Raised) message.Message {
	it := &w.items[r.Item]
	least, fact := it.leastClean(), w.factBehind(r.Item, r.Effect)
	item, answer, effect := message.Word("item", it.ID), message.Inner("answer", w.answer(r.Item)), message.Word("effect", r.Effect)
	switch {
	case w.Answers[r.Item].Choice():
		return message.New("readiness.clear-choose", item, answer, effect)
	case r.Assumed:
		return message.New("readiness.clear-question", item, answer, effect)
	case fact.Empty():
		return message.New("readiness.clear-answer", item, answer, message.Inner("option", it.asks(least)), effect)
	case least.points > w.Answers[r.Item].Points:
		return message.New("readiness.clear-answer-or-fact", item, answer, message.Inner("fact", fact), message.Inner("option", it.asks(least)), effect)
	}
	return message.New("readiness.clear-fact", item, answer, message.Inner("fact", fact), effect)
}

// leastClean returns the lowest answer that raises nothing by itself.
func (it *item) leastClean() option {
	options := it.options()
	least := options[0]
	for _, o := range options {
		if it.clean(o) {
			least = o
		}
	}
	return least
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

// control names what would change the verdict that stands in the way.
func (w *way) control() {
	worst := access.NotFeasible
	verdict := w.in.Access.Indoors
	switch {
	case w.in.Setup == nil:
		w.add(-1, message.New("readiness.step-setup"))
		return
	case w.next == Accompanied:
		worst = access.Unknown
	case w.next == HomeGround:
		worst = access.Marginal
	case w.next == WiderGround:
		worst, verdict = access.Marginal, w.in.Access.Outdoors
	}
	if verdict < worst {
		return
	}
	for _, r := range w.in.Access.Reasons {
		if r.Verdict < worst || r.Advisory || r.OutdoorsOnly && w.next != WiderGround {
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
