package trial_test

import (
	"slices"
	"testing"

	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/trial"
	"doorsill/internal/model"
)

// shown is what a quantity says: its name, the code of its sentence, its value, or
// "-" without one.
func shown(q *quantity.Quantity) string {
	value := "-"
	if q.Has() {
		value = q.Value.Text()
	}
	return q.Name + " " + q.Say.Code + " " + value
}

// TestOnlyWhatWasDrivenIsMeasured: none in a drive is a finding, none without a
// drive is not.
func TestOnlyWhatWasDrivenIsMeasured(t *testing.T) {
	run := func(place string, change func(*model.Run)) []model.Run {
		r := tally("ann", "2026-03-02T10:05:00.000Z", 0, change)
		r.Place = place
		return []model.Run{r}
	}
	for _, c := range []struct {
		name string
		runs []model.Run
		want []string
	}{
		{"nothing", nil, []string{
			"contacts trial.nothing-driven -", "prompts trial.nothing-driven -", "rescues trial.no-run -",
			"presses trial.nothing-driven -", "rough trial.nothing-driven -",
		}},
		{"five minutes and 60 m without a fault", run("indoors", nil), []string{
			"contacts trial.rate 0", "prompts trial.too-little-driven 0", "rescues trial.no-rescue 0",
			"presses trial.too-little-driven 0", "rough trial.nothing-driven -",
		}},
		{"counted, and neither way nor time taken", run("indoors", func(r *model.Run) { r.Metres, r.Seconds, r.Things, r.Prompts = 0, 0, 1, 2 }), []string{
			"contacts trial.too-little-driven 1", "prompts trial.too-little-driven 2", "rescues trial.no-rescue 0",
			"presses trial.nothing-driven -", "rough trial.nothing-driven -",
		}},
		{"taken back from rough ground only", run("rough", func(r *model.Run) { r.Metres, r.Unmeant, r.Rescues = 40, 3, 2 }), []string{
			"contacts trial.nothing-driven -", "prompts trial.nothing-driven -", "rescues trial.rescues 2",
			"presses trial.too-little-driven 0", "rough trial.rate 1.5",
		}},
		{"taken back once", run("indoors", func(r *model.Run) { r.Rescues = 1 }), []string{
			"contacts trial.rate 0", "prompts trial.too-little-driven 0", "rescues trial.rescues 1",
			"presses trial.too-little-driven 0", "rough trial.nothing-driven -",
		}},
	} {
		f := trial.Sum(c.runs)
		var got []string
		f.Quantities(func(q *quantity.Quantity) { got = append(got, shown(q)) })
		if !slices.Equal(got, c.want) {
			t.Errorf("%s:\n got %q\nwant %q", c.name, got, c.want)
		}
		if f.PersonContact {
			t.Errorf("%s: a person was touched", c.name)
		}
	}
}

// TestWhatWasDrivenIsNotAssumed.
func TestWhatWasDrivenIsNotAssumed(t *testing.T) {
	f := trial.Sum(driven(model.RunTimed{Place: "indoors", Seconds: 900, Metres: 90, Things: 1, Rescues: 1}))
	for _, q := range []*quantity.Quantity{&f.Contacts, &f.Prompts, &f.Presses, &f.Rescues} {
		if q.Word() != "measured" {
			t.Errorf("%s is %s", q.Name, q.Word())
		}
	}
}

// TestARunCountsForItsPlace: each place has its counts, and presses count everywhere.
func TestARunCountsForItsPlace(t *testing.T) {
	f := trial.Sum(nil)
	for place, want := range map[string][]string{
		"indoors": {"contacts", "prompts", "presses"}, "rough": {"rough", "presses"}, "outdoors": {"presses"},
	} {
		var got []string
		f.Of(place, func(q *quantity.Quantity) { got = append(got, q.Name) })
		if !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", place, got, want)
		}
	}
	for name, rated := range map[string]bool{"contacts": true, "prompts": true, "presses": true, "rough": true, "rescues": false} {
		if id, from, ok := trial.ProvenanceOf(name); ok != rated || rated && (id != name || from.Formula.Code != "formula.rate-of-runs") {
			t.Errorf("%s rests on %q, %+v, %v", name, id, from, ok)
		}
	}
}

// TestRunsOfAnotherControlAreTold: where there are any.
func TestRunsOfAnotherControlAreTold(t *testing.T) {
	slip := tally("ann", "2026-03-02T10:05:00.000Z", 1, func(r *model.Run) { r.Slip = "saved by mistake" })
	for _, c := range []struct {
		runs []model.Run
		want int
	}{{nil, 0}, {[]model.Run{slip}, 0}, {[]model.Run{tally("ann", "2026-03-02T10:05:00.000Z", 1, nil)}, 1}} {
		var f trial.Findings
		if f.LeaveOut(c.runs); len(f.Notes) != c.want {
			t.Errorf("%d runs: notes %v, want %d", len(c.runs), f.Notes, c.want)
		}
	}
}
