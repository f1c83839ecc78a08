package authoring_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"doorsill/internal/checklist"
	"doorsill/internal/checklist/authoring"
	"doorsill/internal/checklist/rules"
)

// compiles checks that what the engine gets is what the definition says, also
// after it has been sent as text.
func compiles(t *testing.T, d *checklist.Definition) {
	t.Helper()
	set := d.Rules()
	got, err := rules.Parse(set.Encode())
	if err != nil {
		t.Fatalf("%v\n%s", err, set.Encode())
	}
	if diff := cmp.Diff(set, got); diff != "" {
		t.Fatalf("-sent +received\n%s", diff)
	}
	if set.Hash != d.Hash() {
		t.Fatalf("rules of %s carry the hash %s", d.Hash(), set.Hash)
	}

}

func TestEveryGoodFileCompiles(t *testing.T) {
	compiles(t, authoring.Standard())
	for _, path := range files(t, "good") {
		d, err := authoring.Parse(path, read(t, path))
		if err != nil {
			t.Fatal(err)
		}
		compiles(t, d)
	}
}

func TestTheStandardRulesSayWhatTheDefinitionSays(t *testing.T) {
	want := map[string]rules.Item{
		"ctl-release": {
			ID: "ctl-release", Type: rules.Number, Title: "Letting go", Weight: 3, Needed: true, Unit: "s",
			From: rules.FromRelease, Better: "low", Decimals: 1, Bounds: []float64{1, 1.5, 2.5},
			Effects: []rules.Effect{
				{Effect: rules.StopControl, When: []rules.Condition{{Bands: []int{4}}, {Facts: []string{rules.FactReleaseMissed}}}},
				{Effect: rules.LimitAccompanied, When: []rules.Condition{{Bands: []int{3}}}},
			},
		},
		"per-sides": {
			ID: "per-sides", Type: rules.Count, Title: "Noticing both sides", Weight: 3, Needed: true, Unit: "of 10",
			Better: "high", Bounds: []float64{10, 9, 7}, Sides: true, Of: 10,
			Effects: []rules.Effect{{Effect: rules.LimitAccompanied,
				When: []rules.Condition{{Bands: []int{4}}, {Facts: []string{rules.FactUnequalSides}}}}},
		},
		"pos-head": {
			ID: "pos-head", Type: rules.Fit, Title: "Head control", Weight: 3, Needed: true,
			Effects: []rules.Effect{
				{Effect: rules.Stop, When: []rules.Condition{{Levels: []string{"0"}}}},
				{Effect: rules.StopControl, When: []rules.Condition{{Levels: []string{"1"}, Facts: []string{rules.FactHeadBorne}}}},
			},
		},
	}
	found := 0
	for _, section := range authoring.Standard().Rules().Sections {
		for _, item := range section.Items {
			expected, ok := want[item.ID]
			if !ok {
				continue
			}
			found++
			if diff := cmp.Diff(expected, item); diff != "" {
				t.Errorf("%s: -want +got\n%s", item.ID, diff)
			}
		}
	}
	if found != len(want) {
		t.Errorf("found %d of %d items", found, len(want))
	}
}
