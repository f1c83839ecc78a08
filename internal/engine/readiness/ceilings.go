package readiness

import (
	"slices"

	"doorsill/internal/checklist"
	"doorsill/internal/decimal"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
)

// Ceiling is the highest level that one answer to an item leaves when all else is
// at its best.
type Ceiling struct {
	State State
	// Level or Band says which answer; neither means any in that state.
	Level string
	Band  int
	// Reason is one of the item's own reasons why it does not apply.
	Reason string
	// Fact is what must be so too, or empty.
	Fact    string
	Highest Level
}

// Ceilings lists what each answer to the item at a place of the checklist leaves,
// best first, then what is not tested and what does not apply. A row with a fact
// stands only where the fact makes a difference.
func (c *Checklist) Ceilings(at int) []Ceiling {
	it := &c.items[at]
	var list []Ceiling
	for _, one := range it.answers() {
		plain := c.ceiling(it, one, "")
		list = append(list, plain)
		for _, fact := range it.factsOf(func(when *checklist.Condition) bool { return !bare(when) }) {
			if with := c.ceiling(it, one, fact); with.Highest < plain.Highest {
				list = append(list, with)
			}
		}
	}
	for _, fact := range it.factsOf(bare) {
		list = append(list, c.ceiling(it, Ceiling{State: Answered}, fact))
	}
	return list
}

// answers lists the answers that the item can have.
func (it *item) answers() []Ceiling {
	var list []Ceiling
	for _, level := range checklist.Levels(it.Type) {
		list = append(list, Ceiling{State: Answered, Level: level})
	}
	for band := range it.Bands {
		list = append(list, Ceiling{State: Answered, Band: band + 1})
	}
	list = append(list, Ceiling{State: NotTested})
	if it.NA {
		list = append(list, Ceiling{State: NotApplicable})
		for _, reason := range it.NAReasons {
			list = append(list, Ceiling{State: NotApplicable, Reason: reason})
		}
	}
	return list
}

// factsOf lists the facts of the conditions that are asked for, each once.
func (it *item) factsOf(wanted func(*checklist.Condition) bool) []string {
	var facts []string
	for i := range it.Effects {
		for _, when := range it.Effects[i].When {
			if !wanted(&when) {
				continue
			}
			for _, fact := range when.Facts {
				if !slices.Contains(facts, fact) {
					facts = append(facts, fact)
				}
			}
		}
	}
	return facts
}

// ceiling works one answer out by the rules that judge a visit.
func (c *Checklist) ceiling(it *item, one Ceiling, fact string) Ceiling {
	one.Fact = fact
	a := Answer{State: one.State, Level: one.Level, Band: one.Band}
	h := Head{State: one.State, Level: one.Level, Named: one.Reason != "", Facts: map[string]bool{}}
	for _, ask := range it.Asks {
		h.Facts[ask.Fact] = ask.Fact == fact
	}
	if fact == checklist.FactUnequalSides {
		h.Left = decimal.Int(strength.SidesUnequal)
	}
	a.raise(it, &h, only(fact))
	one.Highest = WiderGround
	for i := range it.Effects {
		if a.raised&(1<<i) != 0 {
			one.Highest = min(one.Highest, limitOf(it.Effects[i].Effect))
		}
	}
	if one.State == NotTested {
		one.Highest = min(one.Highest, c.untestedCeiling(it))
	}
	if one.State == Answered {
		one.Highest = min(one.Highest, controlCeiling(it.controlVerdict(option{level: one.Level, band: one.Band})))
	}
	return one
}

// only are the derived facts when one of them is so.
func only(fact string) derived {
	return derived{
		headBorne:     fact == checklist.FactHeadBorne,
		lightControl:  fact == checklist.FactLightControl,
		releaseMissed: fact == checklist.FactReleaseMissed,
		personContact: fact == checklist.FactPersonContact,
		ownStopOpen:   fact == checklist.FactOwnStopOpen,
	}
}

// untestedCeiling is what the gates leave while the item is not tested, beside
// its own effects: it is asked before moving, it can stop, or without it too little
// of its section is answered for a score.
func (c *Checklist) untestedCeiling(it *item) Level {
	switch {
	case it.BeforeMoving:
		return None
	case it.grave:
		return Practise
	}
	d := Domain{}
	for i := c.sections[it.section].from; i < c.sections[it.section].to; i++ {
		d.weight += c.items[i].Weight
	}
	d.answeredWeight = d.weight - it.Weight
	highest := WiderGround
	for _, g := range c.gated {
		if g.section == it.section && !d.covers(strength.CoverageGate) {
			highest = min(highest, g.level-1)
		}
	}
	return highest
}

// controlCeiling is what the verdict on the control leaves with one answer: where
// it just works somebody is near, and where it does not nobody drives.
func controlCeiling(v access.Verdict) Level {
	switch v {
	case access.NotFeasible:
		return Pause
	case access.Marginal:
		return Accompanied
	}
	return WiderGround
}

// controlVerdict is what package access makes of an option. Of a band its bound
// stands for all values, and what is just beyond the last bound for the last band.
func (it *item) controlVerdict(o option) access.Verdict {
	switch last := len(it.bounds); {
	case o.band == 0:
		return access.OfLevel(it.Item, o.level)
	case last == 0:
		return access.Feasible
	case o.band <= last:
		return access.OfValue(it.Item, it.bounds[o.band-1])
	case it.Better == "low":
		return access.OfValue(it.Item, it.bounds[last-1]+1)
	default:
		return access.OfValue(it.Item, it.bounds[last-1]-1)
	}
}

// Say words a ceiling.
func (one *Ceiling) Say() message.Message {
	say := message.New("ceiling.holds", message.Word("level", one.Highest.String()))
	switch one.Highest {
	case WiderGround:
		say = message.New("ceiling.free")
	case None:
		say = message.New("ceiling.none")
	case Pause:
		say = message.New("ceiling.pause")
	}
	if fact := factMessage(one.Fact); !fact.Empty() {
		return message.New("ceiling.with", message.Inner("fact", fact), message.Inner("ceiling", say))
	}
	return say
}
