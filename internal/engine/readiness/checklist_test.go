package readiness

import (
	"slices"
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/checklist/authoring"
	"doorsill/internal/decimal"
)

// TestTheStandardChecklistIsMadeReady: what is worked out once for all visits is
// what the definition says.
func TestTheStandardChecklistIsMadeReady(t *testing.T) {
	list := authoring.Standard()
	c := Compile(list)
	if c.Len() != list.Count() || c.Hash() != list.Hash() {
		t.Fatalf("%d items of %s, want %d of %s", c.Len(), c.Hash(), list.Count(), list.Hash())
	}
	for id, want := range map[string]struct {
		bounds []decimal.Micro
		bands  int
		from   string
		grave  bool
	}{
		"ctl-release": {[]decimal.Micro{1_000_000, 1_500_000, 2_500_000}, 4, checklist.FromRelease, true},
		"hom-door":    {[]decimal.Micro{100_000_000, 60_000_000, 30_000_000, 0}, 5, "", false},
		"pos-head":    {nil, 1, "", true},
		"pos-trunk":   {nil, 1, "", true}, // can raise a STOP only
		"mnt-rigid":   {nil, 1, "", true}, // can raise a STOP-CONTROL only
		"per-sides":   {[]decimal.Micro{10_000_000, 9_000_000, 7_000_000}, 4, "", false},
	} {
		at, ok := c.Find(id)
		if !ok {
			t.Fatalf("%s is missing", id)
		}
		it := &c.items[at]
		if it.Item != list.Item(id) || !slices.Equal(it.bounds, want.bounds) || it.bands() != want.bands || it.grave != want.grave {
			t.Errorf("%s: bounds %v, %d bands, grave %v; want %+v", id, it.bounds, it.bands(), it.grave, want)
		}
		if want.from == "" && it.source != -1 || want.from != "" && checklist.Sources()[it.source] != want.from {
			t.Errorf("%s is worked out from source %d, want %q", id, it.source, want.from)
		}
	}
}

// TestALackThatTheLetterNeedsIsNeeded: the definition's group says so.
func TestALackThatTheLetterNeedsIsNeeded(t *testing.T) {
	_, j := newWay(&checklist.Definition{Sections: []checklist.Section{{Code: "mine", Title: "Our own", Items: []checklist.Item{
		{ID: "a", Type: checklist.TypeYesNo, Weight: 1, Group: checklist.GroupNeed}, {ID: "b", Type: checklist.TypeYesNo, Weight: 1},
		{ID: "c", Type: checklist.TypeYesNo, Weight: 1, Group: checklist.GroupNeed, Effects: []checklist.Effect{{Effect: checklist.StopControl}}},
	}}}}, nil)
	for i, want := range []string{GroupNeeded, GroupUseful, GroupStop} {
		if got := j.groupOf(i); got != want {
			t.Errorf("item %s is %s, want %s", j.items[i].ID, got, want)
		}
	}
}
