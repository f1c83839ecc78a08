package authoring

import (
	"bytes"
	"encoding/json"
	"errors"
	"unicode/utf8"

	"doorsill/internal/checklist"
	"doorsill/internal/validation"
)

// Limits of a definition file.
const (
	maxBytes = 1 << 20
	maxDepth = 16
	// maxMembers is more than any object of a definition has, and few enough
	// to search them one by one.
	maxMembers = 64
)

// Kinds of JSON value, by the first letter that an error names them with.
const (
	kindObject = "an object"
	kindList   = "a list"
	kindText   = "a text"
	kindNumber = "a number"
	kindBool   = "true or false"
	kindNull   = "null"
)

// value is a JSON value that remembers its line. encoding/json forgets where a
// value stood and which fields it did not know, which is just what somebody
// who writes a checklist by hand must be told.
type value struct {
	line    int
	kind    string
	text    string // of a text, a number or a bool as written
	list    []value
	members []member
}

type member struct {
	name  string
	line  int
	value value
}

// tree turns the bytes into values. Problems of JSON itself end it at once.
type tree struct {
	data   []byte
	dec    *json.Decoder
	offset int
	line   int
	found  func(line int, field, want, got string)
}

func (t *tree) read() (value, bool) {
	if len(t.data) > maxBytes {
		t.found(1, "", "a file of at most 1 MiB", "a larger one")
		return value{}, false
	}
	if !utf8.Valid(t.data) {
		t.found(1+bytes.Count(t.data[:invalidAt(t.data)], []byte("\n")), "", "UTF-8 text", "a byte that is not")
		return value{}, false
	}
	var whole json.RawMessage
	if err := json.Unmarshal(t.data, &whole); err != nil {
		t.found(t.lineOf(err), "", "JSON", err.Error())
		return value{}, false
	}
	t.dec = json.NewDecoder(bytes.NewReader(t.data))
	t.dec.UseNumber()
	t.line = 1
	token, err := t.next()
	if err != nil {
		t.found(t.line, "", "JSON", err.Error())
		return value{}, false
	}
	return t.value(token, "", 1)
}

func invalidAt(data []byte) int {
	at := 0
	for at < len(data) {
		r, size := utf8.DecodeRune(data[at:])
		if r == utf8.RuneError && size <= 1 {
			break
		}
		at += size
	}
	return at
}

func (t *tree) lineOf(err error) int {
	var syntax *json.SyntaxError
	if !errors.As(err, &syntax) {
		return 1
	}
	// Offset is the number of bytes read, the wrong one included.
	end := min(max(int(syntax.Offset)-1, 0), len(t.data))
	return 1 + bytes.Count(t.data[:end], []byte("\n"))
}

func (t *tree) next() (json.Token, error) {
	token, err := t.dec.Token()
	end := int(t.dec.InputOffset())
	t.line += bytes.Count(t.data[t.offset:end], []byte("\n"))
	t.offset = end
	return token, err
}

func (t *tree) value(token json.Token, field string, depth int) (value, bool) {
	v := value{line: t.line}
	if depth > maxDepth {
		t.found(t.line, field, "at most 16 levels of nesting", "more")
		return v, false
	}
	switch token := token.(type) {
	case json.Delim:
		if token == '{' {
			v.kind = kindObject
			return v, t.object(&v, field, depth)
		}
		v.kind = kindList
		return v, t.elements(&v, field, depth)
	case string:
		v.kind, v.text = kindText, token
	case json.Number:
		v.kind, v.text = kindNumber, token.String()
	case bool:
		v.kind, v.text = kindBool, "false"
		if token {
			v.text = "true"
		}
	default:
		v.kind = kindNull
	}
	return v, true
}

func (t *tree) object(v *value, field string, depth int) bool {
	for {
		token, err := t.next()
		if err != nil || token == json.Delim('}') {
			return err == nil
		}
		name, _ := token.(string)
		line := t.line
		token, err = t.next()
		if err != nil {
			return false
		}
		inner, ok := t.value(token, join(field, name), depth+1)
		if !ok {
			return false
		}
		if v.member(name) != nil {
			t.found(line, join(field, name), "each field once", "it twice")
			continue
		}
		if len(v.members) == maxMembers {
			t.found(line, field, "an object of at most 64 fields", "more")
			return false
		}
		v.members = append(v.members, member{name, line, inner})
	}
}

func (t *tree) elements(v *value, field string, depth int) bool {
	for {
		token, err := t.next()
		if err != nil || token == json.Delim(']') {
			return err == nil
		}
		inner, ok := t.value(token, at(field, len(v.list)), depth+1)
		if !ok {
			return false
		}
		v.list = append(v.list, inner)
	}
}

func (v *value) member(name string) *member {
	for i := range v.members {
		if v.members[i].name == name {
			return &v.members[i]
		}
	}
	return nil
}

// shown is the value as an error message quotes it.
func (v *value) shown() string {
	switch v.kind {
	case kindText:
		return checklist.Quote(v.text)
	case kindNumber, kindBool:
		return validation.Shorten(v.text)
	}
	return v.kind
}

// mistaken is shown with the kind of value, for where another kind belongs.
func (v *value) mistaken() string {
	switch v.kind {
	case kindText:
		return "the text " + v.shown()
	case kindNumber:
		return "the number " + v.shown()
	}
	return v.shown()
}
