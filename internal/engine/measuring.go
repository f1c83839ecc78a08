package engine

import (
	"errors"
	"strings"

	"doorsill/internal/decimal"
	"doorsill/internal/engine/provenance"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/strength"
	"doorsill/internal/engine/trial"
	"doorsill/internal/fields"
	"doorsill/internal/message"
	"doorsill/internal/phrase"
)

// The measuring screens ask these while somebody measures, before anything is
// scored. Text in, text out; an answer that begins with "error" and a TAB says
// in a sentence what was wrong.

const errorWord = "error\t"

// failed words an error.
func failed(err error) string {
	var number strength.Error
	if errors.As(err, &number) {
		return errorWord + sentence(number.Message())
	}
	return errorWord + err.Error()
}

// sentence words a message that names no item of a checklist.
func sentence(m message.Message) string { return english().Text(&m) }

// english words messages that name no item of a checklist.
func english() *phrase.Writer { return phrase.NewWriter(phrase.English(), nil) }

// Repeats sums up readings, a line a series: what, unit, then the values, all
// parted by TAB. It answers a line a series: how many, the value that counts or
// "-", the spread in percent or "-", how many more are wanted, 1 where one more
// is asked for because they lie far apart, the places (from 0) of odd ones
// parted by a comma or "-", and a sentence. Values are in the series' unit.
func Repeats(text string) string {
	var out []byte
	for line := 1; text != ""; line++ {
		var row string
		row, text, _ = fields.Cut(text, '\n')
		s, err := series(reader{rest: row, line: line})
		if err != nil {
			return failed(err)
		}
		out = appendSeriesStatus(out, &s)
	}
	return string(out)
}

func series(f reader) (strength.SeriesStatus, error) {
	what, unit := f.next("what"), f.next("unit")
	values := make([]float64, 0, 8)
	for !f.done && f.err == nil {
		values = append(values, f.number("value", 0, 1e6))
	}
	if f.err != nil {
		return strength.SeriesStatus{}, f.err
	}
	return strength.StatusOf(strength.WhatOf(what), unit, values)
}

func appendSeriesStatus(out []byte, s *strength.SeriesStatus) []byte {
	value, spread, odd := "-", "-", "-"
	if s.N > 0 {
		value = s.Value.Text()
	}
	if s.HasSpread {
		spread = s.Spread.Short(1)
	}
	if len(s.Odd) > 0 {
		var places []string
		for _, place := range s.Odd {
			places = append(places, provenance.Whole(place))
		}
		odd = strings.Join(places, ",")
	}
	return appendLine(out, provenance.Whole(s.N), []string{value, spread, provenance.Whole(s.Missing), fields.Flag(s.More), odd, sentence(s.Say)})
}

// Run works out the quantities of one run: a line as in the visit text in, figure
// lines as in the result out, those that a run in such a place counts for.
func Run(line string) string {
	var v visit
	line, more, _ := fields.Cut(line, '\n')
	d := decoder{visit: &v, reader: reader{rest: line, line: 1}}
	if kind := d.next("kind"); d.err == nil && kind != "run" {
		d.fail("kind", "run", kind)
	}
	d.run()
	d.end()
	if more != "" {
		d.fail("end", "one run", more)
	}
	if d.err != nil {
		return errorWord + d.err.Error()
	}
	findings := trial.Sum(v.runs)
	w := resultWriter{words: english()}
	var b builder
	findings.Of(v.runs[0].Place, func(q *quantity.Quantity) {
		one := b.quantity(q)
		w.quantity(&one)
	})
	return string(w.out)
}

// Convert writes forces of one unit in another: both units, then the values,
// parted by TAB; the answer is the values, parted by TAB.
func Convert(text string) string {
	f := reader{rest: text, line: 1}
	from, to := f.next("from"), f.next("to")
	var out []string
	for !f.done && f.err == nil {
		value := f.number("value", 0, 1e9)
		m, err := strength.Convert(value, from, to)
		if err != nil {
			return failed(err)
		}
		out = append(out, m.Short(decimal.Places))
	}
	if f.err != nil {
		return errorWord + f.err.Error()
	}
	return strings.Join(out, "\t")
}

// Plausible judges a value as it is typed; see strength.Plausible. It answers
// "ok"; "ask", a question and a suggestion such as "153 gf" or "-"; or "refuse"
// and why: fields parted by TAB.
func Plausible(what, site string, value float64, unit string) string {
	j := strength.Plausible(what, site, value, unit)
	switch j.Answer {
	case strength.PlausibleAsk:
		suggestion := "-"
		if j.Unit != "" {
			suggestion = j.Suggested.Text() + " " + j.Unit
		}
		return j.Answer + "\t" + sentence(j.Say) + "\t" + suggestion
	case strength.PlausibleRefuse:
		return j.Answer + "\t" + sentence(j.Say)
	}
	return j.Answer
}
