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
	templates map[string]string
}

// Codes calls yield with every code and its template, in no order.
func (c *Catalogue) Codes(yield func(code, template string)) {
	for code, template := range c.templates {
		yield(code, template)
	}
}

// Parse reads a catalogue from texts of lines "code: template". Empty lines and
// lines that begin with "#" are passed over; a template goes to the end of its
// line. The error names the line.
func Parse(language string, texts ...string) (*Catalogue, error) {
	c := &Catalogue{Language: language, templates: make(map[string]string, 512)}
	for _, text := range texts {
		for n := 1; text != ""; n++ {
			var line string
			line, text, _ = strings.Cut(text, "\n")
			if line == "" || line[0] == '#' {
				continue
			}
			code, template, ok := strings.Cut(line, ": ")
			if !ok {
				return nil, wrong(language, n, "expected a code, a colon, a space and a template, got "+strconv.Quote(line))
			}
			if _, double := c.templates[code]; double {
				return nil, wrong(language, n, "expected each code once, got "+code+" again")
			}
			c.templates[code] = template
		}
	}
	return c, nil
}

func wrong(language string, line int, what string) error {
	return errors.New("catalogue " + language + ", line " + strconv.Itoa(line) + ": " + what)
}
