package phrase

import (
	"errors"
	"strconv"
	"strings"
)

// Catalogue holds the templates of one language by code.
type Catalogue struct {
	// Language is the language's tag of BCP 47, such as "en".
	Language  string
	templates map[string]*template
	// hows are what slots say behind their names; each vocabulary that one of
	// them names holds the entries for it.
	hows map[string]*how
}

// Codes calls yield with every code and its template, in no order.
func (c *Catalogue) Codes(yield func(code, template string)) {
	for code, t := range c.templates {
		yield(code, t.source)
	}
}

// Parse reads a catalogue from texts of lines "code: template". Empty lines and
// lines that begin with "#" are passed over; a template goes to the end of its
// line. The error names the line.
func Parse(language string, texts ...string) (*Catalogue, error) {
	c := &Catalogue{language, make(map[string]*template, 1024), make(map[string]*how, 64)}
	for _, text := range texts {
		for n := 1; text != ""; n++ {
			var line string
			line, text, _ = strings.Cut(text, "\n")
			if line == "" || line[0] == '#' {
				continue
			}
			if err := c.add(line); err != nil {
				return nil, errors.New("catalogue " + language + ", line " + strconv.Itoa(n) + ": " + err.Error())
			}
		}
	}
	c.linkVocabularies()
	return c, nil
}

func (c *Catalogue) add(line string) error {
	code, source, ok := strings.Cut(line, ": ")
	if !ok {
		return errors.New("expected a code, a colon, a space and a template, got " + strconv.Quote(line))
	}
	if c.templates[code] != nil {
		return errors.New("expected each code once, got " + code + " again")
	}
	t, err := c.parse(source)
	if err != nil {
		return err
	}
	c.templates[code] = t
	return nil
}

// linkVocabularies gives each slot that names a vocabulary its entries: the
// lines with that vocabulary before the first point of their code.
func (c *Catalogue) linkVocabularies() {
	named := make(map[string]map[string]string)
	for _, h := range c.hows {
		if h.vocabulary != "" {
			if named[h.vocabulary] == nil {
				named[h.vocabulary] = make(map[string]string)
			}
			h.entries = named[h.vocabulary]
		}
	}
	for code, t := range c.templates {
		if vocabulary, word, ok := strings.Cut(code, "."); ok && named[vocabulary] != nil {
			named[vocabulary][word] = t.source
		}
	}
}

// text returns the text of a line without slots, or nothing.
func (c *Catalogue) text(code string) (text string, ok bool) {
	t := c.templates[code]
	if t == nil {
		return "", false
	}
	return t.source, true
}
