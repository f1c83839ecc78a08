package main_test

import (
	"bytes"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// banned are packages that must not reach the browser, with the reason. The Go
// runtime alone is 376 kB compressed; each of these adds to a download that
// every tablet makes.
var banned = []struct{ path, reason string }{
	{"fmt", "100 kB compressed; package phrase words sentences from a catalogue"},
	{"encoding/json", "120 kB more; what reads and writes JSON is generated over package strictjson"},
	{"reflect", "comes with the two above; what the runtime needs is internal/reflectlite"},
	{"time", "the program has no clock, and time zones weigh 40 kB; package validation reads dates"},
	{"os", "the program has no files; not even the runtime needs it"},
	{"net", "the program has no network"},
	{"regexp", "75 kB; ids are compared, not matched"},
	{"sort", "reflection-based; slices are in order already"},
	{"embed", "38 kB with file systems and the clock; the catalogue is given to the program"},
	{"math/rand", "the same visit must give the same bytes"},
	{"doorsill/internal/checklist/authoring", "it knows encoding/json; the server has checked what the browser reads"},
}

// allowedOurs are our own packages that may be in the browser, by their path below
// doorsill.
var allowedOurs = strings.Fields(`
	cmd/engine internal/tablet internal/record internal/checklist
	internal/engine internal/engine/access internal/engine/advice internal/engine/endurance internal/engine/passage
	internal/engine/provenance internal/engine/quantity internal/engine/readiness internal/engine/strength internal/engine/trend
	internal/engine/trial
	internal/decimal internal/fields internal/message internal/model internal/phrase internal/strictjson internal/validation
`)

func TestNothingHeavyReachesTheBrowser(t *testing.T) {
	cmd := exec.Command("go", "list", "-deps", ".")
	cmd.Env = append(os.Environ(), "GOOS=wasip1", "GOARCH=wasm")
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v\n%s", err, stderr.String())
	}
	deps := strings.Fields(string(out))
	if len(deps) < 20 {
		t.Fatalf("only %d packages listed: the ban would hold by accident", len(deps))
	}
	for _, dep := range deps {
		for _, b := range banned {
			if dep == b.path {
				t.Errorf("cmd/engine depends on %s: %s", dep, b.reason)
			}
		}
		if ours, is := strings.CutPrefix(dep, "doorsill/"); is && !slices.Contains(allowedOurs, ours) {
			t.Errorf("cmd/engine depends on %s, which is not part of the program", dep)
		}
		if strings.Contains(dep, ".") {
			t.Errorf("cmd/engine depends on %s: the program needs no library", dep)
		}
	}
}
