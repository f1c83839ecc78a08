package authoring_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"doorsill/internal/checklist"
	"doorsill/internal/checklist/authoring"
)

var update = flag.Bool("update", false, "write what the parser says beside the files in testdata")

const data = "../../../testdata/checklist"

// files lists the definitions of one folder of testdata/checklist: good ones,
// bad ones, and ones that are beyond what a JSON Schema can find.
func files(t testing.TB, folder string) []string {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join(data, folder, "*.json"))
	if err != nil || len(paths) == 0 {
		t.Fatalf("no files in %s: %v", folder, err)
	}
	return paths
}

func read(t testing.TB, path string) []byte {
	t.Helper()
	content, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return content
}

func TestGoodFilesAreRead(t *testing.T) {
	for _, path := range files(t, "good") {
		content := read(t, path)
		d, err := authoring.Parse(filepath.Base(path), content)
		if err != nil {
			t.Errorf("%v", err)
			continue
		}
		sum := sha256.Sum256(content)
		if !bytes.Equal(d.Raw(), content) || d.Hash() != hex.EncodeToString(sum[:]) {
			t.Errorf("%s: hash %q and bytes are not those of the file", path, d.Hash())
		}
		readsLikeTheStandardLibrary(t, d)
	}
	readsLikeTheStandardLibrary(t, authoring.Standard())
}

// readsLikeTheStandardLibrary checks the generated reading. The standard library
// refuses 2.0 for a whole number, which JSON Schema and we do not.
func readsLikeTheStandardLibrary(t *testing.T, d *checklist.Definition) {
	t.Helper()
	var want checklist.Definition
	var wrong *json.UnmarshalTypeError
	if err := json.Unmarshal(d.Raw(), &want); errors.As(err, &wrong) && strings.HasPrefix(wrong.Value, "number") {
		return
	} else if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(&want, d, cmpopts.IgnoreUnexported(checklist.Definition{})); diff != "" {
		t.Errorf("%s: -the standard library +read\n%s", d.ID, diff)
	}
}

func TestAWholeNumberMayBeWrittenWithAFraction(t *testing.T) {
	content := strings.NewReplacer(`"weight": 3`, `"weight": 3.0`, `{"bands": [4]}`, `{"bands": [40e-1]}`).Replace(string(read(t, data+"/good/kitchen.json")))
	d, err := authoring.Parse("kitchen.json", []byte(content))
	if err != nil {
		t.Fatal(err)
	}
	if weight, bands := d.Item("kit-cooker").Weight, d.Item("kit-sides").Effects[0].When[0].Bands; weight != 3 || len(bands) != 1 || bands[0] != 4 {
		t.Errorf("weight %d, bands %v", weight, bands)
	}
}

// Beside each bad file stands what the person is told about it.
func TestBadFilesAreExplained(t *testing.T) {
	for _, path := range append(files(t, "bad"), files(t, "beyond")...) {
		t.Run(filepath.Base(path), func(t *testing.T) {
			d, err := authoring.Parse(filepath.Base(path), read(t, path))
			var problems authoring.Problems
			if d != nil || !errors.As(err, &problems) {
				t.Fatalf("accepted: %v", err)
			}
			golden := strings.TrimSuffix(path, ".json") + ".txt"
			got := problems.Error() + "\n"
			if *update {
				if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			if diff := cmp.Diff(string(read(t, golden)), got); diff != "" {
				t.Errorf("-want +got\n%s", diff)
			}
		})
	}
}

func TestALineIsNamedInOneSentence(t *testing.T) {
	p := authoring.Problem{File: "standard.json", Line: 41, Field: "items[3].weight", Want: "1, 2 or 3", Got: "7"}
	if got, want := p.String(), "standard.json:41: items[3].weight: expected 1, 2 or 3, got 7"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestAHugeFileIsRefused(t *testing.T) {
	_, err := authoring.Parse("huge.json", bytes.Repeat([]byte(" "), 1<<20+1))
	if err == nil || !strings.Contains(err.Error(), "expected a file of at most 1 MiB") {
		t.Errorf("got %v", err)
	}
}

func TestBytesThatAreNoTextAreFound(t *testing.T) {
	_, err := authoring.Parse("odd.json", []byte("{\n\"title\": \"\xff\"}"))
	if err == nil || !strings.HasPrefix(err.Error(), "odd.json:2: expected UTF-8") {
		t.Errorf("got %v", err)
	}
}

func FuzzParse(f *testing.F) {
	for _, folder := range []string{"good", "bad", "beyond"} {
		for _, path := range files(f, folder) {
			f.Add(read(f, path))
		}
	}
	s := schema(f)
	f.Fuzz(func(t *testing.T, content []byte) {
		d, _, err := authoring.Check("fuzz.json", content)
		var problems authoring.Problems
		if err != nil && (!errors.As(err, &problems) || len(problems) == 0) {
			t.Fatalf("an error that names no problem: %v", err)
		}
		lines := 1 + bytes.Count(content, []byte("\n"))
		for _, p := range problems {
			if p.Line < 1 || p.Line > lines || strings.Contains(p.String(), "\n") {
				t.Fatalf("%q in a file of %d lines", p.String(), lines)
			}
		}
		if err != nil {
			return
		}
		readsLikeTheStandardLibrary(t, d)
		if err := accepts(s, content); err != nil {
			t.Fatalf("the schema is stricter than the parser: %v", err)
		}
	})
}
