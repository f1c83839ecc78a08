package archtest

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// mostFault is the highest number of the list of faults that a service like
// this one meets: of networks, devices, servers and large files.
const mostFault = 44

// untested are faults that nothing can be tested about, with the reason.
var untested = map[int]string{
	41: "a photo that is cut off and resumed: there are no photos yet",
	42: "a photo with a wrong checksum: there are no photos yet",
	43: "the same photo twice: there are no photos yet",
	44: "a photo before or after its event: there are no photos yet",
}

// faultName finds the names of tests: functions in Go, titles elsewhere.
var faultName = map[string]*regexp.Regexp{
	".go":  regexp.MustCompile(`(?m)^func TestFault(\d\d)\w*\(`),
	".ts":  regexp.MustCompile(`['"` + "`" + `]fault (\d\d): `),
	".mjs": regexp.MustCompile(`['"` + "`" + `]fault (\d\d): `),
}

// TestEveryFaultHasATest holds that no fault of the list is forgotten.
func TestEveryFaultHasATest(t *testing.T) {
	tested := map[string][]string{}
	root := filepath.Join("..", "..")
	for _, part := range []string{"cmd", "server", "internal", "frontend"} {
		err := filepath.WalkDir(filepath.Join(root, part), func(path string, entry fs.DirEntry, err error) error {
			name := faultName[filepath.Ext(path)]
			if err != nil || entry.IsDir() || name == nil || !strings.Contains(entry.Name(), "test.") {
				return err
			}
			text, err := os.ReadFile(path)
			for _, found := range name.FindAllSubmatch(text, -1) {
				tested[string(found[1])] = append(tested[string(found[1])], path)
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	for n := 1; n <= mostFault; n++ {
		number := fmt.Sprintf("%02d", n)
		reason, excused := untested[n]
		switch {
		case len(tested[number]) == 0 && !excused:
			t.Errorf("fault %s has no test: name one TestFault%s… or begin its title with \"fault %s: \"", number, number, number)
		case len(tested[number]) > 0 && excused:
			t.Errorf("fault %s is tested in %v and excused all the same: %s", number, tested[number], reason)
		}
		delete(tested, number)
	}
	for number, where := range tested {
		t.Errorf("%v: there is no fault %s", where, number)
	}
}
