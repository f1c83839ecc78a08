package authoring

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"doorsill/internal/checklist"
	"doorsill/internal/validation"
)

// maxProblems ends the listing of a file that is not a checklist at all.
const maxProblems = 100

var (
	idPattern      = regexp.MustCompile(`^[a-z][a-z0-9-]{0,39}$`)
	versionPattern = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9.-]{0,39}$`)
)

// problems collects what is wrong in one file.
type problems struct {
	file  string
	found []Problem
}

func (p *problems) add(line int, field, want, got string) {
	if len(p.found) < maxProblems {
		p.found = append(p.found, Problem{p.file, line, field, want, got})
	}
}

func (p *problems) sorted() Problems {
	slices.SortStableFunc(p.found, func(a, b Problem) int { return a.Line - b.Line })
	return p.found
}

func join(field, name string) string {
	if field == "" {
		return validation.Shorten(name)
	}
	return field + "." + validation.Shorten(name)
}

func at(field string, index int) string { return field + "[" + strconv.Itoa(index) + "]" }

// object reads the members of one JSON object and reports the ones that it
// does not know.
type object struct {
	*problems
	value value
	field string
}

// object checks that v is an object whose members are all among known.
func (p *problems) object(v value, field string, known []string) (object, bool) {
	o := object{p, v, field}
	if v.kind != kindObject {
		p.add(v.line, field, kindObject, v.shown())
		return o, false
	}
	for _, m := range v.members {
		if !slices.Contains(known, m.name) {
			p.add(m.line, join(field, m.name), "one of the fields "+strings.Join(known, ", "), "an unknown field")
		}
	}
	return o, true
}

func (o object) has(name string) bool { return o.value.member(name) != nil }

// line is where a problem of the member is shown: its own line, or that of
// the object when it is missing.
func (o object) line(name string) int {
	if m := o.value.member(name); m != nil {
		return m.value.line
	}
	return o.value.line
}

// wrong reports a member that is there but not as it should be.
func (o object) wrong(name, want, got string) {
	o.add(o.line(name), join(o.field, name), want, got)
}

// get finds a member of the wanted kind. A missing one is reported only when
// it is required.
func (o object) get(name, kind, want string, required bool) (value, bool) {
	m := o.value.member(name)
	if m == nil {
		if required {
			o.wrong(name, want, "nothing")
		}
		return value{}, false
	}
	if m.value.kind != kind {
		o.wrong(name, want, m.value.mistaken())
		return value{}, false
	}
	return m.value, true
}

func (o object) text(name string, most int, required bool) string {
	v, ok := o.get(name, kindText, textOf(most), required)
	if !ok {
		return ""
	}
	o.plain(v, join(o.field, name), most)
	return v.text
}

// plain checks that a text is one line of 1 to so many characters.
func (p *problems) plain(v value, field string, most int) {
	switch n := utf8.RuneCountInString(v.text); {
	case n == 0 || n > most:
		p.add(v.line, field, textOf(most), strconv.Itoa(n)+" characters")
	case strings.ContainsFunc(v.text, control):
		p.add(v.line, field, "a text in one line without control characters", v.shown())
	case strings.Trim(v.text, " ") != v.text:
		p.add(v.line, field, "a text without spaces at its ends", v.shown())
	}
}

func textOf(most int) string { return "a text of 1 to " + strconv.Itoa(most) + " characters" }

func control(r rune) bool { return r < ' ' || r >= 0x7f && r < 0xa0 || r == 0x2028 || r == 0x2029 }

func (o object) id(name string) string {
	return o.match(name, idPattern, "an id of small letters, digits and hyphens, at most 40, a letter first")
}

func (o object) match(name string, pattern *regexp.Regexp, want string) string {
	v, ok := o.get(name, kindText, want, true)
	if ok && !pattern.MatchString(v.text) {
		o.wrong(name, want, v.shown())
	}
	return v.text
}

// choice reads a text that is one of allowed; empty when it is not.
func (o object) choice(name string, allowed []string, required bool) string {
	want := oneOf(allowed)
	v, ok := o.get(name, kindText, want, required)
	if ok && !slices.Contains(allowed, v.text) {
		o.wrong(name, want, v.shown())
		return ""
	}
	return v.text
}

func (o object) flag(name string) bool {
	v, _ := o.get(name, kindBool, "true or false", false)
	return v.text == "true"
}

func (o object) number(name string, required bool) *float64 {
	want := "a number from -1000000 to 1000000"
	v, ok := o.get(name, kindNumber, want, required)
	if !ok {
		return nil
	}
	n, err := strconv.ParseFloat(v.text, 64)
	if err != nil || math.Abs(n) > checklist.MaxNumber {
		o.wrong(name, want, v.shown())
		return nil
	}
	return &n
}

// whole reads a whole number, written with or without a fraction of zero.
func (o object) whole(name string, low, high int, required bool) int {
	want := "a whole number from " + strconv.Itoa(low) + " to " + strconv.Itoa(high)
	if high-low == 2 {
		want = strconv.Itoa(low) + ", " + strconv.Itoa(low+1) + " or " + strconv.Itoa(high)
	}
	v, ok := o.get(name, kindNumber, want, required)
	if !ok {
		return 0
	}
	n, err := strconv.ParseFloat(v.text, 64)
	if err != nil || n != math.Trunc(n) || n < float64(low) || n > float64(high) {
		o.wrong(name, want, v.shown())
		return 0
	}
	return int(n)
}

// list reads the elements of a list with low to high elements.
func (o object) list(name string, low, high int, required bool) []value {
	want := "a list of " + strconv.Itoa(low) + " to " + strconv.Itoa(high)
	if low == high {
		want = "a list of " + strconv.Itoa(low)
	}
	v, ok := o.get(name, kindList, want, required)
	if ok && (len(v.list) < low || len(v.list) > high) {
		o.wrong(name, want, strconv.Itoa(len(v.list)))
	}
	if len(v.list) > high {
		return v.list[:high]
	}
	return v.list
}

// refuse reports members that have no meaning here.
func (o object) refuse(reason string, names ...string) {
	for _, name := range names {
		if o.has(name) {
			o.wrong(name, "no such field "+reason, o.value.member(name).value.shown())
		}
	}
}

func oneOf(allowed []string) string {
	if len(allowed) == 1 {
		return checklist.Quote(allowed[0])
	}
	return validation.Either(allowed)
}
