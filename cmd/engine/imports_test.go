package main_test

import (
	"bytes"
	"os"
	"os/exec"
	"strings"
	"testing"
)

// banned are packages that must not reach the browser, with the reason. The Go
// runtime alone is 376 kB compressed; each of these adds to a download that
// every tablet makes.
var banned = []struct{ path, reason string }{
	{"fmt", "100 kB compressed; package phrase words sentences from a catalogue"},
	{"encoding/json", "120 kB more; the engine reads and writes lines of text"},
	{"reflect", "comes with the two above; what the runtime needs is internal/reflectlite"},
	{"time", "the engine has no clock, and time zones weigh 40 kB"},
	{"os", "the engine has no files; not even the runtime needs it"},
	{"net", "the engine has no network"},
	{"regexp", "75 kB; ids are compared, not matched"},
	{"sort", "reflection-based; slices are in order already"},
	{"embed", "38 kB with file systems and the clock; the catalogue is compiled in as text"},
	{"math/rand", "the same visit must give the same bytes"},
	{"doorsill/internal/record", "records know encoding/json; visittext stands between"},
	{"doorsill/internal/checklist/authoring", "it knows encoding/json; the server has checked what the browser reads"},
}

// allowedOurs are our own packages that may be in the browser.
var allowedOurs = map[string]bool{
	"doorsill/cmd/engine": true, "doorsill/internal/checklist": true, "doorsill/internal/engine": true,
	"doorsill/internal/engine/strength": true, "doorsill/internal/engine/trial": true, "doorsill/internal/engine/access": true,
	"doorsill/internal/engine/advice":     true,
	"doorsill/internal/engine/provenance": true, "doorsill/internal/engine/endurance": true, "doorsill/internal/engine/passage": true, "doorsill/internal/engine/trend": true,
	"doorsill/internal/engine/readiness": true, "doorsill/internal/model": true, "doorsill/internal/strictjson": true, "doorsill/internal/decimal": true, "doorsill/internal/engine/quantity": true,
	"doorsill/internal/engine/say": true, "doorsill/internal/fields": true,
	"doorsill/internal/message": true, "doorsill/internal/phrase": true, "doorsill/internal/validation": true,
}

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
		if strings.HasPrefix(dep, "doorsill/") && !allowedOurs[dep] {
			t.Errorf("cmd/engine depends on %s, which is not part of the engine", dep)
		}
		if strings.Contains(dep, ".") {
			t.Errorf("cmd/engine depends on %s: the engine needs no library", dep)
		}
	}
}
