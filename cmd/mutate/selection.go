package main

import (
	"os"
	"strings"
)

// selection is which changes are asked for.
type selection struct {
	// only is a part of a function's name, or files.
	only string
	// named are the names of changes; nil is all.
	named map[string]bool
}

func (s selection) has(name string) bool { return s.named == nil || s.named[name] }

// whole says whether all changes of a package are asked for.
func (s selection) whole() bool { return s.only == "" && s.named == nil }

// noCase is said of a change that no test comes to.
const noCase = " (no test has a case for it)"

// namesIn reads the names of the changes in what a run has printed. Other lines
// name nothing.
func namesIn(path string) (map[string]bool, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	names := map[string]bool{}
	for line := range strings.Lines(string(text)) {
		if _, name, ok := strings.Cut(strings.TrimSpace(line), ": "); ok {
			names[strings.TrimSuffix(name, noCase)] = true
		}
	}
	return names, nil
}
