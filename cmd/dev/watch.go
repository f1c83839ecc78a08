package main

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/fsnotify/fsnotify"
)

// settle is how long files must be left alone before a change is told: editors
// and git write several at once.
const settle = 150 * time.Millisecond

// watcher tells of changed sources.
type watcher struct {
	root    string
	events  *fsnotify.Watcher
	changes chan []string
}

// watch begins to watch folders below root, with all that lies in them. Close
// the watcher.
func watch(root string, folders ...string) (*watcher, error) {
	events, err := fsnotify.NewWatcher()
	if err != nil {
		return nil, fmt.Errorf("watch sources: %w", err)
	}
	w := &watcher{root: root, events: events, changes: make(chan []string)}
	for _, folder := range folders {
		if err := w.add(filepath.Join(root, folder)); err != nil {
			_ = events.Close() // the first error says more
			return nil, fmt.Errorf("watch sources: %w", err)
		}
	}
	go w.gather()
	return w, nil
}

// Close ends watching.
func (w *watcher) Close() error { return w.events.Close() }

// add watches a folder and those within it: the operating system tells only of
// what lies directly in a watched one.
func (w *watcher) add(folder string) error {
	return filepath.WalkDir(folder, func(path string, entry fs.DirEntry, err error) error {
		switch {
		case err != nil || !entry.IsDir():
			return err
		case isOutside(path):
			return filepath.SkipDir
		}
		return w.events.Add(path)
	})
}

// gather collects changed files until nothing happens for a moment, and hands
// them over when the build before has ended.
func (w *watcher) gather() {
	var changed []string
	var quiet <-chan time.Time
	var ready chan []string // nil, which nobody can receive from, until quiet
	for {
		select {
		case event, open := <-w.events.Events:
			if !open {
				return
			}
			path := w.source(event)
			if path == "" {
				continue
			}
			if !slices.Contains(changed, path) {
				changed = append(changed, path)
			}
			quiet, ready = time.After(settle), nil
		case err := <-w.events.Errors: // nil once closed
			if err != nil {
				changed = append(changed, fmt.Sprintf("(%v: something else may have changed)", err))
				quiet, ready = time.After(settle), nil
			}
		case <-quiet:
			ready = w.changes
		case ready <- changed:
			changed, ready = nil, nil
		}
	}
}

// source returns the path of a changed source below root, or nothing. A new
// folder counts: files may have come into it before it was watched.
func (w *watcher) source(event fsnotify.Event) string {
	if event.Op == fsnotify.Chmod {
		return ""
	}
	path, err := filepath.Rel(w.root, event.Name)
	if err != nil {
		return ""
	}
	if made, err := os.Stat(event.Name); err == nil && made.IsDir() && event.Has(fsnotify.Create) && !isOutside(path) {
		_ = w.add(event.Name) // it may be gone again
		return filepath.ToSlash(path)
	}
	if !isSource(path) {
		return ""
	}
	return filepath.ToSlash(path)
}

// isOutside says whether nothing in a folder is a source: what is built, and
// what tests read.
func isOutside(folder string) bool {
	name := filepath.Base(folder)
	return name == "dist" || name == "testdata"
}

// isSource says whether a file goes into the program; tests do not.
func isSource(path string) bool {
	name := filepath.Base(path)
	switch filepath.Ext(name) {
	case ".go", ".ts", ".tsx", ".css", ".html", ".js", ".json", ".txt":
		return !strings.HasPrefix(name, ".") && !strings.HasSuffix(name, "_test.go") && !strings.Contains(name, ".test.")
	}
	return false
}
