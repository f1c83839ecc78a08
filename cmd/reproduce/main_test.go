package main

import (
	"os"
	"path/filepath"
	"slices"
	"testing"
)

func TestOneByteIsADifference(t *testing.T) {
	files := func(program, page, more string) map[string]string {
		folder := t.TempDir()
		for path, text := range map[string]string{program: "program", "embed/dist/index.html": page, "embed/dist/assets/" + more: "more"} {
			full := filepath.Join(folder, path)
			if err := os.MkdirAll(filepath.Dir(full), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(full, []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		sums, err := sumsOf(folder)
		if err != nil {
			t.Fatal(err)
		}
		return sums
	}
	a := files(program, "page", "x.js")
	if got := compare(a, files(program, "page", "x.js")); len(got) != 0 || len(a) != 3 {
		t.Errorf("the same files differ in %v", got)
	}
	want := []string{"embed/dist/assets/x.js", "embed/dist/assets/y.js", "embed/dist/index.html"}
	if got := compare(a, files(program, "pagf", "y.js")); !slices.Equal(got, want) {
		t.Errorf("found %v, want %v", got, want)
	}
	if _, err := sumsOf(t.TempDir()); err == nil {
		t.Error("a folder without a program has sums")
	}
}
