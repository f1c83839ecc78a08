package enginetest

import (
	"errors"
	"strings"

	"doorsill/internal/engine/advice"
	"doorsill/internal/validation"
)

// Advice is advice.Of as text, as lines: first a line "basis" with what
// the advice rests on, then a line a change. An unknown problem gives "error",
// TAB and a sentence.
func Advice(problem string) string {
	a, err := advice.Of(problem)
	var bad *validation.Error
	if errors.As(err, &bad) {
		return errorWord + "No advice for “" + printable(problem) + "”: expected " + bad.Want + "."
	}
	out := appendLine(nil, "basis", []string{sentence(a.Rests)})
	for i := range a.Changes {
		c := &a.Changes[i]
		out = appendLine(out, c.Key, []string{c.Way, sentence(c.Step), sentence(c.Message), orDash(strings.Join(c.Retests, ","))})
	}
	return string(out)
}

// printable keeps a line one line, whatever was asked.
func printable(text string) string {
	b := []byte(text)
	for i := range b {
		if b[i] < ' ' {
			b[i] = '?'
		}
	}
	return string(b)
}
