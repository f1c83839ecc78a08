// Package strictjson reads and writes JSON without reflection, so that the
// program in the browser stays small. The reader is stricter than
// encoding/json: keys must match exactly, because a client in another language
// reads the same bytes and must understand the same. The writer gives the bytes
// that encoding/json gives without escaping HTML.
package strictjson

import (
	"strconv"

	"doorsill/internal/validation"
)

// deepest is how far values may be nested; an event needs four.
const deepest = 32

// Reader reads JSON from front to back without looking at it twice. Its methods
// take the value that comes next. For a value of another type they return an
// error of the code validation.CodeWrongType, for what is not JSON at all
// validation.CodeBrokenJSON.
type Reader struct {
	// LooseIntegers takes whole numbers that are written with a fraction of zero
	// or an exponent, such as 2.0 or 1e2, as JSON Schema does.
	LooseIntegers bool
	// RefuseRepeats refuses an object that names a field twice. Without it the
	// last value counts, as in JavaScript's JSON.parse.
	RefuseRepeats bool
	// RefuseUnknown refuses fields that a struct does not have.
	RefuseUnknown bool

	b []byte
	i int
}

// NewReader returns a Reader of b. What is read may point into b.
func NewReader(b []byte) *Reader { return &Reader{b: b} }

func (r *Reader) space() {
	for r.i < len(r.b) {
		switch r.b[r.i] {
		case ' ', '\t', '\n', '\r':
			r.i++
		default:
			return
		}
	}
}

// Peek returns the next byte after spaces, 0 at the end.
func (r *Reader) Peek() byte {
	r.space()
	if r.i < len(r.b) {
		return r.b[r.i]
	}
	return 0
}

func (r *Reader) take(c byte) bool {
	if r.Peek() != c {
		return false
	}
	r.i++
	return true
}

// Broken returns the error that something else was expected at this byte.
func (r *Reader) Broken(want string) *validation.Error {
	got := "the end"
	if r.i < len(r.b) {
		got = validation.Quote(string(r.b[r.i:min(len(r.b), r.i+12)]))
	}
	return &validation.Error{Code: validation.CodeBrokenJSON, Want: want + " at byte " + strconv.Itoa(r.i+1), Got: got}
}

// wrong returns the error that the value that comes next has another type.
func (r *Reader) wrong(want string) *validation.Error {
	err := &validation.Error{Code: validation.CodeWrongType, Want: want}
	start := r.i
	if broken := r.skip(0); broken != nil {
		return broken
	}
	switch c := r.b[start]; c {
	case '{':
		err.Got = "an object"
	case '[':
		err.Got = "a list"
	case '"':
		err.Got = "the text " + validation.Quote(string(r.b[start+1:r.i-1]))
	default:
		err.Got = string(r.b[start:r.i])
	}
	return err
}

// End refuses anything after the value.
func (r *Reader) End() *validation.Error {
	if r.Peek() != 0 || r.i < len(r.b) {
		return r.Broken("nothing more")
	}
	return nil
}

// Object calls field for each key with the reader at its value.
func (r *Reader) Object(field func(key []byte) *validation.Error) *validation.Error {
	if r.Peek() != '{' {
		if r.i >= len(r.b) {
			return r.Broken("an object")
		}
		return r.wrong("an object")
	}
	r.i++
	if r.take('}') {
		return nil
	}
	var named map[string]bool
	if r.RefuseRepeats {
		named = map[string]bool{}
	}
	for {
		if err := r.member(field, named); err != nil {
			return err
		}
		if r.take('}') {
			return nil
		}
		if !r.take(',') {
			return r.Broken(`"," or "}"`)
		}
	}
}

// member reads one key with its value. named are the keys before it, nil when
// one may stand twice.
func (r *Reader) member(field func(key []byte) *validation.Error, named map[string]bool) *validation.Error {
	if r.Peek() != '"' {
		return r.Broken("a field name")
	}
	key, err := r.word()
	if err != nil {
		return err
	}
	if !r.take(':') {
		return r.Broken(`":"`)
	}
	r.space()
	if named[string(key)] {
		return &validation.Error{Code: validation.CodeRepeated, Path: string(key), Want: "each field once", Got: string(key) + " twice"}
	}
	if named != nil {
		named[string(key)] = true
	}
	if err := field(key); err != nil {
		return below(err, string(key))
	}
	return nil
}

// below puts an error under its parent, but for one of the text itself, which
// names a byte and no path.
func below(err *validation.Error, parent string) *validation.Error {
	if err.Code == validation.CodeBrokenJSON {
		return err
	}
	return err.Within(parent)
}

// List calls item for each value with the reader at it; want names the list.
func (r *Reader) List(want string, item func() *validation.Error) *validation.Error {
	if r.Peek() != '[' {
		return r.wrong(want)
	}
	r.i++
	if r.take(']') {
		return nil
	}
	for n := 0; ; n++ {
		r.space()
		if err := item(); err != nil {
			return below(err, "["+strconv.Itoa(n)+"]")
		}
		if r.take(']') {
			return nil
		}
		if !r.take(',') {
			return r.Broken(`"," or "]"`)
		}
	}
}

// Skip passes over any value and refuses what is not JSON.
func (r *Reader) Skip() *validation.Error { return r.skip(0) }

func (r *Reader) skip(depth int) *validation.Error {
	if depth > deepest {
		return r.Broken("less nesting")
	}
	switch c := r.Peek(); {
	case c == '{':
		return r.Object(func([]byte) *validation.Error { return r.skip(depth + 1) })
	case c == '[':
		return r.List("a list", func() *validation.Error { return r.skip(depth + 1) })
	case c == '"':
		_, err := r.word()
		return err
	case c == '-' || c >= '0' && c <= '9':
		_, err := r.digits()
		return err
	}
	for _, word := range []string{"null", "true", "false"} {
		if r.literal(word) {
			return nil
		}
	}
	return r.Broken("a value")
}

// Unknown passes over the value of a field that a struct does not have, or
// refuses it where RefuseUnknown is set.
func (r *Reader) Unknown() *validation.Error {
	if r.RefuseUnknown {
		return &validation.Error{Code: validation.CodeInvalid, Want: "a field that exists", Got: "one that does not"}
	}
	return r.Skip()
}

// Offset returns how many bytes have been read.
func (r *Reader) Offset() int { return r.i }

// literal passes over a word such as null.
func (r *Reader) literal(word string) bool {
	end := r.i + len(word)
	if end > len(r.b) || string(r.b[r.i:end]) != word {
		return false
	}
	r.i = end
	return true
}

// CheckRepeats refuses JSON in which an object names a field twice, at any
// depth, with the code validation.CodeRepeated. What this package can not read it
// refuses too: another reader might take it, and a repeated field behind it.
func CheckRepeats(data []byte) *validation.Error {
	r := NewReader(data)
	r.RefuseRepeats = true
	return r.Skip()
}
