package phrase_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"doorsill/internal/phrase"
)

// TestEnglishTextHoldsEveryFile: the browser is given one text, and must find in
// it what the folder holds, line by line, but comments and empty lines.
func TestEnglishTextHoldsEveryFile(t *testing.T) {
	paths, err := filepath.Glob(filepath.Join("en", "*.txt"))
	if err != nil || len(paths) < 10 {
		t.Fatalf("found %d files (%v)", len(paths), err)
	}
	var want []string
	for _, path := range paths {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.HasSuffix(string(text), "\n") {
			t.Errorf("the last line of %s would go into the next file", path)
		}
		for _, line := range strings.Split(string(text), "\n") {
			if line != "" && line[0] != '#' {
				want = append(want, line)
			}
		}
	}
	if got := strings.Split(strings.TrimSuffix(phrase.EnglishText(), "\n"), "\n"); !slices.Equal(got, want) {
		t.Errorf("the text has %d lines, the files have %d", len(got), len(want))
	}
}
