package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/model"
)

// score runs the subcommand as a person would.
func score(in string, args ...string) (string, error) {
	var out bytes.Buffer
	err := runScore(context.Background(), args, console{in: strings.NewReader(in), out: &out, errOut: &bytes.Buffer{}})
	return out.String(), err
}

// sharedVisit is the visit of a shared vector as a visit file.
func sharedVisit(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "vectors", name+".json"))
	if err != nil {
		t.Fatal(err)
	}
	var vector struct{ Visit json.RawMessage }
	if err := json.Unmarshal(data, &vector); err != nil {
		t.Fatal(err)
	}
	return `{"format":"doorsill-visit/1","visit":` + string(vector.Visit) + `}`
}

func TestScoreSaysWhatADayAndAHomeAsk(t *testing.T) {
	out, err := score(sharedVisit(t, "day-and-home"), "-")
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"Chosen control at the right index finger: Left asks 21.7 % of the strength.", "one-hour limit of 14 %", "Strain of the hand 7.2: not above the mark of 10",
		"in 4 weeks: Exposure is raised.", "Front door, fits: 110 mm are left", "Hall to kitchen, tight: ", "Bedroom passage, does not fit: 21 mm are missing",
		"Cellar, not known yet: Not measured yet: clear opening of the door.", "Letting go: due again", "every control at every measured site",
	} {
		if !strings.Contains(strings.ToLower(out), strings.ToLower(want)) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
}

func TestScoreSaysTheResultInWords(t *testing.T) {
	out, err := score("", "testdata/visit.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"Pause: no driving for now. Not Practise, because: Not with this control: Force reserve: 0.16.",
		"Effects\n  Force reserve: 0.16. This control is not used at this site",
		"Positioning: between 9 and 96 of 100; 1 of 9 questions answered, too few for one number.",
		"Control\n  At the right index finger: does not work indoors, does not work outdoors; decided by: force.",
		"force, does not work: Left: 60 gf rested, no tired reading, so 0.7 of it counts (assumed): 42 gf for 250 gf asked: 0.16 times (too tight). 14 gf or less would leave 3 times that",
		"Very light stick, taken as 10 gf and 3 mm (common practice): No force reading at the right index finger for: forward, reverse, right.",
		"Shortest way up\n",
		"stop: Pelvis in place: not tested.",
		"It does not decide whether somebody may drive",
	} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
	if strings.Contains(out, "\t") || strings.Contains(out, "feasible") {
		t.Errorf("ids or tabs in what a person reads:\n%s", out)
	}
}

// TestScoreNamesEveryRule: a rule is called what the sentences call it.
func TestScoreNamesEveryRule(t *testing.T) {
	out, err := score(`{"format":"doorsill-visit/1","visit":{"checklist":{"id":"standard","version":"2026.3"},"setup":{"class":"scanning","site":"chin"},
		"needs":{"rejected":{"chin":"sore"}}}}`, "-")
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"\n  commands that come, not known yet: ", "\n  steps to a command, not known yet: ", "\n  how it drives, not known yet: ", "\n  a site that is ruled out, not known yet: "} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
}

// TestScoreNamesAnEarlierChecklist: by an earlier version the same visit may have a
// higher level, and nobody should take it for that of today.
func TestScoreNamesAnEarlierChecklist(t *testing.T) {
	for i, list := range authoring.StandardVersions() {
		version, earlier := list.Version, i > 0
		out, err := score(`{"format":"doorsill-visit/1","visit":{"checklist":{"id":"standard","version":"`+version+`"}}}`, "-")
		if err != nil {
			t.Fatal(err)
		}
		if named := strings.Contains(out, "Scored by standard "+version+", as the visit names it. The present one is "); named != earlier {
			t.Errorf("%s: said %v\n%s", version, named, out)
		}
	}
}

func TestScoreReadsStandardInputAndWritesBothForms(t *testing.T) {
	file := sharedVisit(t, "override-over-stop")
	words, err := score(file, "-")
	if err != nil || !strings.Contains(words, "Decision: The decision for Practise does not stand") {
		t.Errorf("%v in\n%s", err, words)
	}
	out, err := score(file, "-", "--json")
	if err != nil {
		t.Fatal(err)
	}
	var got model.Result
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatalf("%v in\n%s", err, out)
	}
	if got.Format != model.ResultFormat || got.Level != "pause" || got.Override == nil || got.Override.Accepted || len(got.Effects) != 1 || got.Effects[0].Item != "eqp-brake" ||
		len(got.Domains) != 10 || *got.Domains[8].Score != 84 || len(got.Items) != 90 || got.Control.Indoors != "feasible" {
		t.Errorf("got %+v", got)
	}
}

// TestScoreWritesTheBytesThatAreHashed: one line, no sentences, and what is read
// back from it is written as the same bytes.
func TestScoreWritesTheBytesThatAreHashed(t *testing.T) {
	out, err := score("", "testdata/visit.json", "--json")
	if err != nil {
		t.Fatal(err)
	}
	var result model.Result
	if err := json.Unmarshal([]byte(out), &result); err != nil {
		t.Fatal(err)
	}
	if want := string(result.AppendJSON(nil)); out != want || strings.Contains(out, "\n") || strings.Contains(out, `"text":`) {
		t.Errorf("got\n%s\nwant\n%s", out, want)
	}
}

// TestScoreNamesWhatIsWrong changes one thing of a good file at a time.
func TestScoreNamesWhatIsWrong(t *testing.T) {
	good, err := os.ReadFile("testdata/visit.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ name, old, now, want string }{
		{"empty file", string(good), " \n", "standard input: expected a visit as JSON, got an empty file"},
		{"broken JSON", `"unit": "gf",`, `"unit": "gf"`, `standard input:6: expected "," or "}" at byte 127`},
		{"cut short", "    \"setup\"", "", "expected"},
		{"unknown field", `"unit": "gf",`, `"units": "gf",`, "standard input:5: visit.units: expected a field that exists, got one that does not"},
		{"wrong type", `"value": 60`, `"value": "60"`, `standard input:12: visit.readings[0].value: expected a number, got the text "60"`},
		{"two visits", "\n  }\n}\n", "\n  }\n}\n{}", "standard input:20: expected nothing more"},
		{"wrong format", "doorsill-visit/1", "doorsill-visit/9", `standard input:2: format: expected "doorsill-visit/1", got "doorsill-visit/9"`},
		{"a field twice", `"unit": "gf",`, `"unit": "gf", "unit": "N",`, "standard input:5: visit.unit: expected each field once, got unit twice"},
		{"a field in capitals", `"unit": "gf",`, `"Unit": "gf",`, "standard input:5: visit.Unit: expected a field that exists, got one that does not"},
		{"text that is no UTF-8", `"gf"`, "\"\xff\"", "standard input: expected text in UTF-8"},
		{"no format", `"format": "doorsill-visit/1",`, "", `format: expected "doorsill-visit/1", got ""`},
		{"a part of a later format", `"doorsill-visit/1"`, `"doorsill-visit/2", "more": {}`, `standard input:2: format: expected "doorsill-visit/1", got "doorsill-visit/2"`},
		{"unknown item", "pos-trunk", "pos-wings", "visit.answers[1].heads[0].item: expected an item of checklist standard 2026.1, got “pos-wings”"},
		{"level out of range", `"level": "2"`, `"level": "4"`, "visit.answers[1].heads[0].level: expected"},
		{"count out of range", `"right": 4`, `"right": 6`, "visit.answers[2].heads[0].right: expected a whole number from 0 to 5, got 6"},
		{"wrong unit", `"value": 60, "unit": "gf"`, `"value": 60, "unit": "mm"`, "visit.readings[0].unit: expected"},
		{"force out of range", `"value": 60, "unit": "gf"`, `"value": 60, "unit": "lbf"`, "visit.readings[0].value: expected"},
		{"negative run", `"things": 0`, `"things": -1`, "visit.runs[0].things: expected"},
		{"unknown class", `"class": "standard"`, `"class": "huge"`, "visit.setup.class: expected"},
		{"control of an unknown class", `"unit": "gf",`, `"unit": "gf", "kit": [{"id": "k1", "name": "Stick", "class": "huge"}],`, "visit.kit[0].class: expected"},
		{"chair too narrow", `"unit": "gf",`, `"unit": "gf", "chair": {"length_mm": 1100, "width_mm": 64, "drive": "mid"},`, "visit.chair.width_mm: expected 400 to 900 mm, got 64"},
		{"flat ramp", `"unit": "gf",`, `"unit": "gf", "places": [{"place": "p1", "kind": "ramp", "name": "ramp", "rise_mm": 10, "run_mm": 9000}],`, "visit.places[0].run_mm: expected"},
		{"needs out of range", `"unit": "gf",`, `"unit": "gf", "needs": {"hours_driving": 30},`, "visit.needs.hours_driving: expected 0 to 24 h, got 30"},
		{"other checklist version", `"version": "2026.1"`, `"version": "2019.4"`, "visit.checklist: expected standard " + authoring.Standard().Version},
		{"other checklist content", `"version": "2026.1"`, `"version": "2026.1", "hash": "00ff"`, "visit.checklist: expected standard 2026.1"},
		{"head of another item", `{"item": "mnt-stop", "state"`, `{"item": "hnd-limits", "state"`, `visit.answers[0].heads[0].item: expected "mnt-stop" as in its answer, got "hnd-limits"`},
	} {
		text := strings.Replace(string(good), c.old, c.now, 1)
		if c.name == "unknown item" {
			text = strings.ReplaceAll(string(good), c.old, c.now)
		}
		if text == string(good) {
			t.Fatalf("%s changes nothing", c.name)
		}
		out, err := score(text, "-")
		if err == nil || !errors.Is(err, errVisitFile) || !strings.Contains(err.Error(), c.want) || out != "" {
			t.Errorf("%s: error %v, want %q", c.name, err, c.want)
		}
	}
}

func TestScoreIsCalledWithOneFile(t *testing.T) {
	for _, args := range [][]string{nil, {"a", "b"}} {
		var wrong *usageError
		if _, err := score("", args...); !errors.As(err, &wrong) {
			t.Errorf("%v: %v", args, err)
		}
	}
	if _, err := score("", "testdata/none.json"); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("a file that is not there: %v", err)
	}
	if _, err := score(strings.Repeat(" ", maxVisitFile+1), "-"); err == nil || !strings.Contains(err.Error(), "at most 4 MiB") {
		t.Errorf("a file that is too large: %v", err)
	}
}

func TestScoreByAnotherChecklist(t *testing.T) {
	visit := `{"format":"doorsill-visit/1","visit":{"checklist":{"id":"kitchen","version":"1.0"}}}`
	out, err := score(visit, "--checklist", checklists+"good/kitchen.json", "-")
	if err != nil || !strings.Contains(out, "This checklist does not ask whether a separate stop was shown") {
		t.Errorf("%v in\n%s", err, out)
	}
	if _, err := score(visit, "--checklist", checklists+"bad/weight.json", "-"); err == nil || !strings.Contains(err.Error(), "weight") {
		t.Errorf("a checklist with a mistake: %v", err)
	}
}

// TestScoreSaysFirstWhatCanBeUsed: in three lines a control, before any score.
func TestScoreSaysFirstWhatCanBeUsed(t *testing.T) {
	out, err := score("", "testdata/visit.json")
	if err != nil {
		t.Fatal(err)
	}
	used, scores := strings.Index(out, "What can be used\n  Very light stick at the right index finger (main): "), strings.Index(out, "\nScores\n")
	if used < 0 || scores < used || !strings.Contains(out, "\n    next: Measure the force in every needed direction") {
		t.Errorf("%s", out)
	}
}
