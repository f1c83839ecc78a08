package rules

import (
	"bytes"
	"errors"
	"strconv"
	"strings"
)

// ErrText is what every error of Parse wraps: the text is not what Encode
// writes. It comes from a damaged transfer or another program version, never
// from what a person typed.
var ErrText = errors.New("not a rules text of this program")

// lineError says which line of a rules text is wrong and what was expected.
type lineError struct {
	line int
	want string
}

func (e *lineError) Error() string {
	return "parse rules: line " + strconv.Itoa(e.line) + ": expected " + e.want
}

func (e *lineError) Unwrap() error { return ErrText }

// Parse reads what Encode wrote. Lists that hold nothing are nil. The error
// names the first line that is wrong and wraps ErrText; a text that Encode
// would have written in another way is refused too.
func Parse(b []byte) (Set, error) {
	var r reader
	rest := string(b)
	for rest != "" && r.want == "" {
		var text string
		text, rest, _ = strings.Cut(rest, "\n")
		r.line++
		r.read(text)
	}
	if r.line == 0 {
		r.fail("doorsill-rules, 1 and a hash")
	}
	if r.want == "" && !bytes.Equal(r.set.Encode(), b) {
		r.fail("the text as it was written, byte by byte")
	}
	if r.want != "" {
		return Set{}, &lineError{r.line, r.want}
	}
	return r.set, nil
}

// reader builds a set line by line and keeps the first thing that was wrong.
type reader struct {
	set  Set
	line int
	want string
}

func (r *reader) fail(want string) {
	if r.want == "" {
		r.want = want
	}
}

func (r *reader) read(text string) {
	fields := strings.Split(text, "\t")
	if r.line == 1 {
		r.head(fields)
		return
	}
	want := map[string]int{"section": 3, "item": 14, "effect": 2, "when": 4}[fields[0]]
	if want == 0 || len(fields) != want {
		r.fail("a section, item, effect or when line with all its fields")
		return
	}
	switch fields[0] {
	case "section":
		r.set.Sections = append(r.set.Sections, Section{Code: fields[1], Title: fields[2]})
	case "item":
		r.item(fields)
	case "effect":
		r.effect(fields[1])
	case "when":
		r.when(fields)
	}
}

func (r *reader) head(fields []string) {
	if len(fields) != 3 || fields[0] != "doorsill-rules" || fields[1] != "1" {
		r.fail("doorsill-rules, 1 and a hash")
		return
	}
	r.set.Hash = fields[2]
}

func (r *reader) item(f []string) {
	if len(r.set.Sections) == 0 {
		r.fail("a section before its items")
		return
	}
	section := &r.set.Sections[len(r.set.Sections)-1]
	section.Items = append(section.Items, Item{
		ID: f[1], Type: r.oneOf(Types(), f[2]), Weight: r.whole(f[3], 1, 3),
		NA: f[4] == "1", Needed: f[5] == "1",
		Better: r.oneOf([]string{"", "high", "low"}, undash(f[6])), Bounds: r.bounds(f[7]),
		Decimals: r.whole(f[8], 0, 3), Of: r.whole(f[9], 0, 1e6), Sides: f[10] == "1",
		From: r.from(undash(f[11])), Unit: undash(f[12]), Title: f[13],
	})
}

func (r *reader) last() *Item {
	if len(r.set.Sections) == 0 {
		return nil
	}
	items := r.set.Sections[len(r.set.Sections)-1].Items
	if len(items) == 0 {
		return nil
	}
	return &items[len(items)-1]
}

func (r *reader) effect(effect string) {
	item := r.last()
	if item == nil {
		r.fail("an item before its effects")
		return
	}
	item.Effects = append(item.Effects, Effect{Effect: r.oneOf(Effects(), effect)})
}

func (r *reader) when(f []string) {
	item := r.last()
	if item == nil || len(item.Effects) == 0 {
		r.fail("an effect before its conditions")
		return
	}
	effect := &item.Effects[len(item.Effects)-1]
	condition := Condition{Levels: list(f[1]), Facts: list(f[3])}
	for _, band := range list(f[2]) {
		condition.Bands = append(condition.Bands, r.whole(band, 1, len(item.Bounds)+1))
	}
	effect.When = append(effect.When, condition)
}

func (r *reader) bounds(text string) []float64 {
	var bounds []float64
	for _, field := range list(text) {
		value, err := strconv.ParseFloat(field, 64)
		if err != nil || value != value || value-value != 0 {
			r.fail("bounds that are numbers")
		}
		bounds = append(bounds, value)
	}
	return bounds
}

func (r *reader) from(source string) string {
	if source == "" {
		return ""
	}
	return r.oneOf(Sources(), source)
}

func (r *reader) oneOf(allowed []string, text string) string {
	for _, each := range allowed {
		if text == each {
			return text
		}
	}
	r.fail("one of " + strings.Join(allowed, ", "))
	return text
}

func (r *reader) whole(text string, low, high int) int {
	value, err := strconv.Atoi(text)
	if err != nil || value < low || value > high {
		r.fail("a whole number from " + strconv.Itoa(low) + " to " + strconv.Itoa(high))
	}
	return value
}

func undash(text string) string {
	if text == "-" {
		return ""
	}
	return text
}

func list(text string) []string {
	if text == "-" {
		return nil
	}
	return strings.Split(text, ",")
}
