package engine_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/checklist/authoring"
	"doorsill/internal/engine"
	"doorsill/internal/engine/enginetest"
	"doorsill/internal/model"
)

var update = flag.Bool("update", false, "write the results of the shared vectors anew; read the diff")

// vector is one file of testdata/vectors. The same files are run by the wasm
// build.
type vector struct {
	Name string `json:"name"`
	// Why says by hand what the result must be.
	Why string `json:"why"`
	// Checklist is nil for the version of the standard checklist that the visit
	// is pinned to.
	Checklist *ownChecklist `json:"checklist,omitempty"`
	Visit     model.Visit   `json:"visit"`
	// Result is the result as package enginetest writes it.
	Result string `json:"result"`
}

// ownChecklist is what the page tells the program in the browser of a checklist.
// The hash stands for itself, so that a change of spacing does not change it.
type ownChecklist struct {
	Hash       string          `json:"hash"`
	Definition json.RawMessage `json:"definition"`
}

const vectorDir = "../../testdata/vectors"

func vectors(t testing.TB) []string {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join(vectorDir, "*.json"))
	if err != nil || len(paths) < 14 {
		t.Fatalf("found %d vectors (%v), want at least 14", len(paths), err)
	}
	return paths
}

func readVector(t testing.TB, path string) vector {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var v vector
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&v); err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	return v
}

func (v vector) list(t testing.TB) *checklist.Definition {
	t.Helper()
	if v.Checklist == nil {
		list := authoring.StandardVersion(v.Visit.Checklist.Hash)
		if list == nil {
			t.Fatalf("no standard checklist has the hash %s: standard.json was changed without its bytes of before in authoring/earlier", v.Visit.Checklist.Hash)
		}
		return list
	}
	if _, err := authoring.Parse("checklist", v.Checklist.Definition); err != nil {
		t.Fatalf("nobody could write this checklist: %v", err)
	}
	list, err := checklist.Read(v.Checklist.Definition, v.Checklist.Hash)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

func TestVectors(t *testing.T) {
	for _, path := range vectors(t) {
		v := readVector(t, path)
		t.Run(v.Name, func(t *testing.T) {
			if want := v.Name + ".json"; filepath.Base(path) != want {
				t.Errorf("file %s holds %q", filepath.Base(path), v.Name)
			}
			if len(v.Why) < 40 {
				t.Error("the vector does not say why its result is right")
			}
			result := resultText(t, v.list(t), &v.Visit)
			if *update {
				v.Result = result
				writeVector(t, path, v)
				return
			}
			if got := firstDifference(result, v.Result); got != "" {
				t.Error(got)
			}
		})
	}
}

// TestThePresentChecklistHasAVector: the other vectors stay with the versions
// that their visits were started with.
func TestThePresentChecklistHasAVector(t *testing.T) {
	present := authoring.Standard()
	for _, path := range vectors(t) {
		if v := readVector(t, path); v.Checklist == nil && v.Visit.Checklist.Hash == present.Hash() {
			return
		}
	}
	t.Errorf("no vector names standard %s with the hash %s: write one for what is new in it", present.Version, present.Hash())
}

// resultText scores a visit and writes the result as lines.
func resultText(t testing.TB, definition *checklist.Definition, visit *model.Visit) string {
	t.Helper()
	result, err := engine.New(definition).Score(visit)
	if err != nil {
		t.Fatal(err)
	}
	return string(enginetest.Result(&result, definition))
}

func writeVector(t *testing.T, path string, v any) {
	t.Helper()
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(v); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// firstDifference names the first line in which two texts differ.
func firstDifference(got, want string) string {
	if got == want {
		return ""
	}
	g, w := bytes.Split([]byte(got), []byte("\n")), bytes.Split([]byte(want), []byte("\n"))
	for i := range g {
		if i >= len(w) {
			return "one line more than expected: " + string(g[i])
		}
		if !bytes.Equal(g[i], w[i]) {
			return "line differs\n got " + string(g[i]) + "\nwant " + string(w[i])
		}
	}
	return "lines are missing at the end"
}
