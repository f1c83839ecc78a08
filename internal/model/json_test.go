package model_test

import (
	"bytes"
	"encoding/json"
	"math/rand/v2"
	"reflect"
	"testing"

	"doorsill/internal/model"
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
	return string(bytes.TrimSpace(out.Bytes()))
}

// fill puts random values into every field, sometimes none.
func fill(r *rand.Rand, v reflect.Value) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			fill(r, v.Field(i))
		}
		return
	case reflect.String:
		v.SetString([]string{"", "chin", "a\"<é\u2028\n", "ünïcode"}[r.IntN(4)])
		return
	}
	if r.IntN(4) == 0 {
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		fill(r, v.Elem())
	case reflect.Slice:
		if v.Type().Elem().Kind() == reflect.Uint8 {
			v.SetBytes([]byte(`{"a":1}`))
			return
		}
		v.Set(reflect.MakeSlice(v.Type(), r.IntN(3), 3))
		for i := range v.Len() {
			fill(r, v.Index(i))
		}
	case reflect.Map:
		v.Set(reflect.MakeMap(v.Type()))
		for _, key := range []string{"b", "a", "\"c\""}[:r.IntN(4)] {
			elem := reflect.New(v.Type().Elem()).Elem()
			fill(r, elem)
			v.SetMapIndex(reflect.ValueOf(key), elem)
		}
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Float64:
		v.SetFloat([]float64{0.5, -3, 1e-7, 123456.75}[r.IntN(4)])
	case reflect.Int, reflect.Int64:
		v.SetInt(r.Int64N(1 << 50))
	}
}

type appender interface{ AppendJSON([]byte) []byte }

// What we write is what the standard library writes.
func TestWritersMatchTheStandardLibrary(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		for _, state := range []appender{new(model.Visit), new(model.Client), new(model.Control)} {
			fill(r, reflect.ValueOf(state).Elem())
			if got, want := string(state.AppendJSON(nil)), encode(t, state); got != want {
				t.Fatalf("%T: after a change of a struct run \"go run ./cmd/bundle types\" first; wrote\n%s\nthe standard library\n%s", state, got, want)
			}
		}
	}
}

// fieldReader is read field by field: a body, or a question.
type fieldReader interface {
	ReadField(*strictjson.Reader, []byte) *validation.Error
}

// What the standard library writes, our readers read as the same.
func TestReadersMatchTheStandardLibrary(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for _, kind := range model.Kinds() {
		readAlike(t, r, kind.New())
	}
	for _, question := range []fieldReader{new(model.CatalogueQuestion), new(model.ChecklistQuestion), new(model.OpenVisitQuestion),
		new(model.AddEntriesQuestion), new(model.VisitQuestion), new(model.EntriesQuestion), new(model.CheckBodyQuestion),
		new(model.PlausibleQuestion), new(model.SeriesQuestion), new(model.ConvertQuestion), new(model.AdviceQuestion),
		new(model.PlanQuestion), new(model.TrendQuestion)} {
		readAlike(t, r, question)
	}
}

// readAlike reads random values of the type of one.
func readAlike(t *testing.T, r *rand.Rand, one fieldReader) {
	t.Helper()
	empty := func() fieldReader { return reflect.New(reflect.TypeOf(one).Elem()).Interface().(fieldReader) }
	for range 200 {
		filled, got, want := empty(), empty(), empty()
		fill(r, reflect.ValueOf(filled).Elem())
		raw := encode(t, filled)
		reader := strictjson.NewReader([]byte(raw))
		if err := reader.Object(func(key []byte) *validation.Error { return got.ReadField(reader, key) }); err != nil {
			t.Fatalf("%T: %s: %v", one, raw, err)
		}
		if err := json.Unmarshal([]byte(raw), want); err != nil {
			t.Fatal(err)
		}
		if g, w := encode(t, got), encode(t, want); g != w && g != withoutEmptyLists(w) {
			t.Fatalf("%T: read\n%s\nthe standard library\n%s", one, g, w)
		}
	}
}

// withoutEmptyLists writes lists and maps that are empty as our readers leave
// them: nil.
func withoutEmptyLists(s string) string {
	for _, empty := range []string{"[]", "{}"} {
		s = string(bytes.ReplaceAll([]byte(s), []byte(":"+empty), []byte(":null")))
	}
	return s
}

func TestKinds(t *testing.T) {
	seen := map[string]bool{}
	for _, kind := range model.Kinds() {
		body := reflect.TypeOf(kind.New()).Elem().Name()
		if seen[kind.Name] || seen[body] {
			t.Errorf("%s stands twice in the table of kinds", kind.Name)
		}
		seen[kind.Name], seen[body] = true, true
	}
	for _, tt := range []struct {
		role, kind string
		want       bool
	}{
		{model.RoleAssistant, model.KindAnswerGiven, true},
		{model.RoleAssistant, model.KindMountNoted, true},
		{model.RoleAssistant, model.KindSetupChosen, false},
		{model.RoleAssistant, model.KindAnswerChosen, false},
		{model.RoleAssistant, "from-tomorrow", false},
		{model.RoleClinician, model.KindVisitSigned, true},
		{model.RoleClinician, model.KindControlListed, false},
		{model.RoleClinician, "from-tomorrow", true},
		{model.RoleLead, model.KindControlListed, true},
		{model.RoleLead, "from-tomorrow", true},
		{model.RoleLead, model.KindClientAssigned, false},
		{"", model.KindAnswerGiven, false},
		{"", "from-tomorrow", false},
	} {
		if got := model.MayWrite(tt.role, tt.kind); got != tt.want {
			t.Errorf("%q may write %s: got %v, want %v", tt.role, tt.kind, got, tt.want)
		}
	}
}
