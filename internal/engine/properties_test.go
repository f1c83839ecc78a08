package engine_test

import (
	"encoding/json"
	"math/rand/v2"
	"reflect"
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/engine"
)

// TestOrderDoesNotMatter: a result does not depend on the order in which answers
// and runs of a visit stand.
func TestOrderDoesNotMatter(t *testing.T) {
	scorer := engine.New(authoring.Standard())
	for seed := range uint64(ordersTried) {
		visit := randomVisit(seed)
		want, err := scorer.Score(&visit)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		rng := rand.New(rand.NewPCG(seed, 1))
		rng.Shuffle(len(visit.Answers), reflect.Swapper(visit.Answers))
		rng.Shuffle(len(visit.Runs), reflect.Swapper(visit.Runs))
		got, err := scorer.Score(&visit)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if a, b := asJSON(t, want), asJSON(t, got); a != b {
			t.Fatalf("seed %d: another order gives another result:\n%s\n%s", seed, a, b)
		}
	}
}

func asJSON(t *testing.T, v any) string {
	t.Helper()
	data, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}
