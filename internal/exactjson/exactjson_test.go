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
	var wrongType *json.UnmarshalTypeError
	if err := Decode([]byte(`{"name":7}`), &v); !errors.As(err, &wrongType) {
		t.Errorf("another type: %v", err)
	}
}
