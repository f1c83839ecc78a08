// Command faults is the last step of "make test": it reads the reports that the
// steps before it wrote, names every test that was skipped, and fails unless
// each named fault has a test that ran and passed.
//
// Usage: go run ./cmd/faults REPORT.xml...
package main

import (
	"fmt"
	"io"
	"os"

	"doorsill/internal/faults"
)

func main() {
	if err := run(os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "faults:", err)
		os.Exit(1)
	}
}

func run(reports []string, out io.Writer) error {
	var tests []faults.Test
	for _, path := range reports {
		some, err := read(path)
		if err != nil {
			return err
		}
		tests = append(tests, some...)
	}
	for _, line := range faults.Skipped(tests) {
		fmt.Fprintln(out, line)
	}
	wrong := faults.Check(tests)
	for _, line := range wrong {
		fmt.Fprintln(out, line)
	}
	if len(wrong) > 0 {
		return fmt.Errorf("%d of %d named faults are not held by the %d tests that ran", len(wrong), faults.Last, len(tests))
	}
	fmt.Fprintf(out, "%d tests ran; each of %d named faults is held by one that passed, %d have nothing to test yet.\n",
		len(tests), faults.Last-len(faults.Untested()), len(faults.Untested()))
	return nil
}

// read reads one report. A report without a test is one of a step that did not
// run.
func read(path string) ([]faults.Test, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	tests, err := faults.Read(file)
	if err == nil && len(tests) == 0 {
		err = fmt.Errorf("no test in it")
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return tests, nil
}
