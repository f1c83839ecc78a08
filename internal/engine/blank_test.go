package engine

import (
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/model"
)

// What is written beside the checklist is missing while it is blank, and only then.
func TestBlankPartsOfAVisitAreMissing(t *testing.T) {
	scorer := New(authoring.Standard())
	blanks := func(visit *model.Visit) map[string]string {
		t.Helper()
		result, err := scorer.Score(visit)
		if err != nil {
			t.Fatal(err)
		}
		found := map[string]string{}
		for _, m := range result.Missing {
			if m.Reading != nil && m.Reading.What != "force" && m.Reading.What != "run" {
				found[m.Reading.What] = m.Group
			}
		}
		return found
	}
	for _, c := range []struct {
		what, group string
		fill        func(*model.Visit)
	}{
		{"consent", "first", func(v *model.Visit) { v.Notes["consent"] = "by nodding" }},
		{"stop-holder", "first", func(v *model.Visit) { v.Notes["stop-holder"] = "the sister" }},
		{"setup", "first", func(v *model.Visit) {
			v.Setup = &model.Setup{SetupChosen: model.SetupChosen{Class: "standard", Site: "hand-right", Needed: []string{"forward"}}}
		}},
		{"home", "needed", func(v *model.Visit) {
			v.Chair = &model.Chair{ChairMeasured: model.ChairMeasured{LengthMM: 1100, WidthMM: 640, Drive: "mid"}}
			v.Places = []model.Place{{PlaceMeasured: model.PlaceMeasured{Place: "p1", Kind: "door", Name: "door", WidthMM: 800}}}
		}},
		{"mount", "needed", func(v *model.Visit) {
			v.Mount = &model.Mount{MountNoted: model.MountNoted{Kind: "fixed", FixedTo: "armrest"}}
		}},
		{"plan", "needed", func(v *model.Visit) { v.Plan = &model.Plan{PlanAgreed: model.PlanAgreed{Note: "call in May"}} }},
		{"settings", "useful", func(v *model.Visit) {
			v.Settings = []model.Setting{{SettingChanged: model.SettingChanged{Key: "tremor_damping", Before: "10", After: "20", Unit: "%", Why: "shakes"}}}
		}},
	} {
		visit := &model.Visit{Unit: "gf", Notes: map[string]string{}}
		if got := blanks(visit)[c.what]; got != c.group {
			t.Errorf("in an empty visit %s is missing in group %q, want %q", c.what, got, c.group)
		}
		c.fill(visit)
		filled := blanks(visit)
		if group, missing := filled[c.what]; missing {
			t.Errorf("%s is filled in and still missing in group %q", c.what, group)
		}
		if len(filled) != 6 {
			t.Errorf("with %s filled in %d of the others are missing, want 6: %v", c.what, len(filled), filled)
		}
	}
	chairOnly := &model.Visit{Unit: "gf", Chair: &model.Chair{ChairMeasured: model.ChairMeasured{LengthMM: 1100, WidthMM: 640, Drive: "mid"}}}
	if _, missing := blanks(chairOnly)["home"]; !missing {
		t.Error("a home without a place counts as measured")
	}
	spaces := &model.Visit{Unit: "gf", Notes: map[string]string{"consent": " \n"}, Plan: &model.Plan{}}
	if got := blanks(spaces); got["consent"] == "" || got["plan"] == "" {
		t.Errorf("blank text counts as written: %v", got)
	}
}
