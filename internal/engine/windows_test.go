package engine_test

import (
	"path/filepath"
	"testing"

	"doorsill/internal/engine"
	"doorsill/internal/model"
)

// TestEachWindowHasItsLevel: what tires costs the level that the same person has
// while rested, and the level of the visit is the tired one.
func TestEachWindowHasItsLevel(t *testing.T) {
	v := readVector(t, filepath.Join(vectorDir, "full-ninety.json"))
	scorer := engine.New(v.list(t))
	whole, err := scorer.Score(&v.Visit)
	if err != nil {
		t.Fatal(err)
	}
	if len(whole.Windows) != 0 {
		t.Fatalf("rested and tired differ already: %+v", whole.Windows)
	}
	weaken := func(by float64) {
		for i := range v.Visit.Readings {
			if r := &v.Visit.Readings[i]; r.What == "force" && r.State == "tired" {
				r.Value *= by
			}
		}
	}
	weaken(0.6)
	result, err := scorer.Score(&v.Visit)
	if err != nil {
		t.Fatal(err)
	}
	if len(result.Windows) != 2 {
		t.Fatalf("windows %+v", result.Windows)
	}
	fresh, late := result.Windows[0], result.Windows[1]
	if fresh.State != "rested" || fresh.Level != whole.Level || late.Level != result.Level || fresh.Level == late.Level {
		t.Errorf("rested %s, tired %s; the whole visit %s, with full force %s", fresh.Level, late.Level, result.Level, whole.Level)
	}
	if late.LevelMessage.Code != "engine.window-level" || late.LevelMessage.Arg("state").Word != "tired" {
		t.Errorf("says %v", &late.LevelMessage)
	}
}

// TestALevelWhileRestedIsNeverBelowTheVisits and never lifts what force has
// nothing to do with.
func TestALevelWhileRestedIsNeverBelowTheVisits(t *testing.T) {
	rank := map[string]int{}
	for i, level := range model.Levels() {
		rank[level] = i
	}
	seen := 0
	for _, path := range vectors(t) {
		v := readVector(t, path)
		result, err := engine.New(v.list(t)).Score(&v.Visit)
		if err != nil {
			t.Fatal(err)
		}
		for i := range result.Windows {
			seen++
			if w := &result.Windows[i]; w.Level == "" || rank[w.Level] < rank[result.Level] {
				t.Errorf("%s: %s %s, the visit %s", v.Name, w.State, w.Level, result.Level)
			}
		}
	}
	if seen == 0 {
		t.Error("no vector has windows")
	}
}
