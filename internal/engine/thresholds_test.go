package engine_test

import (
	"encoding/csv"
	"os"
	"slices"
	"strings"
	"testing"

	"doorsill/internal/engine"
	"doorsill/internal/engine/enginetest"
	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
	"doorsill/internal/phrase"
)

// statusWords are what the app calls each status, the best founded first.
var statusWords = []string{"published", "derived here and checked by search", "common practice, no source", "from memory", "proposal, not validated"}

// signs are the units that all languages write alike.
var signs = []string{"N", "gf", "mm", "m", "s", "%"}

// TestEveryThresholdIsFounded holds that each number is there once, with a source
// and a status, and that unit and source have words.
func TestEveryThresholdIsFounded(t *testing.T) {
	seen, codes := map[string]bool{}, map[string]bool{}
	phrase.English().Codes(func(code, _ string) { codes[code] = true })
	for _, th := range engine.ThresholdList() {
		if th.ID == "" || th.Value == "" || seen[th.ID] {
			t.Errorf("%q has the value %q, or stands twice", th.ID, th.Value)
		}
		seen[th.ID] = true
		if unit := th.Unit.Arg("unit"); unit != nil && !codes["unit."+unit.Word] && !slices.Contains(signs, unit.Word) {
			t.Errorf("%s: the unit %s has no words", th.ID, unit.Word)
		}
		if !strings.HasPrefix(th.Source.Code, "source.") || !codes[th.Source.Code] {
			t.Errorf("%s: the source %s has no words", th.ID, &th.Source)
		}
		if status := th.Status.Arg("status"); status == nil || !slices.Contains(provenance.Statuses(), provenance.Status(status.Word)) {
			t.Errorf("%s: the status is %s", th.ID, &th.Status)
		}
	}
	for _, id := range []string{"tired-factor", "reserve-tight", "gate-home-ground-saf", "override-days", "class-very-light-force", "gram-force"} {
		if !seen[id] {
			t.Errorf("no threshold %s", id)
		}
	}
}

func TestStatusesKeepTheirWords(t *testing.T) {
	writer := phrase.NewWriter(phrase.English(), nil)
	for i, status := range provenance.Statuses() {
		plain, borrowed := status.Message(false), status.Message(true)
		if got := writer.Text(&plain); got != statusWords[i] {
			t.Errorf("%s is called %q, want %q", status, got, statusWords[i])
		}
		if got := writer.Text(&borrowed); got != statusWords[i]+", borrowed" {
			t.Errorf("%s of another part of the body is called %q", status, got)
		}
	}
}

// TestThresholdsAsText holds the lines of before.
func TestThresholdsAsText(t *testing.T) {
	rows := 0
	for row := range strings.Lines(enginetest.Thresholds()) {
		rows++
		f := strings.Split(strings.TrimSuffix(row, "\n"), "\t")
		if len(f) != 5 || f[0] == "" || f[1] == "" || f[2] == "" || f[3] == "" || !slices.Contains(statusWords, f[4]) {
			t.Errorf("row %q", row)
		}
	}
	if want := len(engine.ThresholdList()); rows != want {
		t.Errorf("%d rows, want %d", rows, want)
	}
	for _, row := range []string{
		"ounce-force\t28.349523125\tgf\tNIST SP 811 (2008) App. B: avoirdupois pound 0.45359237 kg of 16 ounces, exact\tpublished\n",
		"ada-ramp-slope\t12\t1 in x\t2010 ADA Standards 405.2; check your local code\tpublished\n",
		"tired-factor\t0.7\t-\town proposal; stands in for a tired reading until there is one\tproposal, not validated\n",
	} {
		if !strings.Contains(enginetest.Thresholds(), row) {
			t.Errorf("no row %q", row)
		}
	}
}

// TestThresholdsHaveTheirValues against the list of testdata/thresholds.csv, which
// no command writes: a number that a rule turns on is changed there by hand too.
// Those of the ADA are its inches times 25.4.
func TestThresholdsHaveTheirValues(t *testing.T) {
	file, err := os.Open("testdata/thresholds.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	want := map[string][]string{}
	for _, row := range rows[1:] {
		want[row[0]] = row[1:]
	}
	for row := range strings.Lines(enginetest.Thresholds()) {
		f := strings.Split(row, "\t")
		if !slices.Equal(f[1:3], want[f[0]]) {
			t.Errorf("%s is %q, want %q", f[0], f[1:3], want[f[0]])
		}
		delete(want, f[0])
	}
	for id := range want {
		t.Errorf("no threshold %s any more", id)
	}
}

// TestAThresholdIsExact holds the canonical form of one: ids, numbers and no words.
func TestAThresholdIsExact(t *testing.T) {
	for _, th := range engine.ThresholdList() {
		if th.ID != "ada-ramp-slope" {
			continue
		}
		for _, c := range []struct {
			got  message.Message
			want string
		}{
			{th.Unit, `{"code":"engine.unit","args":{"unit":"one-in"}}`},
			{th.Source, `{"code":"source.reference","args":{"standard":"ada","section":"405.2"}}`},
			{th.Status, `{"code":"provenance.status","args":{"status":"published"}}`},
		} {
			if got := string(c.got.AppendJSON(nil)); got != c.want {
				t.Errorf("got %s, want %s", got, c.want)
			}
		}
		return
	}
	t.Error("no threshold ada-ramp-slope")
}
