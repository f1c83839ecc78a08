package main

import (
	"embed"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// Lines of known/<name>.txt are "function: change // reason". They name no line
// of the source, so that they hold when something is moved.
//
//go:embed known
var knownFiles embed.FS

// readKnown returns the reasons by what survives.
func readKnown(name string) (map[string]string, error) {
	path := "known/" + name + ".txt"
	data, err := knownFiles.ReadFile(path)
	if err != nil {
		return nil, err
	}
	known := map[string]string{}
	for i, line := range strings.Split(string(data), "\n") {
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		at := strings.LastIndex(line, " // ")
		if at < 0 || strings.TrimSpace(line[at+4:]) == "" {
			return nil, fmt.Errorf("%s:%d: expected \"function: change // reason\"", path, i+1)
		}
		known[line[:at]] = line[at+4:]
	}
	return known, nil
}

// name is what a change is called in known/.
func (m *mutant) name() string { return m.fn + ": " + m.what }

// numberAlike tells changes of one name in one function apart.
func numberAlike(mutants []mutant) {
	seen := map[string]int{}
	for i := range mutants {
		name := mutants[i].name()
		if seen[name]++; seen[name] > 1 {
			mutants[i].what += fmt.Sprintf(" #%d", seen[name])
		}
	}
}

// print lists the survivors that are not known and returns how many there are.
// After a whole run it also says which of the known ones are none any more.
func (r *result) print(out io.Writer, whole bool) (unknown int) {
	for i := range r.survivors {
		m := &r.survivors[i]
		if _, ok := r.known[m.name()]; !ok {
			unknown++
			note := ""
			if m.unreached {
				note = noCase
			}
			fmt.Fprintf(out, "%s/%s:%d: %s%s\n", r.pkg, filepath.Base(m.file), m.line, m.name(), note)
		}
	}
	if whole {
		for name := range r.known {
			if !slices.ContainsFunc(r.survivors, func(m mutant) bool { return m.name() == name }) {
				fmt.Fprintf(out, "known/%s.txt: survives no more, take it out: %s\n", r.name, name)
			}
		}
	}
	fmt.Fprintf(out, "%s: %d changes, %d noticed, %d survive (%d of them known, %d have no case in any test); %v\n", r.name, r.changes,
		r.changes-len(r.survivors), len(r.survivors), len(r.survivors)-unknown, r.unreached, r.took.Round(time.Second))
	return unknown
}
