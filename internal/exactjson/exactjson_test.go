package exactjson

import (
	"encoding/json"
	"errors"
	"testing"

	"doorsill/internal/validation"
)

type inner struct {
	ID string `json:"id"`
}

type outer struct {
	inner
	Name string           `json:"name,omitempty"`
	List []inner          `json:"list"`
	At   *inner           `json:"at"`
	By   map[string]inner `json:"by"`
	Raw  json.RawMessage  `json:"raw"`
	No   string           `json:"-"`
	Bare string
}

func TestFieldsHaveOneName(t *testing.T) {
	for _, c := range []struct {
		name, text, path string
		ok               bool
	}{
		{"all as they are", `{"id":"a","name":"x","list":[{"id":"b"}],"at":{"id":"c"},"by":{"ID":{"id":"d"}},"raw":{"ID":1,"x":{}},"Bare":"y"}`, "", true},
		{"null", `{"at":null,"list":null}`, "", true},
		{"nothing", `{}`, "", true},
		{"in capitals", `{"NAME":"x"}`, "NAME", false},
		{"both", `{"name":"x","Name":"y"}`, "Name", false},
		{"a sign that folds to a letter", "{\"li\u017ft\":[]}", "li\u017ft", false},
		{"of an embedded struct", `{"Id":"a"}`, "Id", false},
		{"in a list", `{"list":[{"id":"a"},{"ID":"b"}]}`, "list[1].ID", false},
		{"behind a pointer", `{"at":{"Id":"a"}}`, "at.Id", false},
		{"in a map", `{"by":{"a":{"iD":"a"}}}`, "by.a.iD", false},
		{"unknown", `{"nmae":"x"}`, "nmae", false},
		{"unknown, of another struct", `{"list":[{"name":"x"}]}`, "list[0].name", false},
		{"one that is not sent", `{"No":"x"}`, "No", false},
		{"twice", `{"name":"x","name":"y"}`, "name", false},
	} {
		var v outer
		err := Decode([]byte(c.text), &v)
		var bad *validation.Error
		if c.ok != (err == nil) || err != nil && (!errors.As(err, &bad) || bad.Path != c.path) {
			t.Errorf("%s: %v, want path %q", c.name, err, c.path)
		}
	}
	var v outer
	if err := Decode([]byte(`{} {}`), &v); !errors.Is(err, ErrTrailing) {
		t.Errorf("two values: %v", err)
	}
}

// TestAnotherTypeIsSaidInWords, not by the names of types in Go.
func TestAnotherTypeIsSaidInWords(t *testing.T) {
	for text, want := range map[string]string{
		`{"name":7}`:            "name: expected a text, got a number",
		`{"list":{}}`:           "list: expected a list, got an object",
		`{"at":"now"}`:          "at: expected an object, got a text",
		`{"by":[]}`:             "by: expected an object, got a list",
		`{"list":[{"id":7}]}`:   "list.id: expected a text, got a number",
		`{"id":[]}`:             "id: expected a text, got a list",
		`{"at":{"id":true}}`:    "at.id: expected a text, got true or false",
		`{"numbers":{"n":1.5}}`: "numbers.n: expected a whole number, got 1.5",
		`{"numbers":{"u":-1}}`:  "numbers.u: expected a whole number from 0, got -1",
		`{"numbers":{"f":""}}`:  "numbers.f: expected a number, got a text",
		`{"numbers":{"b":0}}`:   "numbers.b: expected true or false, got a number",
		`[]`:                    "expected an object, got a list",
	} {
		var v struct {
			outer
			Numbers struct {
				N int64   `json:"n"`
				U uint    `json:"u"`
				F float64 `json:"f"`
				B bool    `json:"b"`
			} `json:"numbers"`
		}
		err := Decode([]byte(text), &v)
		var bad *validation.Error
		if !errors.As(err, &bad) || bad.Code != validation.CodeWrongType || err.Error() != want {
			t.Errorf("%s: %v, want %s", text, err, want)
		}
	}
}
