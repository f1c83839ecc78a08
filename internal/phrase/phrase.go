// Package phrase turns messages into sentences. It is the one place that holds
// words: a catalogue has a template for each code, so that another language is
// another catalogue. The English one is in the folder en.
//
// A template is plain text with slots in braces that name an argument:
//
//	{site}          a word as it is, a message as its sentence
//	{site:site}     a word that stands for another: the entry "site.chin"
//	{item:title}    the title of an item of the checklist; {code:section} of a section
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
	"strings"

	"doorsill/internal/decimal"
	"doorsill/internal/message"
)

// Titles names items and sections by their ids.
type Titles interface {
	// ItemTitle returns the title of an item, false for one that there is not.
	ItemTitle(id string) (string, bool)
	// SectionTitle returns the title of a section, false for one that there is not.
	SectionTitle(code string) (string, bool)
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
	template, ok := w.catalogue.templates[m.Code]
	if !ok {
		return append(b, m.Code...)
	}
	for {
		open := strings.IndexByte(template, '{')
		if open < 0 {
			return append(b, template...)
		}
		b, template = append(b, template[:open]...), template[open+1:]
		end := strings.IndexByte(template, '}')
		b = w.slot(b, template[:end], m)
		template = template[end+1:]
	}
}

// slot fills one slot. Case is how its first letter is to be.
func (w *Writer) slot(b []byte, s string, m *message.Message) []byte {
	letter := byte(0)
	if s[0] == '^' || s[0] == '~' {
		letter, s = s[0], s[1:]
	}
	end := 0
	for end < len(s) && !isMark(s[end]) {
		end++
	}
	name, how := s[:end], s[end:]
	arg := m.Arg(name)
	if arg == nil {
		return append(append(append(b, '{'), s...), '}')
	}
	start := len(b)
	switch arg.Kind {
	case message.KindNumber:
		b = w.number(b, arg.Number, how, m)
	case message.KindTooLarge:
		b = append(b, w.entry("number", "too-large")...)
	default:
		b = w.words(b, arg, how)
	}
	setCase(b, start, letter)
	return b
}

// isMark reports whether a letter ends the name in a slot.
func isMark(letter byte) bool {
	switch letter {
	case ':', '/', '.', '#', '|':
		return true
	}
	return false
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

// words writes words and messages; how is ":vocabulary/separator", either part
// of which may be missing.
func (w *Writer) words(b []byte, arg *message.Arg, how string) []byte {
	vocabulary, separator, given := strings.Cut(strings.TrimPrefix(how, ":"), "/")
	if !given {
		separator = ", "
	}
	switch arg.Kind {
	case message.KindWord:
		return append(b, w.entry(vocabulary, arg.Word)...)
	case message.KindWords:
		for i, word := range arg.Words {
			if i > 0 {
				b = append(b, separator...)
			}
			b = append(b, w.entry(vocabulary, word)...)
		}
		return b
	}
	for i := range arg.Messages {
		if i > 0 {
			b = append(b, separator...)
		}
		b = w.Append(b, &arg.Messages[i])
	}
	return b
}

// entry returns what a word stands for in a vocabulary; the word itself where
// there is no vocabulary, or no such entry in it.
func (w *Writer) entry(vocabulary, word string) string {
	found, ok := word, vocabulary == ""
	switch {
	case ok:
	case vocabulary == "title" && w.titles != nil:
		found, ok = w.titles.ItemTitle(word)
	case vocabulary == "section" && w.titles != nil:
		found, ok = w.titles.SectionTitle(word)
	default:
		found, ok = w.catalogue.templates[vocabulary+"."+word]
	}
	if !ok {
		return word
	}
	return found
}

// number writes a number as its slot asks.
func (w *Writer) number(b []byte, n decimal.Micro, how string, m *message.Message) []byte {
	switch {
	case how == "":
		return append(b, n.Text()...)
	case how[0] == '|':
		one, other, _ := strings.Cut(how[1:], "|")
		if n == decimal.One {
			return append(b, one...)
		}
		return append(b, other...)
	case how == ".times":
		return w.times(b, n)
	}
	places, round := decimals(how[1:], m)
	switch round {
	case '-':
		n = n.Down(places)
	case '+':
		n = n.Up(places)
	}
	if how[0] == '#' {
		return append(b, n.Fixed(places)...)
	}
	return n.AppendShort(b, places)
}

// decimals reads how many decimals a slot asks for, as a digit or as the name of
// an argument, and the sign behind that says how to round.
func decimals(how string, m *message.Message) (places int, round byte) {
	if last := how[len(how)-1]; last == '-' || last == '+' {
		how, round = how[:len(how)-1], last
	}
	if len(how) == 1 && how[0] >= '0' && how[0] <= '9' {
		return int(how[0] - '0'), round
	}
	if arg := m.Arg(how); arg != nil {
		return int(arg.Number / decimal.One), round
	}
	return 0, round
}

func (w *Writer) times(b []byte, n decimal.Micro) []byte {
	if words, ok := w.catalogue.templates["times."+n.Text()]; ok {
		return append(b, words...)
	}
	other := message.New("times.other", message.Exact("n", n))
	return w.Append(b, &other)
}
