package engine_test

import (
	"strings"
	"testing"

	"doorsill/internal/engine"
	"doorsill/internal/engine/provenance"
)

// TestEveryThresholdIsFounded: one row a number, with a source and a status.
func TestEveryThresholdIsFounded(t *testing.T) {
	seen := map[string]bool{}
	statuses := map[string]bool{}
	for _, status := range provenance.Statuses() {
		statuses[status] = true
	}
	for row := range strings.Lines(engine.Thresholds()) {
		f := strings.Split(strings.TrimSuffix(row, "\n"), "\t")
		if len(f) != 5 || f[0] == "" || f[1] == "" || f[2] == "" || f[3] == "" || !statuses[f[4]] {
			t.Errorf("row %q", row)
			continue
		}
		if seen[f[0]] {
			t.Errorf("%s stands twice", f[0])
		}
		seen[f[0]] = true
	}
	for _, id := range []string{"tired-factor", "reserve-tight", "gate-home-ground-saf", "override-days", "class-very-light-force", "gram-force"} {
		if !seen[id] {
			t.Errorf("no threshold %s", id)
		}
	}
	if !strings.Contains(engine.Thresholds(), "ounce-force\t28.349523125\tgf\t") {
		t.Error("the ounce has lost digits")
	}
}
