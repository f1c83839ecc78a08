package rules

import (
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"
)

// ErrText is what every error of Read and Parse wraps: the text is not what
// Encode writes. It comes from a damaged transfer or another program version,
// never from what a person typed.
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

// Read reads what Encode wrote. Lists that hold nothing are nil. The error
// names the first line that is wrong and wraps ErrText.
func Read(b []byte) (Set, error) {
	var r reader
	rest, ended := string(b), true
	for rest != "" && r.want == "" {
		var text string
		text, rest, ended = strings.Cut(rest, "\n")
		r.line++
		r.read(text)
	}
	if r.line == 0 {
		r.fail("doorsill-rules, 1 and a hash")
	}
	if !ended {
		r.fail(asWritten)
	}
	if r.want != "" {
		return Set{}, &lineError{r.line, r.want}
	}
	return r.set, nil
}

const asWritten = "the text as it was written, byte by byte"

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
	f := strings.Split(text, "\t")
	switch kind := f[0]; {
	case r.line == 1:
		r.head(f)
	case kind == "section" && len(f) == 3:
		r.set.Sections = append(r.set.Sections, Section{Code: f[1], Title: f[2]})
	case kind == "item" && len(f) == 14:
		r.item(f)
	case kind == "effect" && len(f) == 2:
		r.effect(f[1])
	case kind == "when" && len(f) == 4:
		r.when(f)
	default:
		r.fail("a section, item, effect or when line with all its fields")
	}
}

func (r *reader) head(f []string) {
	if len(f) != 3 || f[0] != "doorsill-rules" || f[1] != "1" {
		r.fail("doorsill-rules, 1 and a hash")
		return
	}
	r.set.Hash = f[2]
}

func (r *reader) item(f []string) {
	if len(r.set.Sections) == 0 {
		r.fail("a section before its items")
		return
	}
	section := &r.set.Sections[len(r.set.Sections)-1]
	section.Items = append(section.Items, Item{
		ID: f[1], Type: r.oneOf(types[:], f[2]), Weight: r.whole(f[3], 1, 3),
		NA: r.flag(f[4]), Needed: r.flag(f[5]),
		Better: r.oneOf([]string{"", "high", "low"}, undash(f[6])), Bounds: r.bounds(f[7]),
		Decimals: r.whole(f[8], 0, 3), Of: r.whole(f[9], 0, 1e6), Sides: r.flag(f[10]),
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
	item.Effects = append(item.Effects, Effect{Effect: r.oneOf(effects[:], effect)})
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
		if err != nil || math.IsNaN(value) || math.IsInf(value, 0) {
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
	return r.oneOf(sources[:], source)
}

func (r *reader) oneOf(allowed []string, text string) string {
	if !slices.Contains(allowed, text) {
		r.fail("one of " + strings.Join(allowed, ", "))
	}
	return text
}

func (r *reader) whole(text string, low, high int) int {
	value, err := strconv.Atoi(text)
	if err != nil || value < low || value > high {
		r.fail("a whole number from " + strconv.Itoa(low) + " to " + strconv.Itoa(high))
	}
	return value
}

func (r *reader) flag(text string) bool {
	if text != "0" && text != "1" {
		r.fail(asWritten)
	}
	return text == "1"
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
