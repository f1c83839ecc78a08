package main

import (
	_ "embed"
	"encoding/json"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// switchboard is the file that is added to the changed package. It has what the
// edits call, and knows which change is on.
//
//go:embed switchboard.go.txt
var switchboard string

// overlay writes the edited files to a folder, and the file that has the go
// command read them in the place of what is on the disk.
func (f *finder) overlay(dir string) (path string, err error) {
	replaced := map[string]string{}
	put := func(original string, text []byte) error {
		to := filepath.Join(dir, filepath.Base(original))
		replaced[original] = to
		return os.WriteFile(to, text, 0o600)
	}
	for i := range f.files {
		one := &f.files[i]
		if err := put(one.path, apply(one.text, f.edits[one.path])); err != nil {
			return "", err
		}
	}
	added := strings.NewReplacer("PACKAGE", f.name, "COUNT", strconv.Itoa(len(f.mutants))).Replace(switchboard)
	if err := put(filepath.Join(f.dir, "mutant__switchboard.go"), []byte(added)); err != nil {
		return "", err
	}
	data, err := json.Marshal(map[string]any{"Replace": replaced})
	if err != nil {
		return "", err
	}
	path = filepath.Join(dir, "overlay.json")
	return path, os.WriteFile(path, data, 0o600)
}
