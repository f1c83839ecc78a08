package record

import (
	"encoding/json"
	"strconv"
)

// The readers below take the value that comes next. A null counts as absent,
// so that a client may write either.

func (s *scan) text(dst *string) *Refusal {
	if s.peek() != '"' {
		if s.literal("null") {
			return nil
		}
		return s.wrong("a text")
	}
	word, bad := s.word()
	if bad == nil {
		*dst = string(word)
	}
	return bad
}

func (s *scan) number(dst *float64) *Refusal {
	c := s.peek()
	if c != '-' && (c < '0' || c > '9') {
		if s.literal("null") {
			return nil
		}
		return s.wrong("a number")
	}
	digits, bad := s.digits()
	if bad != nil {
		return bad
	}
	value, err := strconv.ParseFloat(string(digits), 64)
	if err != nil {
		return &Refusal{Code: CodeOutOfRange, Want: "a number that fits", Got: string(digits)}
	}
	*dst = value
	return nil
}

// optionalNumber reads a number that may be absent.
func (s *scan) optionalNumber(dst **float64) *Refusal {
	if s.literal("null") {
		return nil
	}
	value := new(float64)
	if bad := s.number(value); bad != nil {
		return bad
	}
	*dst = value
	return nil
}

func (s *scan) integer(dst *int64) *Refusal {
	c := s.peek()
	if c != '-' && (c < '0' || c > '9') {
		if s.literal("null") {
			return nil
		}
		return s.wrong("a whole number")
	}
	digits, bad := s.digits()
	if bad != nil {
		return bad
	}
	value, err := strconv.ParseInt(string(digits), 10, 64)
	if err != nil || value > largest || value < -largest {
		return &Refusal{Code: CodeWrongType, Want: "a whole number", Got: string(digits)}
	}
	*dst = value
	return nil
}

// largest is the largest whole number that every client can count to.
const largest = 1<<53 - 1

func (s *scan) count(dst *int) *Refusal {
	value := int64(*dst)
	bad := s.integer(&value)
	*dst = int(value)
	return bad
}

func (s *scan) boolean(dst *bool) *Refusal {
	switch {
	case s.literal("true"):
		*dst = true
	case s.literal("false"):
		*dst = false
	case s.literal("null"):
	default:
		return s.wrong("true or false")
	}
	return nil
}

// optionalBool reads a boolean that may be absent.
func (s *scan) optionalBool(dst **bool) *Refusal {
	if s.literal("null") {
		return nil
	}
	value := new(bool)
	if bad := s.boolean(value); bad != nil {
		return bad
	}
	*dst = value
	return nil
}

// packedControls reads the controls of a kit.
func (s *scan) packedControls(dst *[]PackedControl) *Refusal {
	if s.literal("null") {
		return nil
	}
	return s.list("a list of controls", func() *Refusal {
		var control PackedControl
		bad := s.object(func(key []byte) *Refusal { return control.field(s, key) })
		*dst = append(*dst, control)
		return bad
	})
}

func (s *scan) raw(dst *json.RawMessage) *Refusal {
	s.space()
	start := s.i
	if bad := s.skip(0); bad != nil {
		return bad
	}
	*dst = json.RawMessage(s.b[start:s.i])
	return nil
}

func (s *scan) texts(dst *map[string]string) *Refusal {
	return s.pairs(func(key []byte) *Refusal {
		var value string
		bad := s.text(&value)
		if bad == nil {
			put(dst, key, value)
		}
		return bad
	})
}

func (s *scan) booleans(dst *map[string]bool) *Refusal {
	return s.pairs(func(key []byte) *Refusal {
		var value bool
		bad := s.boolean(&value)
		if bad == nil {
			put(dst, key, value)
		}
		return bad
	})
}

func (s *scan) numbers(dst *map[string]float64) *Refusal {
	return s.pairs(func(key []byte) *Refusal {
		var value float64
		bad := s.number(&value)
		if bad == nil {
			put(dst, key, value)
		}
		return bad
	})
}

func (s *scan) pairs(field func(key []byte) *Refusal) *Refusal {
	if s.literal("null") {
		return nil
	}
	return s.object(field)
}

func put[V any](dst *map[string]V, key []byte, value V) {
	if *dst == nil {
		*dst = make(map[string]V)
	}
	(*dst)[string(key)] = value
}

func (s *scan) words(dst *[]string) *Refusal {
	if s.literal("null") {
		return nil
	}
	return s.list("a list of texts", func() *Refusal {
		if s.peek() != '"' {
			return s.wrong("a text")
		}
		word, bad := s.word()
		if bad == nil {
			*dst = append(*dst, string(word))
		}
		return bad
	})
}

func (s *scan) ref(dst *Ref) *Refusal {
	text := string(*dst)
	bad := s.text(&text)
	*dst = Ref(text)
	return bad
}

func (s *scan) refs(dst *[]Ref) *Refusal {
	var words []string
	if bad := s.words(&words); bad != nil {
		return bad
	}
	*dst = (*dst)[:0]
	for _, word := range words {
		*dst = append(*dst, Ref(word))
	}
	return nil
}
