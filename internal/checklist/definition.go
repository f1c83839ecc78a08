// Package checklist is what is asked: the definition of a checklist, the words
// that stand in it, and what an answer to it can be. A definition is data, so a
// team can write its own. It is light enough for the program in the browser;
// package authoring below it has what only the authors of a checklist need.
package checklist

import (
	"slices"
	"strings"

	"doorsill/internal/strictjson"
	"doorsill/internal/validation"
)

// Values of a definition's "format" field. What Format1 does not have is refused
// in it, so that a program which knows no more than Format1 never reads a
// definition whose conditions it would misunderstand.
const (
	Format1 = "doorsill-checklist/1"
	Format  = "doorsill-checklist/2"
)

// Formats lists the formats that can be read, the present one last.
func Formats() []string { return []string{Format1, Format} }

// GroupNeed marks an item whose answer the funding letter needs.
const GroupNeed = "need"

// Definition is one version of a checklist. It is never changed after Read; a
// visit is pinned to it by its hash.
//
//codegen:read
type Definition struct {
	Format  string `json:"format"`
	ID      string `json:"id"`
	Version string `json:"version"`
	Title   string `json:"title"`
	Note    string `json:"note,omitempty"`
	// Help names the levels 4 to 0 that all help items share.
	Help     []Level   `json:"help,omitempty"`
	Sections []Section `json:"sections"`

	raw   []byte
	hash  string
	index map[string]*Item
}

// Level is one answer in words. Name is given for help levels only.
type Level struct {
	Level string `json:"level"`
	Name  string `json:"name,omitempty"`
	Text  string `json:"text"`
}

// Section is one domain, scored by itself.
type Section struct {
	Code  string `json:"code"`
	Title string `json:"title"`
	Items []Item `json:"items"`
}

// Item is one question. Which fields it has depends on its type; see
// authoring/FORMAT.md.
type Item struct {
	ID     string `json:"id"`
	Title  string `json:"title"`
	Prompt string `json:"prompt"`
	// Type is one of Types.
	Type string `json:"type"`
	// Weight is 1 to 3 within the section.
	Weight int `json:"weight"`
	// NA allows "not applicable"; NAText is the item's own wording for it.
	NA     bool   `json:"na,omitempty"`
	NAText string `json:"na_text,omitempty"`
	// NAReasons are reasons for "not applicable" in the item's own words that
	// conditions tell from any other reason; see NamedReason.
	NAReasons []string `json:"na_reasons,omitempty"`
	// BeforeMoving: without an answer there is no level yet.
	BeforeMoving bool   `json:"before_moving,omitempty"`
	Group        string `json:"group,omitempty"`
	Why          string `json:"why,omitempty"`
	IfPoor       string `json:"if_poor,omitempty"`
	// Levels are the answers of a fit (3 to 0) or yes-no item.
	Levels []Level `json:"levels,omitempty"`
	Unit   string  `json:"unit,omitempty"`
	// Better is "high" or "low" for number and count items.
	Better string `json:"better,omitempty"`
	// Decimals is how many places a value is shown with, 0 to 3.
	Decimals int `json:"decimals,omitempty"`
	// Min and Max bound a typed number, both included, in Unit.
	Min *float64 `json:"min,omitempty"`
	Max *float64 `json:"max,omitempty"`
	// BelowZero stands after a number below zero in place of its sign: 40 mm "too
	// narrow".
	BelowZero string `json:"below_zero,omitempty"`
	// Bands run from best to worst; the last has no bound.
	Bands []Band `json:"bands,omitempty"`
	// Of is the most that a count can be; Sides asks for it left and right,
	// half of Of each.
	Of    int  `json:"of,omitempty"`
	Sides bool `json:"sides,omitempty"`
	// From is one of Sources for a computed item, which is never typed.
	From    string   `json:"from,omitempty"`
	Asks    []Ask    `json:"asks,omitempty"`
	Effects []Effect `json:"effects,omitempty"`
}

// Band is one judgement of a number. With Better "high" a value at or above
// Bound is in the band, with "low" at or below.
type Band struct {
	Bound *float64 `json:"bound,omitempty"`
	Text  string   `json:"text"`
}

// Ask is a yes or no question beside an item, stored as a fact.
type Ask struct {
	Fact   string `json:"fact"`
	Prompt string `json:"prompt"`
}

// Effect is raised when any of its conditions holds.
type Effect struct {
	// Effect is one of Effects.
	Effect string      `json:"effect"`
	When   []Condition `json:"when"`
}

// Condition holds when the answer is one of Levels, in one of Bands (1 is the
// best) or one of States, where any of them is given, and every fact is true.
type Condition struct {
	Levels []string `json:"levels,omitempty"`
	Bands  []int    `json:"bands,omitempty"`
	// States are some of ConditionStates.
	States []string `json:"states,omitempty"`
	Facts  []string `json:"facts,omitempty"`
}

// Read reads a definition that package authoring has checked before: it passes
// over fields that it does not know, and refuses only what is no definition at
// all. hash is the SHA-256 of data in hex.
func Read(data []byte, hash string) (*Definition, *validation.Error) {
	d := &Definition{raw: slices.Clone(data), hash: hash}
	r := strictjson.NewReader(d.raw)
	r.LooseIntegers = true
	err := r.Object(func(key []byte) *validation.Error { return d.ReadField(r, key) })
	if err == nil {
		err = r.End()
	}
	if err == nil {
		err = d.checkWords()
	}
	if err != nil {
		return nil, err
	}
	d.buildIndex()
	return d, nil
}

func (d *Definition) buildIndex() {
	d.index = map[string]*Item{}
	for s := range d.Sections {
		for i := range d.Sections[s].Items {
			item := &d.Sections[s].Items[i]
			d.index[item.ID] = item
		}
	}
}

// Hash is the SHA-256 in hex of the exact bytes that the definition was read
// from.
func (d *Definition) Hash() string { return d.hash }

// Raw returns a copy of the bytes that the definition was read from.
func (d *Definition) Raw() []byte { return slices.Clone(d.raw) }

// Item finds an item by its id; nil when there is none.
func (d *Definition) Item(id string) *Item { return d.index[id] }

// ItemTitle returns the title of an item, and false when the checklist has no
// such item.
func (d *Definition) ItemTitle(id string) (string, bool) {
	item := d.Item(id)
	if item == nil {
		return "", false
	}
	return item.Title, true
}

// SectionTitle returns the title of a section, and false when the checklist has
// no section with that code.
func (d *Definition) SectionTitle(code string) (string, bool) {
	for s := range d.Sections {
		if d.Sections[s].Code == code {
			return d.Sections[s].Title, true
		}
	}
	return "", false
}

// Question returns the question beside an item that asks for a fact, and false
// when no item asks for it.
func (d *Definition) Question(fact string) (string, bool) {
	for s := range d.Sections {
		for i := range d.Sections[s].Items {
			for _, ask := range d.Sections[s].Items[i].Asks {
				if ask.Fact == fact {
					return ask.Prompt, true
				}
			}
		}
	}
	return "", false
}

// NamedReason reports whether a reason is one of the item's NAReasons, whatever
// spaces stand around it.
func (i *Item) NamedReason(reason string) bool {
	return slices.Contains(i.NAReasons, strings.TrimSpace(reason))
}

// Count is the number of items.
func (d *Definition) Count() int { return len(d.index) }

// LevelsOf returns the answers that the item offers, best first, with their
// words; nil for number and count items.
func (d *Definition) LevelsOf(item *Item) []Level {
	if item.Levels == nil && item.Type == TypeHelp {
		return d.Help
	}
	return item.Levels
}
