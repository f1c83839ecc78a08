// Package visittext writes a visit as the text that the engine scores. It
// stands apart from the engine because it reads records, and records know JSON,
// which is too heavy for the browser; there, frontend/lib/engine writes the same
// text, held to the same vectors in testdata/vectors.
package visittext

import (
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"doorsill/internal/fields"
	"doorsill/internal/model"
)

// Encode writes the visit as text, in the record's own order. Slips are left
// out, and what is due again because a setting was changed since; so is
// everything that results do not depend on. It never fails: what the
// engine cannot use, the engine refuses by line and field.
func Encode(v model.Visit) []byte {
	e := encoder{out: make([]byte, 0, 8<<10)}
	e.line("doorsill-visit", "1")
	if v.Setup != nil {
		e.setup(v.Setup.SetupChosen)
		e.press("power", v.Setup.PowerPressGF)
		e.press("mode", v.Setup.ModePressGF)
	}
	e.home(&v)
	for _, answer := range v.Answers {
		for _, head := range answer.Heads {
			if !head.Due {
				e.answer(head.AnswerGiven)
			}
		}
	}
	for _, r := range v.Readings {
		if r.Slip == "" && !r.Due {
			e.reading(r.ReadingTaken)
		}
	}
	for _, r := range v.Runs {
		if r.Slip == "" {
			e.run(r.RunTimed)
		}
	}
	if v.Override != nil {
		e.override(v.Override.OverrideMade)
	}
	return e.out
}

type encoder struct{ out []byte }

// line writes one line. No field may hold a TAB or a line end, and ids do not; a
// control character in a damaged record becomes "?", so that it cannot pass for
// a field of its own.
func (e *encoder) line(first string, more ...string) {
	e.out = append(e.out, first...)
	for _, field := range more {
		e.out = append(e.out, '\t')
		for i := range len(field) {
			if field[i] < ' ' {
				e.out = append(e.out, '?')
			} else {
				e.out = append(e.out, field[i])
			}
		}
	}
	e.out = append(e.out, '\n')
}

func (e *encoder) setup(s model.SetupChosen) {
	throw := func(direction string) string {
		if percent, ok := s.Throw[direction]; ok {
			return number(percent)
		}
		return "100"
	}
	e.line("setup", s.Class, s.Site, number(s.StartGF), number(s.OperateGF), number(s.TravelMM),
		throw("forward"), throw("reverse"), throw("left"), throw("right"),
		fields.OrDash(strings.Join(s.Needed, ",")), number(s.SwitchPressGF))
}

// press writes the force of one switch, where it has one of its own.
func (e *encoder) press(purpose string, gf float64) {
	if gf > 0 {
		e.line("switch", purpose, number(gf))
	}
}

func (e *encoder) answer(a model.AnswerGiven) {
	e.line("item", a.Item, a.State, value(a), facts(a.Facts))
}

func value(a model.AnswerGiven) string {
	switch {
	case a.Level != "":
		return a.Level
	case a.Number != nil:
		return number(*a.Number)
	case a.Left != nil || a.Right != nil:
		return pointed(a.Left) + "/" + pointed(a.Right)
	}
	return "-"
}

func pointed(x *float64) string {
	if x == nil {
		return "-"
	}
	return number(*x)
}

// facts writes the answered side questions in the order of their ids.
func facts(given map[string]bool) string {
	if len(given) == 0 {
		return "-"
	}
	var list []string
	for _, id := range slices.Sorted(maps.Keys(given)) {
		list = append(list, id+"="+fields.Flag(given[id]))
	}
	return strings.Join(list, ",")
}

func (e *encoder) reading(r model.ReadingTaken) {
	what := r.What
	if r.Switch != "" {
		what = "switch-" + r.Switch
	}
	e.line("reading", what, r.Site, fields.OrDash(r.Direction), r.State, fields.Flag(r.Supported), number(r.Value), fields.OrDash(r.Unit), fields.Flag(r.Missed))
}

func (e *encoder) run(r model.RunTimed) {
	e.line("run", r.Place, r.State, number(r.Seconds), number(r.Metres),
		strconv.Itoa(r.Things), strconv.Itoa(r.People), strconv.Itoa(r.Prompts),
		strconv.Itoa(r.Rescues), strconv.Itoa(r.Unmeant), strconv.Itoa(r.Presses))
}

func (e *encoder) override(o model.OverrideMade) {
	e.line("override", o.Level, fields.OrDash(o.Reason), strconv.Itoa(utf8.RuneCountInString(trim(o.Text))),
		fields.Flag(trim(o.Mitigation) != ""), fields.Flag(trim(o.Agreed) != ""), day(o.From), day(o.Until))
}

// trim takes spaces, tabs and line ends off both ends of a text.
func trim(text string) string { return strings.Trim(text, " \t\r\n") }

// day returns a date as days since 1 January 1970, or -1 when it is none.
func day(date string) string {
	at, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return "-1"
	}
	const seconds = 24 * 60 * 60
	return strconv.FormatInt(at.Unix()/seconds, 10)
}

// number writes the shortest decimal that reads back as x, without exponent;
// a negative zero is 0.
func number(x float64) string {
	if x == 0 {
		return "0"
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}
