package readiness

import (
	"doorsill/internal/checklist/rules"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/say"
	"doorsill/internal/engine/strength"
)

// Step is one change on the way to the next level.
type Step struct {
	Level Level
	// Item is a place in the checklist, or -1.
	Item int
	Say  string
}

// up lists the fewest changes that lead to the next level. First come the ones
// without which it cannot be reached; then, for each section that falls short,
// the fewest items to answer better or at all.
func (j *judge) up() {
	next := j.Level + 1
	if next >= levels {
		return
	}
	w := way{judge: j, next: next, named: make([]bool, len(j.items))}
	w.effects()
	w.gravest()
	shown, gate := j.stopShown()
	w.must(next == Practise && !shown, itemStop, gate, "Show a separate stop that works, by a named person.")
	w.control()
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

func (w *way) add(item int, say string) {
	if item >= 0 {
		w.named[item] = true
	}
	w.steps = append(w.steps, Step{w.next, item, say})
}

// effects names every item whose effect holds the level down.
func (w *way) effects() {
	for _, r := range w.Effects {
		if effectOf(r.Effect).limit < w.next && !w.named[r.Item] {
			w.add(r.Item, say.Line("{}: {}{} to clear {}.", append(w.answered(r.Item), w.clearing(r), effectOf(r.Effect).name)))
		}
	}
}

// clearing says what would clear an effect.
func (w *way) clearing(r Raised) string {
	it := &w.items[r.Item]
	least, facts := it.leastClean(), w.factsBehind(r.Item, r.Effect)
	switch {
	case w.Answers[r.Item].Choice():
		return "; choose between the answers that were given apart, or answer anew,"
	case r.Assumed:
		return "; answer the question beside it, which counts as the more cautious answer while it is open,"
	case facts == "":
		return say.Line("; needs {}, answered anew,", say.Words{it.words(least)})
	case least.points > w.Answers[r.Item].Points:
		return say.Line(", with {}; needs {}, or to be without that,", say.Words{facts, it.words(least)})
	}
	return say.Line(", with {}; needs to come out without that", say.Words{facts})
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

// gravest names what must be answered at all.
func (w *way) gravest() {
	if w.next < Accompanied {
		return
	}
	for _, i := range w.unansweredGrave() {
		if !w.named[i] {
			w.add(i, w.answerIt(i)+" It can raise a STOP, so it must be known.")
		}
	}
}

// answerIt tells how to get an answer.
func (w *way) answerIt(i int) string {
	if a := &w.Answers[i]; a.Computed && a.Say != "" {
		return say.Line("{}: {}", say.Words{w.items[i].Title, a.Say})
	}
	return "Answer " + w.items[i].Title + "."
}

// must names one item that a gate asks for by name, when that gate fails.
// Without that item in the checklist only the gate's own sentence helps.
func (w *way) must(fails bool, id, gate, say string) {
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
		if w.next >= Accompanied {
			w.add(-1, "Choose a control and a site.")
		}
		return
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
			w.add(i, r.Say+" "+r.Change)
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
			if w.items[i].From == rules.FromHold && !w.named[i] {
				w.add(i, w.in.Analysis.Hold.Say+" At least 10 s are asked.")
			}
		}
	}
	met, gate := w.taught()
	w.must(!met, itemTeach, gate, say.Line("Teach a named carer until at least {0} of 5 are shown back.", nil, strength.TeachLeast))
	met, gate = w.limitsWritten()
	w.must(!met, itemLimits, gate, "Write down where, when and with whom driving is allowed, and agree it.")
}

func (w *way) wider() {
	if met, driven := w.runs(); !met {
		w.add(-1, "Drive the trial again: "+driven)
	}
	met, gate := w.outdoorHelp()
	w.must(!met, itemHelp, gate, "Find out whether the driver can get help away from home.")
	for s := range w.Domains {
		// With too few items that apply, no answer can lift the count.
		if d := &w.Domains[s]; d.Code == sectionOut && d.Applicable < strength.OutdoorLeast {
			_, gate := w.outdoorItems()
			w.add(-1, "Test more outdoors: "+gate)
		}
	}
}
