package main

import (
	"encoding/json"
	"fmt"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"doorsill/internal/model"
)

// leastVisit is a visit file with nothing but the checklist and one more part.
func leastVisit(part string) string {
	return `{"format":"doorsill-visit/1","visit":{"checklist":{"id":"standard","version":"2026.1"}` + part + `}}`
}

// TestScoreTakesFilesThatLeaveMuchOut: each part with as little as it can have.
func TestScoreTakesFilesThatLeaveMuchOut(t *testing.T) {
	for name, c := range map[string]struct{ part, want string }{
		"nothing":  {``, "No level yet: too little is known"},
		"a set-up": {`,"setup":{"class":"small","site":"chin"}`, "No force reading at the chin"},
		"a control without a name": {`,"kit":[{"id":"k1","class":"small","operate_gf":50}]` +
			`,"readings":[{"what":"force","site":"chin","direction":"left","state":"rested","value":60,"unit":"gf"}]`, "K1 at the chin: "},
		"a place without a name":  {`,"places":[{"place":"p1","kind":"door"}]`, "p1, not known yet: "},
		"a place with a chair":    {`,"chair":{"length_mm":1000,"width_mm":600,"drive":"mid"},"places":[{"place":"p1","kind":"door","width_mm":900}]`, "p1, fits: "},
		"one need":                {`,"needs":{"base":"moves"}`, "No level yet"},
		"a run":                   {`,"runs":[{"place":"indoors","state":"rested"}]`, "No level yet"},
		"a reading of nothing":    {`,"readings":[{"what":"hold","site":"chin","state":"rested","value":0,"unit":"s"}]`, "No level yet"},
		"an item without heads":   {`,"answers":[{"item":"pos-trunk"}]`, "No level yet"},
		"a decision":              {`,"override":{"level":"pause","reason":"other","text":"as agreed","from":"2026-03-02"}`, "Decision: "},
		"parts that do not count": {`,"settings":[{}],"mount":{},"plan":{},"notes":{},"signed":{},"started":{}`, "No level yet"},
	} {
		out, err := score(leastVisit(c.part), "-")
		if err != nil || !strings.Contains(out, c.want) {
			t.Errorf("%s: %v, want %q in\n%s", name, err, c.want, out)
		}
	}
}

// TestAReadingWithoutAValueIsRefused: 0 would say that it was tried and nothing
// came. A release that did not come has none.
func TestAReadingWithoutAValueIsRefused(t *testing.T) {
	_, err := score(leastVisit(`,"readings":[{"what":"release","site":"chin","state":"rested","unit":"s","missed":true},`+
		`{"what":"force","site":"chin","direction":"left","state":"rested","unit":"gf"}]`), "-")
	if err == nil || !strings.Contains(err.Error(), "visit.readings[1].value: expected a number") {
		t.Errorf("%v", err)
	}
}

// TestScoreTakesALargeKit: a tablet packs at most 200 controls, a file may list
// more.
func TestScoreTakesALargeKit(t *testing.T) {
	kit := make([]map[string]string, 201)
	for i := range kit {
		kit[i] = map[string]string{"id": fmt.Sprintf("k%d", i), "class": "small"}
	}
	list, err := json.Marshal(kit)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := score(leastVisit(`,"kit":`+string(list)), "-"); err != nil {
		t.Error(err)
	}
	twice := `,"kit":[{"id":"k1","class":"small"},{"id":"k1","class":"small"}]`
	if _, err := score(leastVisit(twice), "-"); err == nil || !strings.Contains(err.Error(), `visit.kit[1].id: expected each control once, got "k1" twice`) {
		t.Errorf("a control that stands twice: %v", err)
	}
}

// documented are the rows of VISIT-FILE.md: what a part is made of, and one such
// part in which nothing asks for more than is marked.
var documented = []struct {
	row   string
	types []any
	part  string // with PART for the object
	least string
}{
	{"answers", []any{model.Answer{}}, `"answers":[PART]`, `{"item":"pos-trunk","heads":[{"item":"pos-trunk","state":"not-tested"}]}`},
	{"a head", []any{model.AnswerGiven{}, model.Given{}}, `"answers":[{"item":"pos-trunk","heads":[PART]}]`, `{"item":"pos-trunk","state":"not-tested"}`},
	{"readings", []any{model.ReadingTaken{}, model.Reading{}}, `"readings":[PART]`, `{"what":"hold","site":"chin","state":"rested","value":2,"unit":"s"}`},
	{"runs", []any{model.RunTimed{}, model.Run{}}, `"runs":[PART]`, `{"place":"rough","state":"tired","seconds":60}`},
	{"setup", []any{model.SetupChosen{}}, `"setup":PART`, `{"class":"small","site":"chin","start_gf":20,"operate_gf":50,"needed":["left"]}`},
	{"kit", []any{model.PackedControl{}}, `"kit":[PART]`, `{"id":"k1","name":"Stick","class":"small","start_gf":20,"operate_gf":50}`},
	{"chair", []any{model.ChairMeasured{}}, `"chair":PART`, `{"length_mm":1000,"width_mm":600,"drive":"mid","ahead_mm":500}`},
	{"places", []any{model.PlaceMeasured{}}, `"places":[PART]`, `{"place":"p1","name":"Front","kind":"ramp","rise_mm":100,"run_mm":1200}`},
	{"override", []any{model.OverrideMade{}}, `"override":PART`, `{"level":"pause","reason":"other","text":"as agreed","agreed":"both","from":"2026-03-02"}`},
}

// jsonFields are the names of a struct's own fields in JSON.
func jsonFields(value any) (names []string) {
	of := reflect.TypeOf(value)
	for i := range of.NumField() {
		if name, _, _ := strings.Cut(of.Field(i).Tag.Get("json"), ","); name != "" {
			names = append(names, name)
		}
	}
	return names
}

// TestVisitFileNamesEveryField and marks those that may not be left out.
func TestVisitFileNamesEveryField(t *testing.T) {
	text, err := os.ReadFile("VISIT-FILE.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range jsonFields(model.Visit{}) {
		if !strings.Contains(string(text), "`"+name+"`") {
			t.Errorf("VISIT-FILE.md does not name %s", name)
		}
	}
	for _, d := range documented {
		row := regexp.MustCompile("(?m)^\\| `?" + d.row + "`? \\| (.*)$").FindString(string(text))
		var names []string
		for _, of := range d.types {
			names = append(names, jsonFields(of)...)
		}
		for _, name := range names {
			if !strings.Contains(row, "`"+name+"`") {
				t.Errorf("the row of %s does not name %s", d.row, name)
			}
			_, err := score(leastVisit(","+strings.Replace(d.part, "PART", without(t, d.least, name), 1)), "-")
			if marked := strings.Contains(row, "`"+name+"`\\*"); marked != (err != nil) {
				t.Errorf("%s: %s is marked as needed: %v; left out: %v", d.row, name, marked, err)
			}
		}
		for _, marked := range regexp.MustCompile("`([a-z0-9_]+)`\\\\\\*").FindAllStringSubmatch(row, -1) {
			if !slices.Contains(names, marked[1]) {
				t.Errorf("the row of %s marks %s, which it does not have", d.row, marked[1])
			}
		}
	}
}

// without takes a field out of an object.
func without(t *testing.T, object, name string) string {
	t.Helper()
	var fields map[string]any
	if err := json.Unmarshal([]byte(object), &fields); err != nil {
		t.Fatal(err)
	}
	delete(fields, name)
	left, err := json.Marshal(fields)
	if err != nil {
		t.Fatal(err)
	}
	return string(left)
}
