package authoring

import (
	"slices"
	"strconv"

	"doorsill/internal/checklist"
)

const (
	maxAsks       = 5
	maxReasons    = 5
	maxConditions = 6
)

// asks checks the questions beside an item and returns their facts.
func (o object) asks() []string {
	var facts []string
	for i, v := range o.list("asks", 1, maxAsks, false) {
		each, ok := o.object(v, at(join(o.field, "asks"), i), []string{"fact", "prompt"})
		if !ok {
			continue
		}
		fact := each.id("fact")
		each.text("prompt", maxText, true)
		if slices.Contains(checklist.DerivedFacts(), fact) {
			each.wrong("fact", "a fact that is asked, not one that is worked out", checklist.Quote(fact))
		}
		if slices.Contains(facts, fact) {
			each.wrong("fact", "each fact once in an item", checklist.Quote(fact)+" again")
		}
		facts = append(facts, fact)
	}
	return facts
}

func (o object) effects(it *item) {
	var seen []string
	for i, v := range o.list("effects", 1, len(checklist.Effects()), false) {
		each, ok := o.object(v, at(join(o.field, "effects"), i), []string{"effect", "when"})
		if !ok {
			continue
		}
		effect := each.choice("effect", checklist.Effects(), true)
		if effect != "" && slices.Contains(seen, effect) {
			each.wrong("effect", "each effect once in an item, with all its conditions", checklist.Quote(effect)+" again")
		}
		seen = append(seen, effect)
		for j, when := range each.list("when", 1, maxConditions, true) {
			each.condition(when, at(join(each.field, "when"), j), it)
		}
	}
}

func (o object) condition(v value, field string, it *item) {
	each, ok := o.object(v, field, []string{"levels", "bands", "states", "facts"})
	if !ok {
		return
	}
	if len(v.members) == 0 {
		each.add(v.line, field, "levels, bands, states or facts", "an empty condition")
	}
	each.levelRefs(it)
	each.bandRefs(it)
	each.stateRefs(it)
	if it.format == checklist.Format1 {
		each.refuse("in "+checklist.Format1, "states")
	}
	each.factRefs(it)
}

func (o object) levelRefs(it *item) {
	known := checklist.Levels(it.kind)
	switch {
	case known != nil:
		o.refs("levels", len(known), known)
	case o.has("levels") && it.kind != "":
		o.wrong("levels", "bands, as a "+it.kind+" item has no levels", "levels")
	}
}

// stateRefs allows a state of not applicable only where that is an answer, and
// tells reasons apart only where some are named.
func (o object) stateRefs(it *item) {
	known := []string{checklist.StateNotTested}
	if it.na {
		known = append(known, checklist.StateNotApplicable)
	}
	if it.reasons {
		known = append(known, checklist.StateNAOtherwise)
	}
	o.refs("states", len(checklist.ConditionStates()), known)
}

func (o object) factRefs(it *item) {
	known := checklist.DerivedFacts()
	if !it.sides {
		known = slices.DeleteFunc(known, func(f string) bool { return f == checklist.FactUnequalSides })
	}
	o.refs("facts", maxAsks, slices.Concat(known, it.facts))
}

// refs checks a list of names that must all be known and differ.
func (o object) refs(name string, most int, known []string) {
	var refs []string
	for i, v := range o.list(name, 1, most, false) {
		field := at(join(o.field, name), i)
		switch {
		case v.kind != kindText:
			o.add(v.line, field, "a text", v.mistaken())
		case !slices.Contains(known, v.text):
			o.add(v.line, field, oneOf(known), v.shown())
		case slices.Contains(refs, v.text):
			o.add(v.line, field, "each once", v.shown()+" again")
		default:
			refs = append(refs, v.text)
		}
	}
}

func (o object) bandRefs(it *item) {
	if o.has("bands") && it.bands == 0 {
		if it.kind != checklist.TypeNumber && it.kind != checklist.TypeCount { // else the bands themselves were reported
			o.wrong("bands", "levels, as only number and count items have bands", "bands")
		}
		return
	}
	var refs []int
	for i, v := range o.list("bands", 1, 5, false) {
		field := at(join(o.field, "bands"), i)
		n, err := strconv.ParseFloat(v.text, 64)
		band := int(n)
		switch {
		case v.kind != kindNumber || err != nil || float64(band) != n || band < 1 || band > it.bands:
			o.add(v.line, field, "a band from 1 (best) to "+itoa(it.bands), v.shown())
		case slices.Contains(refs, band):
			o.add(v.line, field, "each once", v.shown()+" again")
		default:
			refs = append(refs, band)
		}
	}
}
