package authoring_test

import (
	"os"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/checklist/authoring"
)

func page(t *testing.T) string {
	t.Helper()
	return string(read(t, "FORMAT.md"))
}

// fields lists the JSON names of a type and of all that it holds.
func fields(of reflect.Type, names map[string]bool) {
	switch of.Kind() {
	case reflect.Pointer, reflect.Slice:
		fields(of.Elem(), names)
	case reflect.Struct:
		for i := range of.NumField() {
			if field := of.Field(i); field.IsExported() {
				name, _, _ := strings.Cut(field.Tag.Get("json"), ",")
				names[name] = true
				fields(field.Type, names)
			}
		}
	}
}

func TestTheFormatPageNamesEverythingThatCanBeWritten(t *testing.T) {
	text := page(t)
	names := map[string]bool{}
	fields(reflect.TypeFor[checklist.Definition](), names)
	words := slices.Concat(checklist.Types(), checklist.Effects(), checklist.Sources(), checklist.DerivedFacts())
	for name := range names {
		words = append(words, name)
	}
	for _, word := range words {
		if !strings.Contains(text, "`"+word+"`") {
			t.Errorf("FORMAT.md does not explain %s", word)
		}
	}
}

func TestTheItemOnTheFormatPageIsOneThatTheProgramReads(t *testing.T) {
	item := regexp.MustCompile("(?s)```json\n(\\{.*?\n\\})\n```").FindStringSubmatch(page(t))
	if item == nil {
		t.Fatal("no whole item on the page")
	}
	content := `{"format": "doorsill-checklist/1", "id": "a", "version": "1", "title": "A",
		"sections": [{"code": "a", "title": "A", "items": [` + item[1] + `]}]}`
	if _, err := authoring.Parse("page.json", []byte(content)); err != nil {
		t.Error(err)
	}
}

func TestTheErrorOnTheFormatPageIsTheOneThatIsPrinted(t *testing.T) {
	golden, err := os.ReadFile(data + "/bad/weight.txt")
	if err != nil {
		t.Fatal(err)
	}
	if want := strings.Replace(string(golden), "weight.json", "ours.json", 1); !strings.Contains(page(t), want) {
		t.Errorf("FORMAT.md does not show %q", want)
	}
}
