package readiness

import (
	"doorsill/internal/checklist"
	"doorsill/internal/decimal"
	"doorsill/internal/model"
	"doorsill/internal/validation"
)

// Checklist is a definition made ready for judging. It is never changed, so one
// can serve many at a time.
type Checklist struct {
	definition *checklist.Definition
	items      []item
	sections   []section
	byID       map[string]int
	gated      []gate
}

type item struct {
	*checklist.Item
	section int
	// bounds are those of the bands, one fewer than there are bands.
	bounds []decimal.Micro
	// source is the place of From in checklist.Sources, or -1.
	source int
	// grave items can raise a STOP or a STOP-CONTROL: they must be answered.
	grave bool
}

// section is a range of items.
type section struct {
	code     string
	from, to int
}

// Compile makes a definition ready.
func Compile(definition *checklist.Definition) *Checklist {
	c := &Checklist{definition: definition, byID: make(map[string]int)}
	for s := range definition.Sections {
		in := &definition.Sections[s]
		from := len(c.items)
		for i := range in.Items {
			c.byID[in.Items[i].ID] = len(c.items)
			c.items = append(c.items, compileItem(&in.Items[i], s))
		}
		c.sections = append(c.sections, section{in.Code, from, len(c.items)})
	}
	c.gated = gatesOf(c.sections)
	return c
}

func compileItem(in *checklist.Item, section int) item {
	it := item{Item: in, section: section, source: -1}
	for i, from := range checklist.Sources() {
		if from == in.From {
			it.source = i
		}
	}
	for _, band := range in.Bands {
		if band.Bound != nil {
			it.bounds = append(it.bounds, micro(*band.Bound))
		}
	}
	for _, e := range in.Effects {
		it.grave = it.grave || e.Effect == checklist.Stop || e.Effect == checklist.StopControl
	}
	return it
}

// Hash is the hash of the definition.
func (c *Checklist) Hash() string { return c.definition.Hash() }

// CheckAnswer says whether an answer fits its item; see checklist.Definition.
func (c *Checklist) CheckAnswer(answer *model.AnswerGiven) *validation.Error {
	return c.definition.CheckAnswer(*answer)
}

// Len returns how many items the checklist has.
func (c *Checklist) Len() int { return len(c.items) }

// Find returns the place of an item in the checklist's order, and false when
// the checklist has no such item.
func (c *Checklist) Find(id string) (int, bool) {
	i, ok := c.byID[id]
	return i, ok
}

// At returns the item at a place.
func (c *Checklist) At(i int) *checklist.Item { return c.items[i].Item }

func micro(x float64) decimal.Micro {
	m, _ := decimal.Of(x)
	return m
}
