package checklist_test

import (
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// Definitions go into the browser, where these packages would double what every
// tablet fetches.
func TestNothingHeavyIsImported(t *testing.T) {
	out, err := exec.Command("go", "list", "-deps", ".").Output()
	if err != nil {
		t.Fatal(err)
	}
	deps := strings.Fields(string(out))
	if !slices.Contains(deps, "strings") {
		t.Fatalf("listed only %v: the ban would hold by accident", deps)
	}
	for _, banned := range []string{"fmt", "encoding/json", "reflect", "embed", "time", "crypto/sha256", "doorsill/internal/checklist/authoring"} {
		if slices.Contains(deps, banned) {
			t.Errorf("the package depends on %s", banned)
		}
	}
}
