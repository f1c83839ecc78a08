package engine

import (
	"doorsill/internal/checklist"
	"doorsill/internal/decimal"
	"doorsill/internal/engine/readiness"
	"doorsill/internal/engine/say"
	"doorsill/internal/fields"
)

// item reads one answer: item id, state, value and facts.
func (d *decoder) item() {
	id := d.next("item")
	if d.err != nil {
		return
	}
	at, ok := d.list.Find(id)
	if !ok {
		d.fail("item", "an item of this checklist", id)
		return
	}
	it := d.list.At(at)
	h := readiness.Head{Item: at, State: d.state(it)}
	d.answer(&h, it, d.next("value"))
	h.Facts = d.facts(d.next("facts"))
	d.visit.heads = append(d.visit.heads, h)
}

func (d *decoder) state(it *checklist.Item) readiness.State {
	switch text := d.next("state"); text {
	case "answered":
		return readiness.Answered
	case "not-tested":
	case "not-applicable":
		if !it.NA {
			d.fail("state", "answered or not-tested, as "+it.ID+" always applies", text)
		}
		return readiness.NotApplicable
	default:
		d.fail("state", "answered, not-applicable or not-tested", text)
	}
	return readiness.NotTested
}

// answer reads the value of an answer: a level, a number, or left and right.
func (d *decoder) answer(h *readiness.Head, it *checklist.Item, text string) {
	none := text == "-"
	switch {
	case d.err != nil:
	case h.State != readiness.Answered:
		if !none {
			d.fail("value", "- as nothing was answered", text)
		}
	case it.From != "":
		if !none {
			d.fail("value", "- as "+it.ID+" is worked out from what was measured", text)
		}
	case it.Type != checklist.TypeNumber && it.Type != checklist.TypeCount:
		h.Level = d.level(it, text)
	case it.Sides:
		left, right, ok := fields.Cut(text, '/')
		if !ok {
			d.fail("value", "left and right parted by /", text)
			return
		}
		h.Left, h.Right, h.HasNumber = d.amount(it, left, it.Of/2), d.amount(it, right, it.Of/2), true
		h.Number = h.Left + h.Right
	default:
		h.Number, h.HasNumber = d.amount(it, text, it.Of), true
	}
}

func (d *decoder) level(it *checklist.Item, text string) string {
	for _, level := range checklist.Levels(it.Type) {
		if level == text {
			return level
		}
	}
	d.fail("value", say.Line("one of {} for {}", say.Words{say.List(checklist.Levels(it.Type), ", "), it.ID}), text)
	return ""
}

// mostNumber bounds typed numbers; a checklist's own limits are narrower.
const mostNumber = 1e9

// amount reads a typed number; of is the most that a count can be, or 0.
func (d *decoder) amount(it *checklist.Item, text string, of int) decimal.Micro {
	value, ok := fields.Decimal(text)
	least, most := -mostNumber, mostNumber
	if it.Type == checklist.TypeCount {
		least = 0
	}
	if of > 0 {
		most = float64(of)
	}
	m, fits := decimal.Of(value)
	if !ok || !fits || value < least || value > most || it.Type == checklist.TypeCount && m%decimal.One != 0 {
		d.fail("value", amountWords(it, of), text)
	}
	return m
}

func amountWords(it *checklist.Item, of int) string {
	words := say.Words{"number", it.ID}
	if it.Type == checklist.TypeCount {
		words[0] = "whole number"
	}
	if of > 0 {
		return say.Line("a {} for {} from 0 to {0}", words, float64(of))
	}
	return say.Line("a {} for {}", words)
}

// facts checks "fact=1,fact=0" and returns it; "-" stands for none.
func (d *decoder) facts(text string) string {
	if text == "-" || d.err != nil {
		return ""
	}
	for rest := text; ; {
		one, more, found := fields.Cut(rest, ',')
		name, value, ok := fields.Cut(one, '=')
		if !ok || name == "" || value != "0" && value != "1" {
			d.fail("facts", "fact=1 or fact=0, parted by a comma, or -", text)
			return ""
		}
		if !found {
			return text
		}
		rest = more
	}
}
