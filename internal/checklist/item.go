package checklist

import (
	"slices"
	"strconv"

	"doorsill/internal/checklist/rules"
)

// itemFields is what an item can have, of any type.
func itemFields() []string {
	return []string{"id", "title", "prompt", "type", "weight", "na", "na_text", "group", "why", "if_poor",
		"levels", "unit", "better", "decimals", "min", "max", "bands", "of", "sides", "from", "asks", "effects"}
}

// numeric is what only number and count items have.
func numeric() []string {
	return []string{"unit", "better", "decimals", "min", "max", "bands", "of", "sides", "from"}
}

func itoa(n int) string { return strconv.Itoa(n) }

func (p *parser) item(v value, field string) Item {
	o, ok := p.object(v, field, itemFields())
	if !ok {
		return Item{}
	}
	item := Item{
		ID: o.id("id"), Title: o.text("title", maxTitle, true), Prompt: o.text("prompt", maxText, true),
		Type: o.choice("type", rules.Types(), true), Weight: o.whole("weight", 1, 3, true), NA: o.flag("na"),
		NAText: o.text("na_text", maxText, false), Group: o.choice("group", []string{GroupNeed}, false),
		Why: o.text("why", maxText, false), IfPoor: o.text("if_poor", maxText, false),
	}
	p.once(o, "id", "item "+item.ID, "item id")
	p.d.lines["item "+item.ID] = v.line
	if !item.NA {
		o.refuse("without na: true", "na_text")
	}
	p.judged(o, &item)
	item.Asks = o.asks()
	item.Effects = o.effects(&item)
	return item
}

// judged reads how the answer is judged: by levels or by bands.
func (p *parser) judged(o object, item *Item) {
	switch item.Type {
	case rules.Help:
		p.help = true
		o.refuse("in a help item", slices.Concat([]string{"levels"}, numeric())...)
	case rules.Fit, rules.YesNo:
		o.refuse("in a "+item.Type+" item", numeric()...)
		item.Levels = o.levels("levels", rules.Levels(item.Type), false)
	case rules.Number:
		o.refuse("in a number item", "levels", "of", "sides")
		o.measured(item)
	case rules.Count:
		o.refuse("in a count item", "levels", "min")
		o.measured(item)
		o.counted(item)
	}
}

// measured reads what number and count items share.
func (o object) measured(item *Item) {
	item.Unit = o.text("unit", 20, true)
	if item.Unit == "-" {
		o.wrong("unit", "a unit in words", quote("-"))
	}
	item.Better = o.choice("better", []string{"high", "low"}, true)
	item.Decimals = o.whole("decimals", 0, 3, false)
	item.From = o.choice("from", rules.Sources(), false)
	typedNumber := item.Type == rules.Number && !o.has("from")
	item.Min = o.number("min", typedNumber)
	item.Max = o.number("max", typedNumber)
	if item.Min != nil && item.Max != nil && *item.Min >= *item.Max {
		o.wrong("max", "more than min "+figure(*item.Min), figure(*item.Max))
	}
	item.Bands = o.bands(item.Better)
}

// counted reads what only a count has: how many there are to count.
func (o object) counted(item *Item) {
	item.Of = o.whole("of", 1, 1000, false)
	item.Sides = o.flag("sides")
	switch {
	case o.has("of") && o.has("max"):
		o.wrong("max", "either of or max, not both", o.value.member("max").value.shown())
	case !o.has("of") && !o.has("max") && !o.has("from"):
		o.wrong("of", "of or max, so that a slip can be refused", "neither")
	}
	if item.Max != nil && *item.Max < 1 {
		o.wrong("max", "1 or more", figure(*item.Max))
	}
	if item.Sides && item.Of%2 != 0 {
		o.wrong("of", "an even number to share between left and right", itoa(item.Of))
	}
	if item.Sides && !o.has("of") {
		o.wrong("of", "an even number to share between left and right", "nothing")
	}
	if item.Sides && o.has("from") {
		o.wrong("sides", "no sides in a computed item", "true")
	}
}

func (o object) bands(better string) []Band {
	list := o.list("bands", 3, 5, true)
	bands := make([]Band, 0, len(list))
	for i, v := range list {
		each, ok := o.object(v, at(join(o.field, "bands"), i), []string{"bound", "text"})
		if !ok {
			continue
		}
		band := Band{Text: each.text("text", maxText, true)}
		if i == len(list)-1 {
			each.refuse("in the last band, which takes what is left", "bound")
		} else {
			band.Bound = each.number("bound", true)
			each.ordered(band.Bound, bands, better)
		}
		bands = append(bands, band)
	}
	return bands
}

// ordered checks that a bound is worse than the one before.
func (o object) ordered(bound *float64, before []Band, better string) {
	if bound == nil || len(before) == 0 || before[len(before)-1].Bound == nil {
		return
	}
	last := *before[len(before)-1].Bound
	if better == "high" && *bound >= last {
		o.wrong("bound", "less than "+figure(last)+", as bands run from best to worst and high is better", figure(*bound))
	}
	if better == "low" && *bound <= last {
		o.wrong("bound", "more than "+figure(last)+", as bands run from best to worst and low is better", figure(*bound))
	}
}

func figure(n float64) string { return strconv.FormatFloat(n, 'f', -1, 64) }
