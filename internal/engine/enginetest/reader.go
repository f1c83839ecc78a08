// Package enginetest writes results and answers as lines of fields parted by TAB
// with their sentences, and reads questions from such lines: a form that is short
// to write and easy to compare. It is for tests alone.
package enginetest

import (
	"fmt"
	"strconv"
	"strings"
)

// TextError says where a visit text is wrong.
type TextError struct {
	// Line counts from 1; Field names the field in words.
	Line  int
	Field string
	// Want is what was expected, Got what stood there.
	Want, Got string
}

func (e *TextError) Error() string {
	return fmt.Sprintf("visit text, line %d: %s: expected %s, got “%s”", e.Line, e.Field, e.Want, e.Got)
}

// reader is one line of a text, read from left to right. The first mistake is
// kept; after it every read returns a zero.
type reader struct {
	rest string
	line int
	done bool
	err  *TextError
}

func (f *reader) fail(field, want, got string) {
	if f.err == nil {
		f.err = &TextError{f.line, field, want, got}
	}
}

// next returns the next field of the line.
func (f *reader) next(field string) string {
	if f.err != nil {
		return ""
	}
	if f.done {
		f.fail(field, "one more field", "the end of the line")
		return ""
	}
	text, rest, more := strings.Cut(f.rest, "\t")
	f.rest, f.done = rest, !more
	return text
}

// number reads a plain decimal between low and high.
func (f *reader) number(field string, low, high float64) float64 {
	text := f.next(field)
	if f.err != nil {
		return 0
	}
	value, err := strconv.ParseFloat(text, 64)
	if err != nil || strings.Trim(text, "-.0123456789") != "" || value < low || value > high {
		f.fail(field, fmt.Sprintf("a number from %v to %v", low, high), text)
		return 0
	}
	return value
}

// whole reads a whole number between low and high.
func (f *reader) whole(field string, low, high int) int {
	text := f.next(field)
	if f.err != nil {
		return 0
	}
	value, err := strconv.Atoi(text)
	if err != nil || value < low || value > high {
		f.fail(field, fmt.Sprintf("a whole number from %d to %d", low, high), text)
		return 0
	}
	return value
}

// appendLine writes one line of an answer.
func appendLine(b []byte, first string, more []string) []byte {
	b = append(b, first...)
	for _, field := range more {
		b = append(append(b, '\t'), field...)
	}
	return append(b, '\n')
}

// flag is how yes and no stand in a field.
func flag(yes bool) string {
	if yes {
		return "1"
	}
	return "0"
}

// orDash is text, or the "-" that stands for an empty field.
func orDash(text string) string {
	if text == "" {
		return "-"
	}
	return text
}
