package strictjson_test

import (
	"bytes"
	"encoding/json"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"doorsill/internal/strictjson"
	"doorsill/internal/validation"
)

// encode writes a value with the standard library, "<" as "<".
func encode(t *testing.T, value any) string {
	t.Helper()
	var out bytes.Buffer
	enc := json.NewEncoder(&out)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(value); err != nil {
		t.Fatal(err)
	}
	return string(bytes.TrimSuffix(out.Bytes(), []byte("\n")))
}

func FuzzText(f *testing.F) {
	for _, s := range []string{"", "a\"b\\c/", "\x00\x1f\x7f\b\f\n\r\t", "<&>", "é \u2028\u2029 ", "\xff\xc3", "\x80", "\U0001F600", "\ufffd"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		written := strictjson.AppendText(nil, s)
		if want := encode(t, s); string(written) != want {
			t.Fatalf("wrote %s, the standard library %s", written, want)
		}
		var got, want string
		r := strictjson.NewReader(written)
		if err := validation.First(r.Text(&got), r.End()); err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(written, &want); err != nil || got != want {
			t.Errorf("read %q, the standard library %q (%v)", got, want, err)
		}
	})
}

func FuzzNumber(f *testing.F) {
	for _, x := range []float64{0, math.Copysign(0, -1), 1, -1.5, 1e-6, 9.99e-7, 1e-9, 1.5e-10, 1e20, 1e21, 1.7976931348623157e308, 5e-324, 0.1, 123456789.125, math.NaN(), math.Inf(1), math.Inf(-1)} {
		f.Add(x)
	}
	f.Fuzz(func(t *testing.T, x float64) {
		written := strictjson.AppendNumber(nil, x)
		if math.IsNaN(x) || math.IsInf(x, 0) {
			if string(written) != "null" {
				t.Errorf("%v: wrote %s, want null", x, written)
			}
			return
		}
		if want := encode(t, x); string(written) != want {
			t.Fatalf("wrote %s, the standard library %s", written, want)
		}
		var got float64
		r := strictjson.NewReader(written)
		if err := validation.First(r.Number(&got), r.End()); err != nil || got != x {
			t.Errorf("%s read as %v (%v)", written, got, err)
		}
	})
}

// FuzzReader reads any bytes as each type. What is JSON to us is JSON to the
// standard library and means the same; what is JSON to it is JSON to us, unless
// it is nested too deep or is a text with broken UTF-8.
func FuzzReader(f *testing.F) {
	for _, s := range []string{
		`{}`, `[]`, `null`, `true`, `falsey`, `01`, `-`, `-0`, `1.`, `.5`, `1e5`, `1E+5`, `1e`, `+1`, `1.5e-7`, `0.0`, `--1`, `1-1`,
		`"\ud83d\ude00"`, `"\ud83d"`, `"\ud83dx"`, `"\ude00\ud83d"`, `"\ud83d\ud83d\ude00"`, `"\u00e9\/\b\f\n\r\t\\\""`, `"\x"`, `"\u12g4"`, `"\`, `"\u+123"`, `"\u_123"`, `"\u123"`,
		`{"a":[1,{"b":null}],"c":"d"}`, `{"a":1,}`, `[1,]`, `[1 2]`, `{"a" 1}`, ` 1 `, `1 2`, "\"a\nb\"", `{"a":"b","a":"c"}`, `["a","b"]`, "\"\xff\"", "\"\xff\\n\"",
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(readAll)
}

// readAll reads bytes as each type, and with the standard library.
func readAll(t *testing.T, raw []byte) {
	t.Helper()
	r := strictjson.NewReader(raw)
	err := validation.First(r.Skip(), r.End())
	if err == nil != json.Valid(raw) && (err == nil || err.Want[:4] != "less") {
		t.Fatalf("%q: got %v, the standard library finds it valid: %v", raw, err, json.Valid(raw))
	}
	if err != nil {
		return
	}
	if !utf8.Valid(raw) {
		return // events are checked for this before they are read
	}
	agree(t, raw, (*strictjson.Reader).Text)
	agree(t, raw, (*strictjson.Reader).Number)
	agree(t, raw, (*strictjson.Reader).Bool)
	agree(t, raw, func(r *strictjson.Reader, dst **float64) *validation.Error {
		return strictjson.Pointer(r, dst, r.Number)
	})
	agree(t, raw, func(r *strictjson.Reader, dst *map[string]string) *validation.Error {
		return strictjson.Map(r, dst, r.Text)
	})
}

// TestJSONWithOneByteWrong cuts values at every byte, and puts others in the
// place of every byte.
func TestJSONWithOneByteWrong(t *testing.T) {
	for _, text := range []string{`{"a":[1,{"b":null}], "c":true}`, `-10.25e-10`, `1e5`, `0.5`, `"\ud83d\ude00\u00e9\n"`, `[ false , "x" ]`} {
		for i := range text {
			readAll(t, []byte(text[:i]))
			readAll(t, []byte(text[:i]+text[i+1:]))
			for _, c := range "/019:-+.,eEaun\\\"[]{} \t" {
				readAll(t, []byte(text[:i]+string(c)+text[i+1:]))
				readAll(t, []byte(text[:i]+string(c)+text[i:]))
			}
		}
	}
}

// TestValuesAfterSpaces: what reads a value passes over the spaces before it.
func TestValuesAfterSpaces(t *testing.T) {
	r := strictjson.NewReader([]byte(`[ true , null , false ]`))
	var list []bool
	if err := strictjson.Slice(r, &list, "a list", r.Bool); err != nil || !slices.Equal(list, []bool{true, false, false}) {
		t.Errorf("%v, %v", list, err)
	}
	var raw []byte
	if err := strictjson.NewReader([]byte(" \t[1] ")).Raw(&raw); err != nil || string(raw) != "[1]" {
		t.Errorf("%q, %v", raw, err)
	}
}

// TestAWrongTypeIsSaidHoweverDeep a value may be nested.
func TestAWrongTypeIsSaidHoweverDeep(t *testing.T) {
	for deep, code := range map[int]string{32: validation.CodeWrongType, 33: validation.CodeBrokenJSON} {
		var text string
		err := strictjson.NewReader([]byte(strings.Repeat("[", deep) + "1" + strings.Repeat("]", deep))).Text(&text)
		if err == nil || err.Code != code {
			t.Errorf("%d deep: %v, want %s", deep, err, code)
		}
	}
}

// agree reads valid JSON with one of our methods and with the standard library.
func agree[V any](t *testing.T, raw []byte, read func(*strictjson.Reader, *V) *validation.Error) {
	t.Helper()
	var got, want V
	ours := read(strictjson.NewReader(bytes.TrimSpace(raw)), &got)
	theirs := json.Unmarshal(raw, &want)
	if (ours == nil) != (theirs == nil) {
		t.Fatalf("%q as %T: got %v, the standard library %v", raw, got, ours, theirs)
	}
	if ours != nil {
		return
	}
	g, w := encode(t, got), encode(t, want)
	if noneOfEmpty := g == "null" && w == "{}"; g != w && !noneOfEmpty {
		t.Errorf("%q as %T: read %s, the standard library %s", raw, got, g, w)
	}
}

func TestErrorsNameTheirPlace(t *testing.T) {
	read := func(raw string) error {
		r := strictjson.NewReader([]byte(raw))
		var list []string
		var n int64
		err := r.Object(func(key []byte) *validation.Error {
			if string(key) == "n" {
				return r.Integer(&n)
			}
			return strictjson.Texts(r, &list)
		})
		if err == nil {
			return nil
		}
		return err
	}
	for raw, want := range map[string]string{
		`{"way":["left",3]}`:      `way[1]: expected a text, got 3`,
		`{"way":{"a":1}}`:         `way: expected a list of texts, got an object`,
		`{"n":"x"}`:               `n: expected a whole number, got the text "x"`,
		`{"n":1.5}`:               `n: expected a whole number, got 1.5`,
		`{"n":9007199254740992}`:  `n: expected a whole number, got 9007199254740992`,
		`{"n":-9007199254740991}`: ``,
		`{"n":1`:                  `expected "," or "}" at byte 7, got the end`,
		`[]`:                      `expected an object, got a list`,
	} {
		got := ""
		if err := read(raw); err != nil {
			got = err.Error()
		}
		if got != want {
			t.Errorf("%s: got %q, want %q", raw, got, want)
		}
	}
}

func TestLooseIntegersTakeWhatIsWholeHoweverItIsWritten(t *testing.T) {
	for text, want := range map[string]struct {
		n     int64
		loose bool // refused without LooseIntegers
	}{
		"2": {2, false}, "-3": {-3, false}, "2.0": {2, true}, "1e2": {100, true}, "-1.5e1": {-15, true}, "9007199254740991.0": {1<<53 - 1, true},
	} {
		var n int64
		if err := strictjson.NewReader([]byte(text)).Integer(&n); (err != nil) != want.loose {
			t.Errorf("%s: %v", text, err)
		}
		r := strictjson.NewReader([]byte(text))
		r.LooseIntegers = true
		if err := r.Integer(&n); err != nil || n != want.n {
			t.Errorf("%s: loosely %d, %v", text, n, err)
		}
	}
	for _, text := range []string{"2.5", "1e-1", "9007199254740992", "9007199254740992.0", "-1e300", "1e999"} {
		r := strictjson.NewReader([]byte(text))
		r.LooseIntegers = true
		var n int64
		if err := r.Integer(&n); err == nil {
			t.Errorf("%s was read as %d", text, n)
		}
	}
}

// TestOfAFieldThatStandsTwiceTheLastCounts: as JSON.parse reads it (ECMA-262,
// 25.5.1, note 2), with a null as nothing.
func TestOfAFieldThatStandsTwiceTheLastCounts(t *testing.T) {
	type inner struct{ A, B string }
	type values struct {
		Text   string
		Number float64
		Count  int
		Whole  int64
		Bool   bool
		Half   *float64
		Texts  []string
		List   []float64
		Map    map[string]string
		Inner  inner
	}
	last := 0.25
	for text, want := range map[string]values{
		`{"text":"a","text":"b"}`:                                {Text: "b"},
		`{"text":"a","text":null}`:                               {},
		`{"text":null,"text":"b"}`:                               {Text: "b"},
		`{"number":1,"number":2.5}`:                              {Number: 2.5},
		`{"number":1,"number":null}`:                             {},
		`{"count":1,"count":2}`:                                  {Count: 2},
		`{"count":1,"count":null}`:                               {},
		`{"whole":1,"whole":null}`:                               {},
		`{"bool":true,"bool":false}`:                             {},
		`{"bool":true,"bool":null}`:                              {},
		`{"half":1,"half":0.25}`:                                 {Half: &last},
		`{"half":1,"half":null}`:                                 {},
		`{"texts":["a","b"],"texts":["c"]}`:                      {Texts: []string{"c"}},
		`{"texts":["a"],"texts":null}`:                           {},
		`{"list":[1,2],"list":[3]}`:                              {List: []float64{3}},
		`{"list":[1,2],"list":null}`:                             {},
		`{"map":{"a":"1"},"map":{"b":"2"}}`:                      {Map: map[string]string{"b": "2"}},
		`{"map":{"a":"1","a":"2"}}`:                              {Map: map[string]string{"a": "2"}},
		`{"map":{"a":"1"},"map":null}`:                           {},
		`{"map":{"a":null}}`:                                     {},
		`{"map":{"a":null,"b":"2"}}`:                             {Map: map[string]string{"b": "2"}},
		`{"map":{"a":"1","a":null,"b":"2"}}`:                     {Map: map[string]string{"b": "2"}},
		`{"inner":{"a":"1","b":"2"},"inner":{"b":"3"}}`:          {Inner: inner{B: "3"}},
		`{"inner":{"a":"1"},"inner":null}`:                       {},
		`{"inner":{"a":"1"},"inner":{"a":"2","a":null,"b":"3"}}`: {Inner: inner{B: "3"}},
	} {
		var got values
		r := strictjson.NewReader([]byte(text))
		err := r.Object(func(key []byte) *validation.Error {
			switch string(key) {
			case "text":
				return r.Text(&got.Text)
			case "number":
				return r.Number(&got.Number)
			case "count":
				return r.Count(&got.Count)
			case "whole":
				return r.Integer(&got.Whole)
			case "bool":
				return r.Bool(&got.Bool)
			case "half":
				return strictjson.Pointer(r, &got.Half, r.Number)
			case "texts":
				return strictjson.Texts(r, &got.Texts)
			case "list":
				return strictjson.Slice(r, &got.List, "a list", r.Number)
			case "map":
				return strictjson.Map(r, &got.Map, r.Text)
			}
			return strictjson.Struct(r, &got.Inner, func(in *inner, r *strictjson.Reader) *validation.Error {
				return r.Object(func(key []byte) *validation.Error {
					return r.Text(map[string]*string{"a": &in.A, "b": &in.B}[string(key)])
				})
			})
		})
		if err != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("%s: got %+v (%v), want %+v", text, got, err, want)
		}
	}
}
