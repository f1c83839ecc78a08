package strictjson_test

import (
	"strings"
	"testing"

	"doorsill/internal/strictjson"
	"doorsill/internal/validation"
)

// TestCheckRepeats: a field that stands twice in one object is refused at any
// depth, by its name as it is meant, and what can not be read is refused too.
func TestCheckRepeats(t *testing.T) {
	for text, path := range map[string]string{
		`{"a":1,"a":1}`:             "a",
		`{"a":null,"b":2,"a":1}`:    "a",
		`{"a":1,"\u0061":2}`:        "a",
		`{"x":{"a":1,"a":2}}`:       "x.a",
		`[{"a":1},{"a":1,"a":2}]`:   "[1].a",
		`{"a":1,"A":1,"b":{"a":1}}`: "",
		`[{"a":1},{"a":1}]`:         "",
	} {
		err := strictjson.CheckRepeats([]byte(text))
		switch {
		case path == "" && err != nil:
			t.Errorf("%.40s: %v", text, err)
		case path != "" && (err == nil || err.Code != validation.CodeRepeated || err.Path != path):
			t.Errorf("%.40s: %v, want a repeated field at %s", text, err, path)
		}
	}
	deep := `{"a":` + strings.Repeat("[", 40) + strings.Repeat("]", 40) + `,"b":1,"b":2}`
	for _, text := range []string{`{"a":1,`, `{"a":[1,2`, `no JSON at all`, ``, `{"a":01,"b":1,"b":2}`, deep} {
		if err := strictjson.CheckRepeats([]byte(text)); err == nil || err.Code != validation.CodeBrokenJSON {
			t.Errorf("%.40s: %v", text, err)
		}
	}
}

// TestUnknownFields are passed over, or refused where that is asked for.
func TestUnknownFields(t *testing.T) {
	for _, refuse := range []bool{false, true} {
		r := strictjson.NewReader([]byte(`{"x":{"y":[1]},"a":"b"}`))
		r.RefuseUnknown = refuse
		var a string
		err := r.Object(func(key []byte) *validation.Error {
			if string(key) == "a" {
				return r.Text(&a)
			}
			return r.Unknown()
		})
		if refuse && (err == nil || err.Code != validation.CodeInvalid || err.Path != "x") {
			t.Errorf("refused: %v", err)
		}
		if !refuse && (err != nil || a != "b") {
			t.Errorf("passed over: %v, a is %q", err, a)
		}
	}
}

// TestHowDeepValuesMayLie: within at most 32 others, as PROTOCOL.md says.
func TestHowDeepValuesMayLie(t *testing.T) {
	nested := func(n int) string { return strings.Repeat("[", n) + "1" + strings.Repeat("]", n) }
	if err := strictjson.NewReader([]byte(nested(32))).Skip(); err != nil {
		t.Errorf("within 32 others: %v", err)
	}
	if err := strictjson.NewReader([]byte(nested(33))).Skip(); err == nil {
		t.Error("a value within 33 others was taken")
	}
}
