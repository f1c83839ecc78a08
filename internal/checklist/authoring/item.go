package authoring

import (
	"slices"
	"strconv"

	"doorsill/internal/checklist"
	"doorsill/internal/validation"
)

// itemFields is what an item can have, of any type.
func itemFields() []string {
	return []string{"id", "title", "prompt", "type", "weight", "na", "na_text", "na_reasons", "before_moving", "group", "why", "if_poor",
		"levels", "unit", "better", "decimals", "min", "max", "below_zero", "bands", "of", "sides", "from", "asks", "effects"}
}

// numeric is what only number and count items have.
func numeric() []string {
	return []string{"unit", "better", "decimals", "min", "max", "below_zero", "bands", "of", "sides", "from"}
}

func itoa(n int) string { return strconv.Itoa(n) }

// item is what the parts of an item are checked against.
type item struct {
	format string // of the definition
	kind   string // its type
	bands  int    // how many
	sides  bool
	// na says that it can be not applicable, reasons that reasons for that are named.
	na, reasons bool
	facts       []string // that are asked beside it
}

func (p *parser) item(v value, field string) {
	o, ok := p.object(v, field, itemFields())
	if !ok {
		return
	}
	id := o.id("id")
	o.text("title", maxTitle, true)
	o.text("prompt", maxText, true)
	it := item{format: p.format, kind: o.choice("type", checklist.Types(), true)}
	o.whole("weight", 1, 3, true)
	it.na = o.flag("na")
	o.text("na_text", maxText, false)
	it.reasons = o.reasons()
	o.flag("before_moving")
	o.choice("group", []string{checklist.GroupNeed}, false)
	o.text("why", maxText, false)
	o.text("if_poor", maxText, false)
	p.once(o, "id", "item "+id, "item id")
	p.lines["item "+id] = v.line
	if !it.na {
		o.refuse("without na: true", "na_text", "na_reasons")
	}
	if p.format == checklist.Format1 {
		o.refuse("in "+checklist.Format1, "na_reasons", "before_moving", "below_zero")
	}
	p.judged(o, &it)
	it.facts = o.asks()
	o.effects(&it)
}

// reasons checks the named reasons for not applicable and reports whether there
// are any.
func (o object) reasons() bool {
	list := o.list("na_reasons", 1, maxReasons, false)
	var seen []string
	for i, v := range list {
		field := at(join(o.field, "na_reasons"), i)
		switch {
		case v.kind != kindText:
			o.add(v.line, field, "a text", v.mistaken())
		case slices.Contains(seen, v.text):
			o.add(v.line, field, "each once", v.shown()+" again")
		default:
			o.plain(v, field, maxText)
			seen = append(seen, v.text)
		}
	}
	return len(list) > 0
}

// judged checks how the answer is judged: by levels or by bands.
func (p *parser) judged(o object, it *item) {
	switch it.kind {
	case checklist.TypeHelp:
		p.help = true
		o.refuse("in a help item", slices.Concat([]string{"levels"}, numeric())...)
	case checklist.TypeFit, checklist.TypeYesNo:
		o.refuse("in a "+it.kind+" item", numeric()...)
		o.levels("levels", checklist.Levels(it.kind), false)
	case checklist.TypeNumber:
		o.refuse("in a number item", "levels", "of", "sides")
		o.measured(it)
	case checklist.TypeCount:
		o.refuse("in a count item", "levels", "min")
		most := o.measured(it)
		o.counted(it, most)
	}
}

// measured checks what number and count items share, and returns max.
func (o object) measured(it *item) (most *float64) {
	if o.text("unit", 20, true) == "-" {
		o.wrong("unit", "a unit in words", checklist.Quote("-"))
	}
	better := o.choice("better", []string{"high", "low"}, true)
	o.whole("decimals", 0, 3, false)
	o.choice("from", checklist.Sources(), false)
	typedNumber := it.kind == checklist.TypeNumber && !o.has("from")
	least, most := o.number("min", typedNumber), o.number("max", typedNumber)
	if least != nil && most != nil && *least >= *most {
		o.wrong("max", "more than min "+validation.Number(*least), validation.Number(*most))
	}
	if o.text("below_zero", 40, false); least == nil || *least >= 0 {
		o.refuse("without a min below 0", "below_zero")
	}
	it.bands = o.bands(better)
	return most
}

// counted checks what only a count has: how many there are to count.
func (o object) counted(it *item, most *float64) {
	of := o.whole("of", 1, 1000, false)
	it.sides = o.flag("sides")
	switch {
	case o.has("of") && o.has("max"):
		o.wrong("max", "either of or max, not both", o.value.member("max").value.shown())
	case !o.has("of") && !o.has("max") && !o.has("from"):
		o.wrong("of", "of or max, so that a slip can be refused", "neither")
	}
	if most != nil && *most < 1 {
		o.wrong("max", "1 or more", validation.Number(*most))
	}
	if it.sides && of%2 != 0 {
		o.wrong("of", "an even number to share between left and right", itoa(of))
	}
	if it.sides && !o.has("of") {
		o.wrong("of", "an even number to share between left and right", "nothing")
	}
	if it.sides && o.has("from") {
		o.wrong("sides", "no sides in a computed item", "true")
	}
}

// bands checks bands and returns how many there are.
func (o object) bands(better string) int {
	list := o.list("bands", 3, 5, true)
	count := 0
	var last *float64 // bound of the band before
	for i, v := range list {
		each, ok := o.object(v, at(join(o.field, "bands"), i), []string{"bound", "text"})
		if !ok {
			continue
		}
		count++
		each.text("text", maxText, true)
		if i == len(list)-1 {
			each.refuse("in the last band, which takes what is left", "bound")
			continue
		}
		bound := each.number("bound", true)
		each.ordered(last, bound, better)
		last = bound
	}
	return count
}

// ordered checks that a bound is worse than the one before.
func (o object) ordered(last, bound *float64, better string) {
	if last == nil || bound == nil {
		return
	}
	if better == "high" && *bound >= *last {
		o.wrong("bound", "less than "+validation.Number(*last)+", as bands run from best to worst and high is better", validation.Number(*bound))
	}
	if better == "low" && *bound <= *last {
		o.wrong("bound", "more than "+validation.Number(*last)+", as bands run from best to worst and low is better", validation.Number(*bound))
	}
}
