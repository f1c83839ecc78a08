package main_test

import (
	"bytes"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// banned are packages that must not reach the browser, with the reason. What they
// weigh is how much the engine grew, compressed and stripped, by one real use of
// each alone; the Go runtime by itself is 348 kB. Every tablet fetches all of it.
var banned = []struct{ path, reason string }{
	{"fmt", "107 kB; package phrase words sentences from a catalogue"},
	{"encoding/json", "205 kB; generated code and strictjson read and write JSON"},
	{"reflect", "42 kB; what the runtime needs is internal/reflectlite"},
	{"time", "58 kB, and the program has no clock"},
	{"os", "75 kB, and the program has no files"},
	{"net", "208 kB, and the program has no network"},
	{"regexp", "98 kB; ids are compared, not matched"},
	{"embed", "36 kB with file systems and the clock; the catalogue comes as a file"},
	{"math/rand", "37 kB; math/rand/v2 from a fixed seed adds 3 kB, and the same visit must give the same bytes"},
	{"doorsill/internal/checklist/authoring", "it knows encoding/json; the server has checked what the browser reads"},
}

// allowedStandard are the packages of the standard library that ours may import
// in the browser. Together they add 12 kB where none is used yet: our own code in
// their place would weigh about as much, and have to be read and tested.
var allowedStandard = map[string]bool{
	"cmp": true, "errors": true, "maps": true, "math": true, "math/rand/v2": true, "slices": true, "strconv": true, "strings": true, "sync": true,
	"unicode/utf16": true, "unicode/utf8": true, "unsafe": true,
}

// allowedOurs are our own packages that may be in the browser, by their path below
// doorsill.
var allowedOurs = strings.Fields(`
	cmd/engine internal/tablet internal/record internal/checklist
	internal/engine internal/engine/access internal/engine/advice internal/engine/endurance internal/engine/passage
	internal/engine/provenance internal/engine/quantity internal/engine/readiness internal/engine/strength internal/engine/trend
	internal/engine/trial
	internal/decimal internal/message internal/model internal/passphrase internal/phrase internal/strictjson internal/validation
`)

func TestNothingHeavyReachesTheBrowser(t *testing.T) {
	deps := listed(t, "{{.ImportPath}}")
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

func TestOursImportLittleOfTheStandardLibrary(t *testing.T) {
	found := 0
	for _, each := range listed(t, `{{if not .Standard}}{{$p := .ImportPath}}{{range .Imports}}{{$p}}={{.}} {{end}}{{end}}`) {
		ours, imported, _ := strings.Cut(each, "=")
		if strings.HasPrefix(imported, "doorsill/") {
			continue
		}
		found++
		if !allowedStandard[imported] {
			t.Errorf("%s imports %s: measure what it adds to the engine first", ours, imported)
		}
	}
	if found < 10 {
		t.Fatalf("only %d imports listed: the rule would hold by accident", found)
	}
}

// listed returns what a template of "go list" says of every package that is in
// the browser.
func listed(t *testing.T, template string) []string {
	t.Helper()
	cmd := exec.Command("go", "list", "-deps", "-f", template, ".")
	cmd.Env = append(os.Environ(), "GOOS=wasip1", "GOARCH=wasm")
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v\n%s", err, stderr.String())
	}
	return strings.Fields(string(out))
}
