package archtest

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// TestSecurityNamesTestsThatExist keeps SECURITY.md from claiming what nothing
// holds any more.
func TestSecurityNamesTestsThatExist(t *testing.T) {
	root := filepath.Join("..", "..")
	text, err := os.ReadFile(filepath.Join(root, "SECURITY.md"))
	if err != nil {
		t.Fatal(err)
	}
	there := testNames(t, root)
	named := 0
	for _, m := range regexp.MustCompile("`([^`]+)`").FindAllStringSubmatch(string(text), -1) {
		name := m[1]
		switch {
		case regexp.MustCompile(`^Test[A-Z]\w+$`).MatchString(name):
			if named++; !there[name] {
				t.Errorf("SECURITY.md names the test %s, which does not exist", name)
			}
		case regexp.MustCompile(`^[a-z]+/\S+\.(go|ts|mjs)$`).MatchString(name):
			if _, err := os.Stat(filepath.Join(root, name)); err != nil {
				t.Errorf("SECURITY.md names the file %s: %v", name, err)
			}
		}
	}
	if named < 30 {
		t.Errorf("only %d tests named: the law would hold by accident", named)
	}
}

// testNames are the names of all Go tests of the tree.
func testNames(t *testing.T, root string) map[string]bool {
	t.Helper()
	names, shape := make(map[string]bool), regexp.MustCompile(`(?m)^func (Test\w+)\(`)
	for _, part := range []string{"cmd", "internal", "server"} {
		err := filepath.WalkDir(filepath.Join(root, part), func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, "_test.go") {
				return err
			}
			src, err := os.ReadFile(path)
			for _, m := range shape.FindAllSubmatch(src, -1) {
				names[string(m[1])] = true
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return names
}
