package main

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"
)

// leastVisit is a visit file with nothing but the checklist and one more part.
func leastVisit(part string) string {
	return `{"format":"doorsill-visit/1","visit":{"checklist":{"id":"standard","version":"2026.1"}` + part + `}}`
}

// TestScoreTakesFilesThatLeaveMuchOut: each part with as little as it can have.
func TestScoreTakesFilesThatLeaveMuchOut(t *testing.T) {
	for name, c := range map[string]struct{ part, want string }{
		"nothing":  {``, "Pause: no driving for now."},
		"a set-up": {`,"setup":{"class":"small","site":"chin"}`, "No force reading at the chin"},
		"a control without a name": {`,"kit":[{"id":"k1","class":"small","operate_gf":50}]` +
			`,"readings":[{"what":"force","site":"chin","direction":"left","state":"rested","value":60,"unit":"gf"}]`, "k1: "},
		"a place without a name":  {`,"places":[{"place":"p1","kind":"door"}]`, "p1, unknown: "},
		"a place with a chair":    {`,"chair":{"length_mm":1000,"width_mm":600,"drive":"mid"},"places":[{"place":"p1","kind":"door","width_mm":900}]`, "p1, fits: "},
		"one need":                {`,"needs":{"base":"moves"}`, "Pause"},
		"a run":                   {`,"runs":[{"place":"indoors","state":"rested"}]`, "Pause"},
		"a reading of nothing":    {`,"readings":[{"what":"hold","site":"chin","state":"rested","unit":"s"}]`, "Pause"},
		"an item without heads":   {`,"answers":[{"item":"pos-trunk"}]`, "Pause"},
		"a decision":              {`,"override":{"level":"pause","reason":"other","text":"as agreed","from":"2026-03-02"}`, "Decision: "},
		"parts that do not count": {`,"settings":[{}],"mount":{},"plan":{},"notes":{},"signed":{},"started":{}`, "Pause"},
	} {
		out, err := score(leastVisit(c.part), "-")
		if err != nil || !strings.Contains(out, c.want) {
			t.Errorf("%s: %v, want %q in\n%s", name, err, c.want, out)
		}
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
