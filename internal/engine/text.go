package engine

import (
	"errors"
	"strconv"
	"strings"

	"doorsill/internal/engine/decimal"
)

// ErrText is what every *TextError wraps.
var ErrText = errors.New("not a visit text that this program can read")

// TextError says where a visit text is wrong.
type TextError struct {
	// Line counts from 1; Field names the field as WIRE.md does.
	Line  int
	Field string
	// Want is what was expected, Got what stood there.
	Want, Got string
}

func (e *TextError) Error() string {
	return "visit text, line " + strconv.Itoa(e.Line) + ": " + e.Field + ": expected " + e.Want + ", got “" + e.Got + "”"
}

func (e *TextError) Unwrap() error { return ErrText }

// fields is one line of a text, read from left to right. The first mistake is
// kept; after it every read returns a zero.
type fields struct {
	rest string
	line int
	done bool
	err  *TextError
}

func (f *fields) fail(field, want, got string) {
	if f.err == nil {
		f.err = &TextError{f.line, field, want, got}
	}
}

// next returns the next field of the line.
func (f *fields) next(field string) string {
	if f.err != nil {
		return ""
	}
	if f.done {
		f.fail(field, "one more field", "the end of the line")
		return ""
	}
	end := strings.IndexByte(f.rest, '\t')
	if end < 0 {
		text := f.rest
		f.rest, f.done = "", true
		return text
	}
	text := f.rest[:end]
	f.rest = f.rest[end+1:]
	return text
}

// end refuses fields beyond those of the line's kind.
func (f *fields) end() {
	if f.err == nil && !f.done {
		f.fail("end", "no further field", f.rest)
	}
}

// number reads a plain decimal between low and high.
func (f *fields) number(field string, low, high float64) float64 {
	text := f.next(field)
	if f.err != nil {
		return 0
	}
	value, ok := plainDecimal(text)
	if !ok || value < low || value > high {
		f.fail(field, "a number from "+short(low)+" to "+short(high), text)
		return 0
	}
	return value
}

// whole reads a whole number between low and high.
func (f *fields) whole(field string, low, high int) int {
	text := f.next(field)
	if f.err != nil {
		return 0
	}
	value, err := strconv.Atoi(text)
	if err != nil || value < low || value > high || text[0] == '+' {
		f.fail(field, "a whole number from "+strconv.Itoa(low)+" to "+strconv.Itoa(high), text)
		return 0
	}
	return value
}

// flag reads 0 or 1.
func (f *fields) flag(field string) bool {
	text := f.next(field)
	if f.err == nil && text != "0" && text != "1" {
		f.fail(field, "0 or 1", text)
	}
	return text == "1"
}

// plainDecimal reads digits with at most one point and a minus in front.
// Exponents, plus signs, NaN and the infinities are refused. Up to 15 digits
// give the same float64 as the standard library; later ones are dropped, which
// the rounding to six decimals does anyway. (The library's own reader and
// writer of floats would take 10 kB more on the tablet.)
func plainDecimal(text string) (float64, bool) {
	digits, minus := strings.CutPrefix(text, "-")
	whole, part, point := strings.Cut(digits, ".")
	if whole == "" || point && part == "" || len(whole) > 15 {
		return 0, false
	}
	value, ok1 := digitsOf(whole, 0)
	kept := part[:min(len(part), max(15-len(strings.TrimLeft(whole, "0")), 0))]
	value, ok2 := digitsOf(kept, value)
	_, ok3 := digitsOf(part, 0)
	scale := 1.0
	for range kept {
		scale *= 10 // exact up to 10^22
	}
	if minus {
		value = -value
	}
	return float64(value) / scale, ok1 && ok2 && ok3
}

// digitsOf appends decimal digits to value.
func digitsOf(text string, value int64) (int64, bool) {
	for i := range len(text) {
		if text[i] < '0' || text[i] > '9' {
			return 0, false
		}
		value = value*10 + int64(text[i]-'0')
	}
	return value, true
}

// short writes a number of an error message.
func short(x float64) string {
	m, _ := decimal.Of(x)
	return m.Text()
}
