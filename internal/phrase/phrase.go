// Package phrase turns messages into sentences. It is the one place that holds
// words: a catalogue has a template for each code, so that another language is
// another catalogue. The English one is in the folder en.
//
// A template is plain text with slots in braces that name an argument:
//
//	{site}          a word as it is, a message as its sentence
//	{site:site}     a word that stands for another: the entry "site.chin"
//	{item:title}    the title of an item of the checklist; {code:section} of a section
//	{fact:question} the question beside an item that asks for a fact
//	{by:rule/, }    a list, each by its entry, with ", " between (", " is usual)
//	{^site:site}    the same, beginning with a capital; {~say} with a small letter
//	{gf.1}          a number, rounded to at most one decimal
//	{gf.1-} {gf.1+} the same, rounded down or up
//	{gf.places}     at most as many decimals as the argument "places" says
//	{gf#2} {gf#places}  exactly so many decimals
//	{n|item|items}  the first word if the number is 1, else the second
//	{n.times}       the entry "times.1", "times.2" or, with the argument n, "times.other"
package phrase

import (
	"doorsill/internal/decimal"
	"doorsill/internal/message"
)

// Titles names items, sections and the questions beside items by their ids.
type Titles interface {
	// ItemTitle returns the title of an item, false for one that there is not.
	ItemTitle(id string) (string, bool)
	// SectionTitle returns the title of a section, false for one that there is not.
	SectionTitle(code string) (string, bool)
	// Question returns the question beside an item that asks for a fact, false for
	// a fact that nobody is asked for.
	Question(fact string) (string, bool)
}

// Writer writes the sentences of one checklist in one language.
type Writer struct {
	catalogue *Catalogue
	titles    Titles
}

// NewWriter makes a writer. Titles may be nil where no message names an item.
func NewWriter(c *Catalogue, titles Titles) *Writer { return &Writer{c, titles} }

// Text returns the sentence of a message; nothing for an empty one. A code that
// the catalogue does not have is written as it is.
func (w *Writer) Text(m *message.Message) string {
	if m.Empty() {
		return ""
	}
	var room [512]byte
	return string(w.Append(room[:0], m))
}

// Fill sets the Text of a message.
func (w *Writer) Fill(m *message.Message) { m.Text = w.Text(m) }

// Append appends what Text returns.
func (w *Writer) Append(b []byte, m *message.Message) []byte {
	if m.Empty() {
		return b
	}
	t := w.catalogue.templates[m.Code]
	if t == nil {
		return append(b, m.Code...)
	}
	for i := range t.slots {
		s := &t.slots[i]
		b = w.slot(append(b, s.before...), s, m)
	}
	return append(b, t.tail...)
}

// slot fills one slot.
func (w *Writer) slot(b []byte, s *slot, m *message.Message) []byte {
	arg := m.Arg(s.name)
	if arg == nil {
		return append(append(append(b, '{'), s.source...), '}')
	}
	start := len(b)
	switch arg.Kind {
	case message.KindNumber:
		b = w.number(b, arg.Number, s.how, m)
	case message.KindNoNumber:
		text, _ := w.catalogue.text("number.too-large")
		b = append(b, text...)
	default:
		b = w.words(b, s.how, arg)
	}
	setCase(b, start, s.letter)
	return b
}

func setCase(b []byte, at int, letter byte) {
	switch {
	case at >= len(b):
	case letter == '^' && b[at] >= 'a' && b[at] <= 'z':
		b[at] -= 'a' - 'A'
	case letter == '~' && b[at] >= 'A' && b[at] <= 'Z':
		b[at] += 'a' - 'A'
	}
}

// words writes words and messages.
func (w *Writer) words(b []byte, h *how, arg *message.Arg) []byte {
	switch arg.Kind {
	case message.KindWord:
		return append(b, w.entry(h, arg.Word)...)
	case message.KindWords:
		for i, word := range arg.Words {
			if i > 0 {
				b = append(b, h.separator...)
			}
			b = append(b, w.entry(h, word)...)
		}
		return b
	}
	for i := range arg.Messages {
		if i > 0 {
			b = append(b, h.separator...)
		}
		b = w.Append(b, &arg.Messages[i])
	}
	return b
}

// entry returns what a word stands for in a vocabulary; the word itself where
// there is no vocabulary, or no such entry in it.
func (w *Writer) entry(h *how, word string) string {
	var found string
	var ok bool
	switch {
	case h.vocabulary == "":
	case h.vocabulary == "title" && w.titles != nil:
		found, ok = w.titles.ItemTitle(word)
	case h.vocabulary == "section" && w.titles != nil:
		found, ok = w.titles.SectionTitle(word)
	case h.vocabulary == "question" && w.titles != nil:
		found, ok = w.titles.Question(word)
	default:
		found, ok = h.entries[word]
	}
	if !ok {
		return word
	}
	return found
}

// minus is the sign of a number below zero: as wide as a plus, and no hyphen.
const minus = "−"

// number writes a number as its slot asks.
func (w *Writer) number(b []byte, n decimal.Micro, h *how, m *message.Message) []byte {
	places := h.places
	if h.placesOf != "" {
		if arg := m.Arg(h.placesOf); arg != nil {
			places = int(arg.Number / decimal.One)
		}
	}
	switch h.round {
	case '-':
		n = n.Down(places)
	case '+':
		n = n.Up(places)
	}
	switch h.form {
	case plural:
		if n == decimal.One {
			return append(b, h.one...)
		}
		return append(b, h.others...)
	case times:
		return w.times(b, n)
	}
	if h.form != atMost && h.form != exactly {
		places = decimal.Places
	}
	if n = n.Near(places); n < 0 {
		b, n = append(b, minus...), -n
	}
	if h.form == exactly {
		return append(b, n.Fixed(places)...)
	}
	return n.AppendShort(b, places)
}

func (w *Writer) times(b []byte, n decimal.Micro) []byte {
	if words, ok := w.catalogue.text("times." + n.Text()); ok {
		return append(b, words...)
	}
	other := message.New("times.other", message.Exact("n", n))
	return w.Append(b, &other)
}
