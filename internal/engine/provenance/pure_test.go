package provenance_test

import (
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// TestTheFormulasStayPure keeps out of these packages what must not go into
// the browser or would make a result depend on the machine or the day.
func TestTheFormulasStayPure(t *testing.T) {
	allowed := []string{"math", "strconv", "strings", "doorsill/internal/decimal", "doorsill/internal/message", "doorsill/internal/engine/provenance",
		"doorsill/internal/model"} // plain structs; the laws of imports keep JSON, fmt and clock out of it
	for _, dir := range []string{".", "../endurance", "../passage", "../trend"} {
		files, err := filepath.Glob(filepath.Join(dir, "*.go"))
		if err != nil || len(files) == 0 {
			t.Fatalf("%s: no files (%v)", dir, err)
		}
		for _, name := range files {
			if strings.HasSuffix(name, "_test.go") {
				continue
			}
			f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
			if err != nil {
				t.Fatal(err)
			}
			for _, imp := range f.Imports {
				if imp.Path.Value == `"math/rand/v2"` && (filepath.Base(name) == "weakest.go" || filepath.Base(name) == "trials.go") {
					seeded(t, name)
					continue
				}
				if path, err := strconv.Unquote(imp.Path.Value); err != nil || !slices.Contains(allowed, path) {
					t.Errorf("%s imports %s: no I/O, clock, fmt, JSON or reflection in the formulas", name, imp.Path.Value)
				}
			}
		}
	}
}

// seeded wants that what is drawn begins at a fixed seed: nothing may come from
// the generator that the runtime seeds by chance.
func seeded(t *testing.T, name string) {
	t.Helper()
	source, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	for _, use := range regexp.MustCompile(`rand\.\w+`).FindAllString(string(source), -1) {
		if !slices.Contains([]string{"rand.New", "rand.NewPCG", "rand.Rand"}, use) {
			t.Errorf("%s uses %s: only what a fixed seed gives is the same everywhere", name, use)
		}
	}
}
