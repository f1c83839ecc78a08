package phrase

import (
	"errors"
	"strconv"
	"strings"
)

// template is a line of the catalogue, taken apart once so that wording is fast.
type template struct {
	source string
	// slots come with the text before each; tail is the text after the last.
	slots []slot
	tail  string
}

// slot names an argument.
type slot struct {
	before string
	// source is what stands in the braces.
	source string
	name   string
	// letter is '^' or '~' where the first letter is to be upper or lower case.
	letter byte
	how    *how
}

// how says how an argument is written. What is said of words has no meaning for
// a number, and the other way round. Slots that say the same share one.
type how struct {
	// Words: each stands for its entry in a vocabulary, if one is named.
	vocabulary, separator string
	entries               map[string]string

	// Numbers.
	form form
	// places counts decimals, or placesOf names the argument that does; round
	// is '-' or '+' to round down or up.
	places      int
	placesOf    string
	round       byte
	one, others string
}

// form is how a number is written.
type form uint8

const (
	whole   form = iota // all its decimals
	atMost              // at most so many decimals
	exactly             // exactly so many
	plural              // one of two words
	times               // once, twice
)

func (c *Catalogue) parse(source string) (*template, error) {
	t := &template{source: source}
	for rest := source; ; {
		text, inside, more := strings.Cut(rest, "{")
		if !more {
			t.tail = text
			return t, nil
		}
		inside, rest, more = strings.Cut(inside, "}")
		s := slot{before: text, source: inside, name: inside}
		if inside != "" && (inside[0] == '^' || inside[0] == '~') {
			s.letter, s.name = inside[0], inside[1:]
		}
		manner := ""
		if end := strings.IndexAny(s.name, ":/.#|"); end >= 0 {
			s.name, manner = s.name[:end], s.name[end:]
		}
		if s.how = c.howOf(manner); !more || s.name == "" || s.how == nil {
			return nil, errors.New("expected a slot such as {site:site} or {gf.1}, got " + strconv.Quote("{"+inside))
		}
		t.slots = append(t.slots, s)
	}
}

// howOf returns what stands behind the name in a slot, taken apart; nil when it
// has no meaning.
func (c *Catalogue) howOf(source string) *how {
	if h := c.hows[source]; h != nil {
		return h
	}
	h, ok := parseHow(source)
	if !ok {
		return nil
	}
	c.hows[source] = &h
	return &h
}

func parseHow(source string) (h how, ok bool) {
	h.separator = ", "
	if source == "" {
		return h, true
	}
	mark, source := source[0], source[1:]
	switch mark {
	case ':':
		var separator string
		h.vocabulary, separator, ok = strings.Cut(source, "/")
		if ok {
			h.separator = separator
		}
		return h, h.vocabulary != ""
	case '/':
		h.separator = source
		return h, true
	case '|':
		h.form = plural
		h.one, h.others, ok = strings.Cut(source, "|")
		return h, ok
	}
	h.number(mark, source)
	return h, source != ""
}

// number reads how many decimals are wanted: a digit or the name of an argument,
// with a sign behind that says how to round.
func (h *how) number(mark byte, source string) {
	if source == "times" {
		h.form = times
		return
	}
	h.form = atMost
	if mark == '#' {
		h.form = exactly
	}
	if digits := strings.TrimRight(source, "-+"); digits != source {
		h.round, source = source[len(digits)], digits
	}
	if len(source) == 1 && source[0] >= '0' && source[0] <= '9' {
		h.places = int(source[0] - '0')
		return
	}
	h.placesOf = source
}
