package checklist

import (
	"slices"
	"strconv"

	"doorsill/internal/checklist/rules"
)

const (
	maxAsks       = 5
	maxConditions = 6
)

func (o object) asks() []Ask {
	var asks []Ask
	for i, v := range o.list("asks", 1, maxAsks, false) {
		each, ok := o.object(v, at(join(o.field, "asks"), i), []string{"fact", "prompt"})
		if !ok {
			continue
		}
		ask := Ask{Fact: each.id("fact"), Prompt: each.text("prompt", maxText, true)}
		if slices.Contains(rules.DerivedFacts(), ask.Fact) {
			each.wrong("fact", "a fact that is asked, not one that is worked out", quote(ask.Fact))
		}
		if slices.ContainsFunc(asks, func(a Ask) bool { return a.Fact == ask.Fact }) {
			each.wrong("fact", "each fact once in an item", quote(ask.Fact)+" again")
		}
		asks = append(asks, ask)
	}
	return asks
}

func (o object) effects(item *Item) []Effect {
	var effects []Effect
	for i, v := range o.list("effects", 1, len(rules.Effects()), false) {
		each, ok := o.object(v, at(join(o.field, "effects"), i), []string{"effect", "when"})
		if !ok {
			continue
		}
		effect := Effect{Effect: each.choice("effect", rules.Effects(), true)}
		if slices.ContainsFunc(effects, func(e Effect) bool { return e.Effect == effect.Effect && e.Effect != "" }) {
			each.wrong("effect", "each effect once in an item, with all its conditions", quote(effect.Effect)+" again")
		}
		for j, when := range each.list("when", 1, maxConditions, true) {
			effect.When = append(effect.When, each.condition(when, at(join(each.field, "when"), j), item))
		}
		effects = append(effects, effect)
	}
	return effects
}

func (o object) condition(v value, field string, item *Item) Condition {
	each, ok := o.object(v, field, []string{"levels", "bands", "facts"})
	if !ok {
		return Condition{}
	}
	if len(v.members) == 0 {
		each.add(v.line, field, "levels, bands or facts", "an empty condition")
	}
	return Condition{
		Levels: each.levelRefs(item),
		Bands:  each.bandRefs(item),
		Facts:  each.factRefs(item),
	}
}

func (o object) levelRefs(item *Item) []string {
	known := rules.Levels(item.Type)
	if o.has("levels") && known == nil && item.Type != "" {
		o.wrong("levels", "bands, as a "+item.Type+" item has no levels", "levels")
		return nil
	}
	if known == nil {
		return nil
	}
	return o.refs("levels", len(known), known)
}

func (o object) factRefs(item *Item) []string {
	known := rules.DerivedFacts()
	if !item.Sides {
		known = slices.DeleteFunc(known, func(f string) bool { return f == rules.FactUnequalSides })
	}
	for _, ask := range item.Asks {
		known = append(known, ask.Fact)
	}
	return o.refs("facts", maxAsks, known)
}

// refs reads a list of names that must all be known and differ.
func (o object) refs(name string, most int, known []string) []string {
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
	return refs
}

func (o object) bandRefs(item *Item) []int {
	if o.has("bands") && len(item.Bands) == 0 {
		if item.Type == rules.Number || item.Type == rules.Count {
			return nil // the bands themselves were reported
		}
		o.wrong("bands", "levels, as only number and count items have bands", "bands")
		return nil
	}
	var refs []int
	for i, v := range o.list("bands", 1, 5, false) {
		field := at(join(o.field, "bands"), i)
		n, err := strconv.ParseFloat(v.text, 64)
		band := int(n)
		switch {
		case v.kind != kindNumber || err != nil || float64(band) != n || band < 1 || band > len(item.Bands):
			o.add(v.line, field, "a band from 1 (best) to "+itoa(len(item.Bands)), v.shown())
		case slices.Contains(refs, band):
			o.add(v.line, field, "each once", v.shown()+" again")
		default:
			refs = append(refs, band)
		}
	}
	return refs
}
