package record

import (
	"encoding/json"
	"strconv"
	"unicode/utf8"
)

// deepest is how far values may be nested; an event needs four.
const deepest = 32

// scan reads JSON from front to back without looking at it twice. It is
// stricter than encoding/json: keys must match exactly and may not repeat
// within the event's own fields, because a client in another language reads
// the same bytes and must understand the same.
type scan struct {
	b []byte
	i int
}

func (s *scan) space() {
	for s.i < len(s.b) {
		switch s.b[s.i] {
		case ' ', '\t', '\n', '\r':
			s.i++
		default:
			return
		}
	}
}

// peek is the next byte after spaces, 0 at the end.
func (s *scan) peek() byte {
	s.space()
	if s.i < len(s.b) {
		return s.b[s.i]
	}
	return 0
}

func (s *scan) take(c byte) bool {
	if s.peek() != c {
		return false
	}
	s.i++
	return true
}

func (s *scan) broken(want string) *Refusal {
	got := "the end"
	if s.i < len(s.b) {
		got = quoted(string(s.b[s.i:min(len(s.b), s.i+12)]))
	}
	return &Refusal{Code: CodeBrokenJSON, Want: want + " at byte " + strconv.Itoa(s.i+1), Got: got}
}

// wrong refuses the value that comes next for its type.
func (s *scan) wrong(want string) *Refusal {
	r := &Refusal{Code: CodeWrongType, Want: want}
	start := s.i
	if bad := s.skip(0); bad != nil {
		return bad
	}
	switch c := s.b[start]; c {
	case '{':
		r.Got = "an object"
	case '[':
		r.Got = "a list"
	case '"':
		r.Got = "the text " + quoted(string(s.b[start+1:s.i-1]))
	default:
		r.Got = string(s.b[start:s.i])
	}
	return r
}

// end refuses anything after the value.
func (s *scan) end() *Refusal {
	if s.peek() != 0 || s.i < len(s.b) {
		return s.broken("nothing more")
	}
	return nil
}

// object calls field for each key with the scan at its value.
func (s *scan) object(field func(key []byte) *Refusal) *Refusal {
	if s.peek() != '{' {
		if s.i >= len(s.b) {
			return s.broken("an object")
		}
		return s.wrong("an object")
	}
	s.i++
	if s.take('}') {
		return nil
	}
	for {
		if s.peek() != '"' {
			return s.broken("a field name")
		}
		key, bad := s.word()
		if bad != nil {
			return bad
		}
		if !s.take(':') {
			return s.broken(`":"`)
		}
		s.space()
		if bad := field(key); bad != nil {
			if bad.Code == CodeBrokenJSON {
				return bad
			}
			return bad.within(string(key))
		}
		if s.take('}') {
			return nil
		}
		if !s.take(',') {
			return s.broken(`"," or "}"`)
		}
	}
}

// list calls item for each value with the scan at it.
func (s *scan) list(want string, item func() *Refusal) *Refusal {
	if s.peek() != '[' {
		return s.wrong(want)
	}
	s.i++
	if s.take(']') {
		return nil
	}
	for n := 0; ; n++ {
		s.space()
		if bad := item(); bad != nil {
			if bad.Code == CodeBrokenJSON {
				return bad
			}
			return bad.within("[" + strconv.Itoa(n) + "]")
		}
		if s.take(']') {
			return nil
		}
		if !s.take(',') {
			return s.broken(`"," or "]"`)
		}
	}
}

// word reads a string; the result may point into the input.
func (s *scan) word() ([]byte, *Refusal) {
	start := s.i
	plain, bad := s.skipString()
	if bad != nil {
		return nil, bad
	}
	if plain {
		return s.b[start+1 : s.i-1], nil
	}
	var text string
	if err := json.Unmarshal(s.b[start:s.i], &text); err != nil {
		s.i = start
		return nil, s.broken("a text")
	}
	return []byte(text), nil
}

// skipString passes over a string and says whether it has no escapes.
func (s *scan) skipString() (plain bool, bad *Refusal) {
	plain = true
	for i := s.i + 1; i < len(s.b); i++ {
		switch c := s.b[i]; {
		case c == '"':
			s.i = i + 1
			return plain, nil
		case c == '\\':
			plain = false
			i++
		case c < 0x20:
			s.i = i
			return false, s.broken("no control character in a text")
		}
	}
	s.i = len(s.b)
	return false, s.broken(`a closing "`)
}

// skip passes over any value and refuses what is not JSON.
func (s *scan) skip(depth int) *Refusal {
	if depth > deepest {
		return s.broken("less nesting")
	}
	switch c := s.peek(); {
	case c == '{':
		return s.object(func([]byte) *Refusal { return s.skip(depth + 1) })
	case c == '[':
		return s.list("a list", func() *Refusal { return s.skip(depth + 1) })
	case c == '"':
		_, bad := s.word()
		return bad
	case c == '-' || c >= '0' && c <= '9':
		_, bad := s.digits()
		return bad
	}
	for _, word := range []string{"null", "true", "false"} {
		if s.literal(word) {
			return nil
		}
	}
	return s.broken("a value")
}

// literal passes over a word such as null.
func (s *scan) literal(word string) bool {
	end := s.i + len(word)
	if end > len(s.b) || string(s.b[s.i:end]) != word {
		return false
	}
	s.i = end
	return true
}

// digits passes over a number and returns it as written.
func (s *scan) digits() ([]byte, *Refusal) {
	start := s.i
	for s.i < len(s.b) {
		switch c := s.b[s.i]; {
		case c >= '0' && c <= '9', c == '-', c == '+', c == '.', c == 'e', c == 'E':
			s.i++
			continue
		}
		break
	}
	text := s.b[start:s.i]
	if !json.Valid(text) {
		s.i = start
		return nil, s.broken("a number")
	}
	return text, nil
}

// validText says whether the bytes are UTF-8, as JSON must be.
func validText(b []byte) bool { return utf8.Valid(b) }
