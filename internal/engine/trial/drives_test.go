package trial_test

import (
	"testing"

	"doorsill/internal/engine/trial"
	"doorsill/internal/model"
)

// tally is one person's count of a drive of five minutes that ended then.
func tally(by, at string, things int, change func(*model.Run)) model.Run {
	r := model.Run{Stamp: model.Stamp{By: by, At: at}, RunTimed: model.RunTimed{Place: "indoors", State: "rested", Seconds: 300, Metres: 60, Things: things}}
	if change != nil {
		change(&r)
	}
	return r
}

// TestTwoTalliesOfOneDrive: the higher of each count stands, over the shorter
// way; what may be two drives is two.
func TestTwoTalliesOfOneDrive(t *testing.T) {
	const end = "2026-03-02T10:05:00.000Z"
	for _, c := range []struct {
		name   string
		second model.Run
		drives int
		rate   string
	}{
		{"another person at the same time", tally("bo", "2026-03-02T10:05:20.000Z", 3, func(r *model.Run) { r.Metres = 50 }), 1, "3"},
		{"fewer counts", tally("bo", end, 1, nil), 1, "1.666667"},
		{"way not measured", tally("bo", end, 2, func(r *model.Run) { r.Metres = 0 }), 1, "1.666667"},
		{"half of it together", tally("bo", "2026-03-02T10:07:30.000Z", 2, nil), 1, "1.666667"},
		{"a tenth of a second less than half of it together", tally("bo", "2026-03-02T10:07:30.100Z", 2, nil), 2, "1.666667"},
		{"a minute of it", tally("bo", end, 1, func(r *model.Run) { r.Seconds = 60 }), 1, "1.666667"},
		{"it and what came before", tally("bo", end, 1, func(r *model.Run) { r.Seconds = 900 }), 1, "1.666667"},
		{"a quarter of an hour, of which two minutes are of it", tally("bo", "2026-03-02T10:18:00.000Z", 2, func(r *model.Run) { r.Seconds = 900 }), 2, "1.666667"},
		{"less than half of it together", tally("bo", "2026-03-02T10:07:31.000Z", 2, nil), 2, "1.666667"},
		{"the same person again", tally("ann", end, 3, nil), 2, "2.083333"},
		{"tired, at the same time", tally("bo", end, 3, func(r *model.Run) { r.State = "tired" }), 1, "2.5"},
		{"outdoors", tally("bo", end, 3, func(r *model.Run) { r.Place = "outdoors" }), 2, "1.666667"},
		{"with another control", tally("bo", end, 3, func(r *model.Run) { r.Class = "standard" }), 2, "2.083333"},
		{"no time is known", tally("bo", "", 3, nil), 2, "2.083333"},
		{"nobody is known", tally("", end, 3, nil), 2, "2.083333"},
		{"no time was taken", tally("bo", end, 3, func(r *model.Run) { r.Seconds = 0 }), 2, "2.083333"},
		{"set aside", tally("bo", end, 9, func(r *model.Run) { r.Slip = "saved by mistake" }), 1, "1.666667"},
	} {
		first := tally("ann", end, 2, func(r *model.Run) { r.Class, r.Control, r.Site = "small", "Grey stick", "chin" })
		f := trial.Sum([]model.Run{first, c.second})
		if f.Drives != c.drives || f.Contacts.Value.Text() != c.rate {
			t.Errorf("%s: %d drives, %s contacts per 50 m; want %d, %s", c.name, f.Drives, f.Contacts.Value.Text(), c.drives, c.rate)
		}
		if merged := c.drives == 1 && c.second.Slip == ""; merged != (len(f.Notes) == 1) {
			t.Errorf("%s: notes %v", c.name, f.Notes)
		}
	}
	first := tally("ann", end, 2, func(r *model.Run) { r.Metres = 0 })
	if f := trial.Sum([]model.Run{first, tally("bo", end, 2, nil)}); f.Drives != 1 || f.Contacts.Value.Text() != "1.666667" {
		t.Errorf("way measured by the second alone: %d drives, %s contacts per 50 m", f.Drives, f.Contacts.Value.Text())
	}
	for _, at := range [][2]string{{"", "1970-01-01T00:00:00.000Z"}, {"1970-01-01T00:00:00.000Z", ""}} { // no time is no time, not the first one
		if f := trial.Sum([]model.Run{tally("ann", at[0], 2, nil), tally("bo", at[1], 2, nil)}); f.Drives != 2 {
			t.Errorf("one without a time: %d drives", f.Drives)
		}
	}
	// Three people, and every count of its own.
	all := func(n int) func(*model.Run) {
		return func(r *model.Run) {
			r.People, r.Prompts, r.Rescues, r.Unmeant, r.Presses, r.Seconds = n, n+1, n+2, n+3, n+4, 600
		}
	}
	f := trial.Sum([]model.Run{tally("ann", end, 0, all(1)), tally("bo", end, 0, all(4)), tally("cy", end, 0, all(2))})
	if f.Drives != 1 || !f.PersonContact || f.Prompts.Value.Text() != "5" || f.Rescues.Value.Text() != "6" || f.Presses.Value.Text() != "8" {
		t.Errorf("three tallies: %+v", f)
	}
}

// TestNobodyIsRestedAndTiredAtOnce: a second tally makes no tired drive of one that
// somebody else calls rested.
func TestNobodyIsRestedAndTiredAtOnce(t *testing.T) {
	const end = "2026-03-02T10:05:00.000Z"
	tired := func(r *model.Run) { r.State = "tired" }
	for _, c := range []struct {
		name  string
		runs  []model.Run
		tired int
	}{
		{"rested first", []model.Run{tally("ann", end, 0, nil), tally("bo", end, 0, tired)}, 0},
		{"tired first", []model.Run{tally("ann", end, 0, tired), tally("bo", end, 0, nil)}, 0},
		{"both tired", []model.Run{tally("ann", end, 0, tired), tally("bo", end, 0, tired)}, 1},
	} {
		if f := trial.Sum(c.runs); f.Drives != 1 || f.Tired != c.tired {
			t.Errorf("%s: %d drives, %d of them tired; want 1, %d", c.name, f.Drives, f.Tired, c.tired)
		}
	}
}

// TestRunsWithOtherControls are kept apart, and one that names none counts.
func TestRunsWithOtherControls(t *testing.T) {
	use := model.InUse{Class: "small", Control: "Grey stick", Site: "chin"}
	runs := driven(
		model.RunTimed{Class: "small", Control: "Grey stick", Site: "chin"}, model.RunTimed{}, model.RunTimed{Class: "small", Site: "chin"},
		model.RunTimed{Class: "small", Control: "Blue stick", Site: "chin"}, model.RunTimed{Class: "small", Site: "hand-left"}, model.RunTimed{Class: "standard", Site: "chin"},
	)
	own, others := trial.With(runs, use)
	if len(own) != 3 || len(others) != 3 {
		t.Errorf("%d of it, %d of others", len(own), len(others))
	}
	var f trial.Findings
	f.LeaveOut(others)
	if len(f.Notes) != 1 || said(f.Notes[0]) != "3 runs were driven with another control or at another site and do not count for the chosen one." {
		t.Errorf("%v", f.Notes)
	}
}
