package strictjson

import (
	"math"
	"strconv"

	"doorsill/internal/validation"
)

// What reads a value sets dst to nothing first. So a null is what is absent, as
// a client may write it, and of a field that stands twice the last value counts,
// as in JavaScript's JSON.parse: nothing of the first is left.

// Text reads a string.
func (r *Reader) Text(dst *string) *validation.Error {
	*dst = ""
	if r.Peek() != '"' {
		if r.literal("null") {
			return nil
		}
		return r.wrong("a text")
	}
	word, err := r.word()
	if err == nil {
		*dst = string(word)
	}
	return err
}

// Number reads a number.
func (r *Reader) Number(dst *float64) *validation.Error {
	*dst = 0
	if !r.atNumber() {
		if r.literal("null") {
			return nil
		}
		return r.wrong("a number")
	}
	digits, broken := r.digits()
	if broken != nil {
		return broken
	}
	value, err := strconv.ParseFloat(string(digits), 64)
	if err != nil {
		return &validation.Error{Code: validation.CodeOutOfRange, Want: "a number that fits", Got: string(digits)}
	}
	*dst = value
	return nil
}

// largest is the largest whole number that every client can count to.
const largest = 1<<53 - 1

// Integer reads a whole number.
func (r *Reader) Integer(dst *int64) *validation.Error {
	*dst = 0
	if !r.atNumber() {
		if r.literal("null") {
			return nil
		}
		return r.wrong("a whole number")
	}
	digits, broken := r.digits()
	if broken != nil {
		return broken
	}
	value, ok := r.whole(string(digits))
	if !ok {
		return &validation.Error{Code: validation.CodeWrongType, Want: "a whole number", Got: string(digits)}
	}
	*dst = value
	return nil
}

func (r *Reader) whole(digits string) (value int64, ok bool) {
	value, err := strconv.ParseInt(digits, 10, 64)
	if err == nil || !r.LooseIntegers {
		return value, err == nil && value <= largest && value >= -largest
	}
	number, err := strconv.ParseFloat(digits, 64)
	if err != nil || number != math.Trunc(number) || math.Abs(number) > largest {
		return 0, false
	}
	return int64(number), true
}

// Count reads a whole number into an int.
func (r *Reader) Count(dst *int) *validation.Error {
	var value int64
	err := r.Integer(&value)
	*dst = int(value)
	return err
}

// Bool reads true or false.
func (r *Reader) Bool(dst *bool) *validation.Error {
	*dst = false
	switch {
	case r.literal("true"):
		*dst = true
	case r.literal("false"), r.literal("null"):
	default:
		return r.wrong("true or false")
	}
	return nil
}

// Raw reads any value as it is written.
func (r *Reader) Raw(dst *[]byte) *validation.Error {
	r.space()
	start := r.i
	if err := r.skip(0); err != nil {
		return err
	}
	*dst = r.b[start:r.i]
	return nil
}

// Texts reads a list of strings. A null among them is refused. An empty list is
// not nil: it can say something else than none.
func Texts[S ~string](r *Reader, dst *[]S) *validation.Error {
	*dst = nil
	if r.literal("null") {
		return nil
	}
	*dst = []S{}
	return r.List("a list of texts", func() *validation.Error {
		if r.Peek() != '"' {
			return r.wrong("a text")
		}
		word, err := r.word()
		if err == nil {
			*dst = append(*dst, S(word))
		}
		return err
	})
}

// Map reads an object of values, each by value. A null is absent: it must not
// become the zero value, which is an answer.
func Map[V any](r *Reader, dst *map[string]V, value func(*V) *validation.Error) *validation.Error {
	*dst = nil
	if r.literal("null") {
		return nil
	}
	return r.Object(func(key []byte) *validation.Error {
		if r.literal("null") {
			delete(*dst, string(key))
			return nil
		}
		var v V
		err := value(&v)
		if err != nil {
			return err
		}
		if *dst == nil {
			*dst = make(map[string]V)
		}
		(*dst)[string(key)] = v
		return nil
	})
}

// Slice reads a list of values, each by value; want names the list.
func Slice[V any](r *Reader, dst *[]V, want string, value func(*V) *validation.Error) *validation.Error {
	*dst = nil
	if r.literal("null") {
		return nil
	}
	return r.List(want, func() *validation.Error {
		var v V
		err := value(&v)
		*dst = append(*dst, v)
		return err
	})
}

// Struct reads an object into a struct, by value.
func Struct[V any](r *Reader, dst *V, value func(*V, *Reader) *validation.Error) *validation.Error {
	var none V
	*dst = none
	if r.literal("null") {
		return nil
	}
	return value(dst, r)
}

func (r *Reader) atNumber() bool {
	c := r.Peek()
	return c == '-' || c >= '0' && c <= '9'
}

// Pointer reads a value that may be absent, by value.
func Pointer[V any](r *Reader, dst **V, value func(*V) *validation.Error) *validation.Error {
	*dst = nil
	if r.literal("null") {
		return nil
	}
	v := new(V)
	if err := value(v); err != nil {
		return err
	}
	*dst = v
	return nil
}

// digits passes over a number and returns it as written.
func (r *Reader) digits() ([]byte, *validation.Error) {
	start := r.i
	for r.i < len(r.b) {
		switch c := r.b[r.i]; {
		case c >= '0' && c <= '9', c == '-', c == '+', c == '.', c == 'e', c == 'E':
			r.i++
			continue
		}
		break
	}
	text := r.b[start:r.i]
	if !validNumber(text) {
		r.i = start
		return nil, r.Broken("a number")
	}
	return text, nil
}

// validNumber reports whether a text is a number of JSON: no zeros in front, no
// plus sign, digits on both sides of the point.
func validNumber(text []byte) bool {
	if len(text) > 0 && text[0] == '-' {
		text = text[1:]
	}
	whole := digitsIn(text)
	if whole == 0 || whole > 1 && text[0] == '0' {
		return false
	}
	text = text[whole:]
	if len(text) > 0 && text[0] == '.' {
		part := digitsIn(text[1:])
		if part == 0 {
			return false
		}
		text = text[1+part:]
	}
	if len(text) == 0 {
		return true
	}
	if text[0] != 'e' && text[0] != 'E' {
		return false
	}
	text = text[1:]
	if len(text) > 0 && (text[0] == '+' || text[0] == '-') {
		text = text[1:]
	}
	return len(text) > 0 && digitsIn(text) == len(text)
}

// digitsIn counts the digits at the start of a text.
func digitsIn(text []byte) int {
	n := 0
	for n < len(text) && text[n] >= '0' && text[n] <= '9' {
		n++
	}
	return n
}
