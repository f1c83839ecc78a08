package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"doorsill/internal/faults"
)

// TestRun reads two reports that together hold every fault, and then one of
// them alone.
func TestRun(t *testing.T) {
	dir := t.TempDir()
	paths := []string{filepath.Join(dir, "go.xml"), filepath.Join(dir, "unit.xml")}
	var reports [2]string
	held, odd := 0, 0
	for number := 1; number <= faults.Last; number++ {
		if _, excused := faults.Untested()[number]; !excused {
			held, odd = held+1, odd+number%2
			reports[number%2] += fmt.Sprintf(`<testcase name="fault %02d: held" classname="test"/>`, number)
		}
	}
	reports[0] += `<testcase name="TestDisk" classname="server"><skipped message="no disk"/></testcase>`
	for i, path := range paths {
		if err := os.WriteFile(path, []byte("<testsuites>"+reports[i]+"</testsuites>"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	var out bytes.Buffer
	if err := run(paths, &out); err != nil || !strings.Contains(out.String(), fmt.Sprintf("%d tests ran; each of %d named faults", held+1, held)) ||
		!strings.Contains(out.String(), "skipped: TestDisk (server): no disk") {
		t.Errorf("%v\n%s", err, out.String())
	}
	out.Reset()
	if err := run(paths[:1], &out); err == nil || !strings.Contains(err.Error(), fmt.Sprintf("%d of %d", odd, faults.Last)) || !strings.Contains(out.String(), "fault 07: no test") {
		t.Errorf("%v\n%s", err, out.String())
	}
	empty := filepath.Join(dir, "empty.xml")
	if err := os.WriteFile(empty, []byte("<testsuites></testsuites>"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{empty, filepath.Join(dir, "none.xml")} {
		if err := run(append(paths, path), &out); err == nil || !strings.Contains(err.Error(), path) {
			t.Errorf("%s: %v", path, err)
		}
	}
}
