package main_test

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/engine"
)

// TestSameBytesInTheBrowser compiles the engine as the browser gets it, runs it
// in node and compares every shared vector, the plausibility answers and the
// table of thresholds byte by byte with the native engine.
func TestSameBytesInTheBrowser(t *testing.T) {
	node, err := exec.LookPath("node")
	if err != nil {
		t.Fatalf("node is needed to run the engine as the browser does: %v", err)
	}
	dir := t.TempDir()
	wasm := filepath.Join(dir, "engine.wasm")
	run(t, nil, "go", "-C", "../..", "run", "./cmd/bundle", "engine", wasm)
	cases := filepath.Join(dir, "cases.json")
	writeCases(t, cases)
	out := run(t, nil, node, "--no-warnings", "testdata/vectors.mjs", wasm, cases)
	if !strings.HasSuffix(strings.TrimSpace(out), "same bytes") {
		t.Errorf("node says:\n%s", out)
	}
}

// paths lists shared vectors; fewer than least would hold by accident.
func paths(t *testing.T, least int, pattern string) []string {
	t.Helper()
	dir, err := filepath.Abs("../../testdata/vectors")
	if err != nil {
		t.Fatal(err)
	}
	list, err := filepath.Glob(filepath.Join(dir, pattern))
	if err != nil || len(list) < least {
		t.Fatalf("found %d vectors %s (%v), want at least %d", len(list), pattern, err, least)
	}
	return list
}

// plausibleCase is one call of plausible with the answer that the native engine
// gives.
type plausibleCase struct {
	What  string  `json:"what"`
	Site  string  `json:"site"`
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
	Want  string  `json:"want"`
}

func writeCases(t *testing.T, path string) {
	t.Helper()
	vectors := paths(t, 14, "*.json")
	calls := []plausibleCase{
		{What: "force", Site: "index-right", Value: 60, Unit: "gf"}, {What: "force", Site: "index-right", Value: 1.5, Unit: "gf"},
		{What: "force", Site: "chin", Value: 350, Unit: "N"}, {What: "hold", Site: "chin", Value: 130, Unit: "s"},
		{What: "force", Site: "chin", Value: -1, Unit: "gf"}, {What: "travel", Site: "nose", Value: 1, Unit: "mm"},
	}
	for i, c := range calls {
		calls[i].Want = engine.Plausible(c.What, c.Site, c.Value, c.Unit)
	}
	standard := authoring.Standard()
	data, err := json.Marshal(map[string]any{
		"checklist": map[string]any{"hash": standard.Hash(), "definition": json.RawMessage(standard.Raw())}, "vectors": vectors, "calls": append(paths(t, 4, "plan/*.json"), paths(t, 4, "trend/*.json")...),
		"plausible": calls, "thresholds": engine.Thresholds(), "measuring": measuringCases(),
	})
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
}

// measuringCase is one call of a function for the measuring screens.
type measuringCase struct {
	Call string `json:"call"`
	Text string `json:"text"`
	Want string `json:"want"`
}

func measuringCases() []measuringCase {
	repeats, drive, convert := "force\tN\t3.5\t4\t4.5\nforce\tgf\t50\t52\t420\n", "run\tindoors\trested\t300\t100\t3\t0\t2\t0\t1\t0", "N\tgf\t0.49\t1"
	return []measuringCase{
		{"repeats", repeats, engine.Repeats(repeats)}, {"run", drive, engine.Run(drive)}, {"convert", convert, engine.Convert(convert)},
		{"run", "", engine.Run("")},
	}
}

func run(t *testing.T, env []string, name string, args ...string) string {
	t.Helper()
	cmd := exec.Command(name, args...)
	cmd.Env = append(os.Environ(), env...)
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%s %s: %v\n%s", name, strings.Join(args, " "), err, out)
	}
	return string(out)
}
