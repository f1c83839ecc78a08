package main

import (
	"github.com/google/go-cmp/cmp"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"doorsill/internal/tablet"
)

func TestGeneratedFilesAreFresh(t *testing.T) {
	const root = "../.."
	files, err := generated(root)
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range files {
		got, err := os.ReadFile(filepath.Join(root, name))
		if err != nil {
			t.Error(err)
			continue
		}
		if diff := cmp.Diff(string(want), string(got)); diff != "" {
			t.Errorf("%s is stale; run \"go run ./cmd/bundle types\" (-want +got):\n%s", name, diff)
		}
	}
	for _, pattern := range []string{modelDir + "/*_gen.go", modelDir + "/*.schema.json", checklistDir + "/*_gen.go"} {
		there, err := filepath.Glob(filepath.Join(root, pattern))
		if err != nil || len(there) == 0 {
			t.Fatalf("no generated files like %s: %v", pattern, err)
		}
		for _, path := range there {
			if name := filepath.ToSlash(filepath.Dir(pattern)) + "/" + filepath.Base(path); files[name] == nil {
				t.Errorf("%s is not generated any more; delete it", name)
			}
		}
	}
}

// The front end is typed against ops that the program answers.
func TestEveryOpThatIsTypedIsAnswered(t *testing.T) {
	for _, op := range programOps {
		answer := string(tablet.New().Ask(op.Name, []byte("{}")))
		if strings.Contains(answer, "no such question") {
			t.Errorf("%s: %s", op.Name, answer)
		}
	}
}
