package enginetest

import (
	"errors"
	"strconv"
	"strings"

	"doorsill/internal/engine"
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
	"doorsill/internal/model"
	"doorsill/internal/phrase"
)

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
func sentence(m message.Message) string { return phrase.NewWriter(phrase.English(), nil).Text(&m) }

// Repeats sums up readings, a line a series: what, unit, then the values. It
// answers a line a series: how many, the value that counts or "-", the spread in
// percent or "-", how many more are wanted, how many are asked for after a rest, the
// places (from 0) of odd ones parted by a comma or "-", and a sentence.
func Repeats(text string) string {
	var out []byte
	for row := range strings.Lines(text) {
		f := strings.Split(strings.TrimSuffix(row, "\n"), "\t")
		s := model.Series{What: f[0], Unit: f[1]}
		for _, word := range f[2:] {
			value, err := strconv.ParseFloat(word, 64)
			if err != nil {
				return errorWord + err.Error()
			}
			s.Values = append(s.Values, value)
		}
		if _, err := strength.StatusOf(strength.WhatOf(s.What), s.Unit, s.Values); err != nil {
			return failed(err)
		}
		list, bad := engine.SummariseSeries([]model.Series{s})
		if bad != nil {
			return failed(bad)
		}
		out = appendSummary(out, &list[0])
	}
	return string(out)
}

func appendSummary(out []byte, s *model.SeriesSummary) []byte {
	var places []string
	for _, place := range s.Odd {
		places = append(places, strconv.Itoa(place))
	}
	return appendLine(out, strconv.Itoa(s.Count), []string{number(s.Value), number(s.Spread), strconv.Itoa(s.Wanted), strconv.Itoa(s.More),
		orDash(strings.Join(places, ",")), sentence(s.Message)})
}

// Run works out the quantities of one run, from a line "run".
func Run(text string) string {
	f := reader{rest: text, line: 1}
	f.next("kind")
	const most = 1_000_000
	run := model.RunTimed{Place: f.next("place"), State: f.next("state"), Seconds: f.number("seconds", 0, most), Metres: f.number("metres", 0, most),
		Things: f.whole("things", 0, most), People: f.whole("people", 0, most), Prompts: f.whole("prompts", 0, most), Rescues: f.whole("rescues", 0, most),
		Unmeant: f.whole("unmeant", 0, most), Presses: f.whole("presses", 0, most)}
	if f.err != nil {
		return failed(f.err)
	}
	list, bad := engine.RunQuantities(&run)
	if bad != nil {
		return failed(bad)
	}
	w := resultWriter{words: phrase.NewWriter(phrase.English(), nil)}
	for i := range list {
		w.quantity(&list[i])
	}
	return string(w.out)
}

// Convert writes forces of one unit in another: both units, then the values.
func Convert(text string) string {
	f := strings.Split(text, "\t")
	var out []string
	for _, word := range f[2:] {
		value, err := strconv.ParseFloat(word, 64)
		if err != nil {
			return errorWord + err.Error()
		}
		if _, err := strength.Convert(value, f[0], f[1]); err != nil {
			return failed(err)
		}
		list, bad := engine.Convert([]float64{value}, f[0], f[1])
		if bad != nil {
			return failed(bad)
		}
		out = append(out, list[0].Text())
	}
	return strings.Join(out, "\t")
}
