package engine_test

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"doorsill/internal/engine"
)

// call is one file of a folder of testdata/vectors that is named after a
// function of text. Those of plan and trend are run by the wasm build too.
type call struct {
	Name string `json:"name"`
	// Why says by hand what the answer must be.
	Why string   `json:"why"`
	In  []string `json:"in"`
	Out string   `json:"out"`
}

func TestCalls(t *testing.T) {
	for function, answer := range map[string]func(in []string) string{
		"plan":      func(in []string) string { return engine.Plan(in[0], in[1]) },
		"trend":     func(in []string) string { return engine.Trend(in[0]) },
		"agreement": func(in []string) string { return engine.Agreement(in[0]) },
	} {
		paths, err := filepath.Glob(filepath.Join(vectorDir, function, "*.json"))
		if err != nil || len(paths) < 2 {
			t.Fatalf("found %d vectors of %s (%v), want at least 2", len(paths), function, err)
		}
		for _, path := range paths {
			data, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			var c call
			dec := json.NewDecoder(bytes.NewReader(data))
			dec.DisallowUnknownFields()
			if err := dec.Decode(&c); err != nil {
				t.Fatalf("%s: %v", path, err)
			}
			if c.Name+".json" != filepath.Base(path) || len(c.Why) < 40 {
				t.Errorf("%s: name %q, why %q", path, c.Name, c.Why)
			}
			out := answer(c.In)
			if *update {
				c.Out = out
				writeVector(t, path, c)
			} else if got := firstDifference(out, c.Out); got != "" {
				t.Errorf("%s: %s", path, got)
			}
		}
	}
}

// TestAPlanSaysWhatIsWrong: measures that cannot be, and lines of another kind.
func TestAPlanSaysWhatIsWrong(t *testing.T) {
	const chair = "chair\t1150\t650\tmid\t575\t50\t0\t0\t0"
	for in, want := range map[[2]string]string{
		{chair, "place\tp\tdoor\t0\t0\t0\t0\t0\t0\t0\t0"}:                                  "say\tClear opening of the door: expected a number from 400 to 3000 mm.",
		{chair, "place\tp\tcorner\t900\t600\t0\t0\t0\t0\t0\t0"}:                            "say\tCorridor driven out: expected",
		{chair, "place\tp\tramp\t0\t0\t0\t100\t1200\t0\t0\t0"}:                             "say\tPlan: expected a door, a corner, a corridor or a turn.",
		{"chair\t0\t650\tmid\t0\t50\t0\t0\t0", "place\tp\tdoor\t800\t0\t0\t0\t0\t0\t0\t0"}: "say\tLength of chair with feet: expected",
		{"chair\t1150", "place\tp"}:                                                        "error\tvisit text, line 1: width: expected one more field",
		{chair, chair}:                                                                     "error\tvisit text, line 2: kind: expected place, got “chair”",
		{"chair\t1150\tNaN\tmid\t0\t50\t0\t0\t0", "place\tp"}:                              "error\tvisit text, line 1: width: expected a number",
	} {
		if got := engine.Plan(in[0], in[1]); !strings.HasPrefix(got, want) {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
}
