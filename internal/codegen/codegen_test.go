package codegen_test

import (
	"bytes"
	"encoding/json"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"doorsill/internal/codegen"
	"doorsill/internal/codegen/testdata/sample"
	"doorsill/internal/decimal"
	"doorsill/internal/message"
)

func fullResult() *sample.Result {
	micro, number, why := decimal.Micro(1_500_000), 0.25, message.New("why")
	return &sample.Result{
		Head:  sample.Head{Engine: "e", Title: message.New("title", message.Count("n", 2))},
		Grade: "a<b", Count: 3, Share: 1, Known: &micro, Limit: &number, Why: &why, Advice: message.New("advice"),
		Notes:  []message.Message{message.New("note1"), message.New("note2")},
		Parts:  []sample.Part{{Site: "chin", Says: []message.Message{message.New("says1")}}, {Site: "lip"}},
		Best:   &sample.Part{Says: []message.Message{message.New("best")}},
		Shares: map[sample.Grade]float64{"z": 1, "a": 0.5}, Flags: map[string]bool{"f": true}, Grades: []sample.Grade{"g"},
		Table: [][]decimal.Micro{{micro, 0}, {}}, Named: map[string]sample.Plain{"p": {Done: true}},
		Half: sample.Part{Says: []message.Message{message.New("half")}}, Counts: map[string][]sample.Count{"c": {1, 2}},
	}
}

func TestWriterMatchesTheStandardLibrary(t *testing.T) {
	for _, result := range []*sample.Result{fullResult(), {}} {
		var want bytes.Buffer
		enc := json.NewEncoder(&want)
		enc.SetEscapeHTML(false)
		if err := enc.Encode(result); err != nil {
			t.Fatal(err)
		}
		if got := string(result.AppendJSON(nil)) + "\n"; got != want.String() {
			t.Errorf("wrote\n%s\nthe standard library\n%s", got, want.String())
		}
	}
}

func TestEachMessageFindsAll(t *testing.T) {
	var codes []string
	result := fullResult()
	result.EachMessage(func(m *message.Message) {
		codes = append(codes, m.Code)
		m.Text = "worded"
	})
	const want = "title why advice note1 note2 says1 best half"
	if got := strings.Join(codes, " "); got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	if got := bytes.Count(result.AppendJSON(nil), []byte(`"text":"worded"`)); got != len(codes) {
		t.Errorf("%d of %d messages were changed in place", got, len(codes))
	}
}

func TestTypeScriptFollowsTheJSONForm(t *testing.T) {
	source := codegen.NewSource("../..", "doorsill")
	types, err := source.Named("codegen/testdata/sample.Result")
	if err != nil {
		t.Fatal(err)
	}
	w := codegen.NewTypeScript()
	w.Types(types)
	w.Group(codegen.Group{Name: "kinds", Type: "Kind", Values: []string{"a", "b-c"}})
	got, err := w.Text()
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"export interface Result extends Head {\n  readonly grade: Grade;\n  readonly count?: Count;\n  readonly share: number;\n  readonly known: number | null;\n",
		"readonly limit: number | null;\n  readonly why?: Message;\n  readonly advice?: Message;\n  readonly notes: readonly Message[];\n  readonly parts: readonly Part[];\n  readonly best: Part | null;\n",
		"readonly shares: Readonly<Record<Grade, number>>;\n  readonly flags?: Readonly<Record<string, boolean>>;\n  readonly grades?: readonly Grade[];\n  readonly table: readonly (readonly number[])[];\n",
		"export type Grade = string;\n", "export interface Message {\n",
		"export const kinds = [\n  'a',\n  'b-c',\n] as const;\nexport type Kind = (typeof kinds)[number];\n",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("declarations lack\n%s\nin\n%s", want, got)
		}
	}
}

// writeSource puts one file into a module and returns its package.
func writeSource(t *testing.T, text string) *codegen.Package {
	t.Helper()
	root := t.TempDir()
	if err := os.MkdirAll(filepath.Join(root, "p"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(root, "p/p.go"), []byte("package p\n"+text), 0o644); err != nil {
		t.Fatal(err)
	}
	p, err := codegen.NewSource(root, "m").Package("m/p")
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestMistakesAreNamed(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"no JSON form":        {"//codegen:write\ntype A struct {\n\tC chan int `json:\"c\"`\n}", "A: no JSON form"},
		"no such list":        {"type A struct {\n\tC string `json:\"c\" check:\"oneof=Cs\"`\n}", "A.C: m/p has no list of words called Cs"},
		"no such check":       {"type A struct {\n\tC string `json:\"c\" check:\"colour\"`\n}", `A.C: expected oneof=, max= or a format, got "colour"`},
		"no range":            {"type A struct {\n\tC *float64 `json:\"c\" check:\"optional\"`\n}", "A.C: expected a range"},
		"a struct left out":   {"//codegen:write\ntype A struct {\n\tC B `json:\"c,omitempty\"`\n}\ntype B struct {\n\tD int `json:\"d\"`\n}", "A.C: omitempty does not leave out a struct"},
		"no such type":        {"//codegen:write\ntype A struct {\n\tC D `json:\"c\"`\n}", "m/p has no type D"},
		"a row of no body":    {"var kinds = []Kind{{Name: \"a\", Subject: \"b\"}}", `row "a"`},
		"a partial number":    {"//codegen:partial Cs\ntype A struct {\n\tC float64 `json:\"c,omitempty\" check:\"0..9\"`\n}", "A.C: expected a text, a map or a pointer"},
		"an embedded pointer": {"//codegen:read\ntype A struct {\n\t*B\n}\ntype B struct {\n\tD int `json:\"d\"`\n}", "no reader for the embedded"},
		"a number unchecked":  {"//codegen:partial Cs\ntype A struct {\n\tC *float64 `json:\"c,omitempty\"`\n}", "A.C: expected a range"},
	} {
		_, err := codegen.Go(writeSource(t, c.text))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want an error with %q", name, err, c.want)
		}
	}
}

// TestEmbeddedFieldsAreRead as those of the struct that embeds them.
func TestEmbeddedFieldsAreRead(t *testing.T) {
	code, err := codegen.Go(writeSource(t, "//codegen:read\ntype A struct {\n\tB\n\tE int `json:\"e\"`\n}\ntype B struct {\n\tD int `json:\"d\"`\n}"))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"r.Count(&a.D)", "r.Count(&a.E)"} {
		if !strings.Contains(string(bytes.Join(slices.Collect(maps.Values(code)), nil)), want) {
			t.Errorf("%q is missing in\n%s", want, code)
		}
	}
}

// TestWordsOfACheckThatMeanNothingAreRefused: a check that was meant would be
// missing from what decides about a clinical result.
func TestWordsOfACheckThatMeanNothingAreRefused(t *testing.T) {
	const more = "type B struct {\n\tD int `json:\"d\" check:\"1..\"`\n}\nfunc Cs() []string { return []string{\"a\"} }\n"
	for name, c := range map[string]struct{ field, check, want string }{
		"a misspelt word of a text":           {"string", "requird,max=9", "requird"},
		"a word of a text too many":           {"string", "oneof=Cs,max=9", "max=9"},
		"a word that stands twice":            {"string", "max=9,max=7", "max=7"},
		"a text that must not be empty":       {"string", "id,required", "required"},
		"an empty word":                       {"string", "max=9,", ""},
		"a misspelt word of a number":         {"float64", "3..9,zer", "zer"},
		"a whole number that may be 0":        {"int", "3..9,zero", "zero"},
		"a number from, with another word":    {"int64", "1..,optional", "optional"},
		"a misspelt format of a number":       {"int", "schem", "schem"},
		"a pointer that must be there":        {"*float64", "0..9,required", "required"},
		"a list of ids":                       {"[]string", "id", "id"},
		"a misspelt word of a list":           {"[]B", "max=9,eac", "eac"},
		"a struct that must be there":         {"B", "required", "required"},
		"a struct with a word too many":       {"B", "each,optional", "optional"},
		"a map without keys":                  {"map[string]string", "required,max=9", "max=9"},
		"a map of one of some, without":       {"map[string]string", "oneof=Cs", "oneof=Cs"},
		"a map with keys and nothing else":    {"map[string]string", "keys=site", ""},
		"a map with a misspelt word":          {"map[string]float64", "keys=site,0..9,requird", "requird"},
		"a map of structs":                    {"map[string]B", "keys=site,each", "no check for the elements"},
		"JSON as it is":                       {"json.RawMessage", "objec", "objec"},
		"JSON as it is, with a word too many": {"json.RawMessage", "object,max=9", "max=9"},
	} {
		text := "type A struct {\n\tC " + c.field + " `json:\"c\" check:\"" + c.check + "\"`\n}\n" + more
		if strings.Contains(text, "json.") {
			text = "import \"encoding/json\"\n" + text
		}
		files, err := codegen.Go(writeSource(t, text))
		if err == nil || !strings.Contains(err.Error(), "A.C: ") || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want an error with %q for\n%s", name, err, c.want, files["check_gen.go"])
		}
	}
}

func TestNumberComputesWholeConstants(t *testing.T) {
	root := t.TempDir()
	const text = `package p
const (
	Plain   = 1_000
	Bytes   = 4 << 20
	Both    = Plain + Bytes
	Skew    = 5 * time.Minute
	Text    = "five"
	Other   = elsewhere.Limit + 1
)`
	dir := filepath.Join(root, "p")
	if err := os.Mkdir(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "p.go"), []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	p, err := codegen.NewSource(root, "m").Package("m/p")
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]int64{"Plain": 1000, "Bytes": 4_194_304, "Both": 4_195_304, "Skew": int64(5 * time.Minute)}
	for name, value := range want {
		if got, err := p.Number(name); err != nil || got != value {
			t.Errorf("%s is %d, %v; want %d", name, got, err, value)
		}
	}
	for _, name := range []string{"Text", "Other", "None"} {
		if got, err := p.Number(name); err == nil {
			t.Errorf("%s is %d, want an error", name, got)
		}
	}
}
