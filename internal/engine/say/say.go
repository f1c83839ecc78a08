// Package say puts the sentences and lines of a result together from templates.
// A template is read more easily than a sum of strings, and each one costs the
// tablet a single call where every piece and every number would cost its own.
package say

import (
	"doorsill/internal/decimal"
	"doorsill/internal/fields"
)

// Words are the words that a template asks for, in order.
type Words []string

// Line fills a template. In braces it names what comes next:
//
//	{}           the next word
//	{^}          the next word with an upper-case first letter
//	{1}          the next number, rounded to at most one decimal
//	{1-} {1+}    the same, rounded down or up
//	{item|items} the first word if the last number was 1, else the second
//	{times}      the next number as "once", "twice", "3 times"
//
// A test reads every call in the engine and counts words and numbers, so a
// template that asks for more than it gets does not reach anybody.
func Line(template string, words Words, numbers ...float64) string {
	var room [256]byte
	return string(fill(room[:0], template, words, numbers))
}

// Append appends what Line returns.
func Append(b []byte, template string, words Words, numbers ...float64) []byte {
	return fill(b, template, words, numbers)
}

func fill(b []byte, template string, words Words, numbers []float64) []byte {
	last := 0.0
	for {
		text, rest, more := fields.Cut(template, '{')
		b = append(b, text...)
		if !more {
			return b
		}
		end := 0
		for rest[end] != '}' {
			end++
		}
		slot := rest[:end]
		template = rest[end+1:]
		switch slot {
		case "", "^":
			b = appendWord(b, words[0], slot == "^")
			words = words[1:]
		default:
			if one, many, choice := fields.Cut(slot, '|'); !choice {
				last, numbers = numbers[0], numbers[1:]
				b = appendNumber(b, last, slot)
			} else if last == 1 {
				b = append(b, one...)
			} else {
				b = append(b, many...)
			}
		}
	}
}

func appendWord(b []byte, word string, upper bool) []byte {
	at := len(b)
	b = append(b, word...)
	if upper && word != "" && word[0] >= 'a' && word[0] <= 'z' {
		b[at] -= 'a' - 'A'
	}
	return b
}

// appendNumber writes a number as its slot asks: "times", or how many decimals
// and which way to round.
func appendNumber(b []byte, x float64, slot string) []byte {
	m, ok := decimal.Of(x)
	switch {
	case !ok:
		return append(b, "a number that is too large"...)
	case slot == "times":
		return appendTimes(b, m)
	case len(slot) == 1: // to the nearest
	case slot[1] == '-':
		m = m.Down(int(slot[0] - '0'))
	default:
		m = m.Up(int(slot[0] - '0'))
	}
	return m.AppendShort(b, int(slot[0]-'0'))
}

func appendTimes(b []byte, n decimal.Micro) []byte {
	switch n {
	case decimal.Int(1):
		return append(b, "once"...)
	case decimal.Int(2):
		return append(b, "twice"...)
	}
	return append(n.AppendShort(b, 0), " times"...)
}

// List puts words into one, parted by mark.
func List(words Words, mark string) string {
	var room [256]byte
	b := room[:0]
	for i, word := range words {
		if i > 0 {
			b = append(b, mark...)
		}
		b = append(b, word...)
	}
	return string(b)
}
