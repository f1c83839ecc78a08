package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"testing"

	"doorsill/internal/model"
)

// overTimeFile is a visit file with visits a month apart, at which these tired
// forces to the left were found.
func overTimeFile(forces ...int) string {
	var visits []string
	for i, force := range forces {
		visits = append(visits, fmt.Sprintf(`{"checklist":{"id":"standard","version":"2026.1"},"unit":"gf","started":{"at":"2026-%02d-05T09:00:00Z"},
			"needs":{"course":"slow","wait_weeks":30},"setup":{"class":"small","site":"chin","start_gf":15,"operate_gf":20,"needed":["left"]},
			"readings":[{"what":"force","site":"chin","direction":"left","state":"rested","value":%d,"unit":"gf"},
				{"what":"force","site":"chin","direction":"left","state":"tired","value":%d,"unit":"gf"}]}`, i+1, force+10, force))
	}
	last := len(visits) - 1
	return `{"format":"doorsill-visit/1","visit":` + visits[last] + `,"earlier":[` + strings.Join(visits[:last], ",") + `]}`
}

func TestScoreSaysWhatVisitsSayTogether(t *testing.T) {
	file := overTimeFile(100, 94, 88, 82, 76)
	out, err := score(file, "-")
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"Over time\n  Down to 3 times what the control asks: in ", "When it comes, in 30 weeks, the chance that the force is still 3 times what the control asks or more is ",
		"Usable force in the weakest needed direction\n  2026-01-05: 100 gf\n", "  2026-05-05: 76 gf\n", "What to do\n  Plan a lighter class",
		"Cautions over time\n  The band is the straight line through the forces of 5 visits",
	} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
	only, err := score(file, "--over-time", "-")
	if err != nil || !strings.HasSuffix(out, only) || strings.Contains(only, "Scores") {
		t.Errorf("%v: over time alone is\n%s", err, only)
	}
	asJSON, err := score(file, "--over-time", "--json", "-")
	var trend model.Trend
	if err != nil || json.Unmarshal([]byte(asJSON), &trend) != nil || len(trend.Reaches) != 2 || len(trend.Band) < 5 || trend.Line.Direction != "left" {
		t.Errorf("%v: %s", err, asJSON)
	}
}

// TestEarlierVisitsLeaveTheResultAlone, since its bytes are signed; nor does their
// order matter.
func TestEarlierVisitsLeaveTheResultAlone(t *testing.T) {
	with, err := score(overTimeFile(100, 94, 88, 82, 76), "--json", "-")
	if err != nil {
		t.Fatal(err)
	}
	alone, err := score(overTimeFile(100, 94, 88, 82, 76)[:strings.Index(overTimeFile(100, 94, 88, 82, 76), `,"earlier"`)]+"}", "--json", "-")
	if err != nil || with != alone {
		t.Errorf("%v: with earlier visits the result is\n%s\nalone\n%s", err, with, alone)
	}
}

func TestEarlierVisitsAreCheckedByTheirPath(t *testing.T) {
	file := overTimeFile(100, 90, 80)
	for _, c := range []struct{ was, is, want string }{
		{`"2026-01-05T09:00:00Z"`, `"yesterday"`, `earlier[0].started.at: expected a time such as 2026-03-01T09:00:00Z, since there are earlier visits, got "yesterday"`},
		{`"2026-03-05T09:00:00Z"`, `""`, `visit.started.at: expected a time`},
		{`"value":100,`, `"value":100000,`, `earlier[0].readings[1].value: expected `},
		{`"wait_weeks":30},"setup"`, `"wait_weeks":30},"set_up"`, `set_up: `},
	} {
		_, err := score(strings.Replace(file, c.was, c.is, 1), "-")
		if err == nil || !errors.Is(err, errVisitFile) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want %q", c.is, err, c.want)
		}
	}
	if _, err := score("", "--over-time", "testdata/visit.json"); err == nil || !strings.Contains(err.Error(), `needs visits in "earlier"`) {
		t.Errorf("a single visit over time: %v", err)
	}
}
