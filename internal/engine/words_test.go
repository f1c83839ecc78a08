package engine_test

import (
	"testing"

	"doorsill/internal/decimal"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/readiness"
	"doorsill/internal/engine/strength"
	"doorsill/internal/engine/trend"
	"doorsill/internal/model"
	"doorsill/internal/phrase"
)

// TestEveryIDHasWords: an id that the catalogue does not have would stand in a
// sentence as it is.
func TestEveryIDHasWords(t *testing.T) {
	ids := map[string][]string{"site": model.Sites(), "state": {"rested", "tired"}, "switch": {"both", "power", "mode", "stop"}}
	for d := strength.Forward; d <= strength.Press; d++ {
		ids["direction"] = append(ids["direction"], d.String())
	}
	for _, reserve := range []int{1, 2, 3, 7, 21} {
		ids["reserve"] = append(ids["reserve"], strength.Word(decimal.Int(reserve)))
	}
	for v := access.Feasible; v <= access.NotFeasible; v++ {
		ids["verdict"] = append(ids["verdict"], v.String())
	}
	for l := readiness.None; l <= readiness.WiderGround; l++ {
		ids["level"] = append(ids["level"], l.String())
	}
	ids["change"] = []string{trend.Up, trend.Down, trend.Same, trend.Mixed}
	ids["condition"] = trend.Differences(
		trend.Conditions{Support: "a", Site: "a", Control: "a", Settings: "a", TimeOfDay: "a", Rater: "a", Checklist: "a"},
		trend.Conditions{Support: "b", Site: "b", Control: "b", Settings: "b", TimeOfDay: "b", Rater: "b", Checklist: "b"})
	templates := map[string]string{}
	phrase.English().Codes(func(code, template string) { templates[code] = template })
	for vocabulary, list := range ids {
		for _, id := range list {
			if templates[vocabulary+"."+id] == "" {
				t.Errorf("no words for %s %q", vocabulary, id)
			}
		}
	}
}
