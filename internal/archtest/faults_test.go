package archtest

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"doorsill/internal/faults"
)

// testName finds the names of tests: functions in Go, titles elsewhere.
var testName = map[string]*regexp.Regexp{
	".go":  regexp.MustCompile(`(?m)^func (TestFault\w*)\(`),
	".ts":  regexp.MustCompile(`['"` + "`" + `](fault \d\d: )`),
	".mjs": regexp.MustCompile(`['"` + "`" + `](fault \d\d: )`),
}

// TestEveryFaultHasATest holds by the names of tests, and so at once, that no
// fault of the list is forgotten. That one of each really ran and passed is what
// the last step of "make test" holds, cmd/faults.
func TestEveryFaultHasATest(t *testing.T) {
	var named []faults.Test
	root := filepath.Join("..", "..")
	for _, part := range []string{"cmd", "server", "internal", "frontend"} {
		err := filepath.WalkDir(filepath.Join(root, part), func(path string, entry fs.DirEntry, err error) error {
			name := testName[filepath.Ext(path)]
			if err != nil || entry.IsDir() || name == nil || !strings.Contains(entry.Name(), "test.") {
				return err
			}
			text, err := os.ReadFile(path)
			for _, found := range name.FindAllSubmatch(text, -1) {
				named = append(named, faults.Test{Name: string(found[1]), Passed: true})
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, one := range named {
		if _, ok := faults.NumberOf(one.Name); !ok {
			t.Errorf("%s is named after no fault: a number of two digits and a capital come after TestFault", one.Name)
		}
	}
	for _, wrong := range faults.Check(named) {
		t.Error(wrong)
	}
}
