package phrase_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"doorsill/internal/phrase"
)

// TestEnglishTextHoldsEveryFile: the browser is given one text, and must find in
// it what the folder holds, line by line.
func TestEnglishTextHoldsEveryFile(t *testing.T) {
	paths, err := filepath.Glob(filepath.Join("en", "*.txt"))
	if err != nil || len(paths) < 10 {
		t.Fatalf("found %d files (%v)", len(paths), err)
	}
	all, size := phrase.EnglishText(), 0
	for _, path := range paths {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.HasSuffix(string(text), "\n") || !strings.Contains(all, string(text)) {
			t.Errorf("%s is not in the text, or its last line goes into the next file", path)
		}
		size += len(text)
	}
	if len(all) != size {
		t.Errorf("the text has %d bytes, the files have %d", len(all), size)
	}
}
