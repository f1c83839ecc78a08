package strictjson

import (
	"strconv"
	"unicode/utf16"
	"unicode/utf8"

	"doorsill/internal/validation"
)

// word reads a string; the result may point into the input.
func (r *Reader) word() ([]byte, *validation.Error) {
	start := r.i
	plain, err := r.skipString()
	if err != nil {
		return nil, err
	}
	quoted := r.b[start+1 : r.i-1]
	if plain {
		return quoted, nil
	}
	text, ok := unescape(quoted)
	if !ok {
		r.i = start
		return nil, r.Broken("a text")
	}
	return text, nil
}

// skipString passes over a string and says whether it has no escapes.
func (r *Reader) skipString() (plain bool, err *validation.Error) {
	plain = true
	for i := r.i + 1; i < len(r.b); i++ {
		switch c := r.b[i]; {
		case c == '"':
			r.i = i + 1
			return plain, nil
		case c == '\\':
			plain = false
			i++
		case c < 0x20:
			r.i = i
			return false, r.Broken("no control character in a text")
		}
	}
	r.i = len(r.b)
	return false, r.Broken(`a closing "`)
}

// unescape replaces the escapes of a string. Half of a surrogate pair, and
// bytes that are not UTF-8, become U+FFFD, as in encoding/json.
func unescape(s []byte) (text []byte, ok bool) {
	text = make([]byte, 0, len(s))
	for len(s) > 0 {
		if s[0] != '\\' {
			c, size := utf8.DecodeRune(s)
			text, s = utf8.AppendRune(text, c), s[size:]
			continue
		}
		if text, s, ok = appendEscape(text, s); !ok {
			return nil, false
		}
	}
	return text, true
}

// appendEscape appends the character of the escape at the start of s and
// returns what follows.
func appendEscape(text, s []byte) (appended, rest []byte, ok bool) {
	if len(s) < 2 {
		return nil, nil, false
	}
	switch c := s[1]; c {
	case '"', '\\', '/':
		return append(text, c), s[2:], true
	case 'b':
		return append(text, '\b'), s[2:], true
	case 'f':
		return append(text, '\f'), s[2:], true
	case 'n':
		return append(text, '\n'), s[2:], true
	case 'r':
		return append(text, '\r'), s[2:], true
	case 't':
		return append(text, '\t'), s[2:], true
	}
	c, ok := unit(s)
	if !ok {
		return nil, nil, false
	}
	s = s[6:]
	if utf16.IsSurrogate(c) {
		low, _ := unit(s)
		if c = utf16.DecodeRune(c, low); c != utf8.RuneError {
			s = s[6:]
		}
	}
	return utf8.AppendRune(text, c), s, true
}

// unit reads \uXXXX, a unit of UTF-16.
func unit(s []byte) (rune, bool) {
	if len(s) < 6 || s[0] != '\\' || s[1] != 'u' {
		return 0, false
	}
	n, err := strconv.ParseUint(string(s[2:6]), 16, 16)
	return rune(n), err == nil
}
