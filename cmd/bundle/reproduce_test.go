package main

import (
	"bytes"
	"encoding/json"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"testing"
	"time"
)

// TestTheBundleDoesNotDependOnWhereItIsMade bundles and compresses the front end
// twice: here, and from a copy in another folder, with files of another age, on
// one processor. cmd/reproduce tries the whole program so.
func TestTheBundleDoesNotDependOnWhereItIsMade(t *testing.T) {
	here, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	there := filepath.Join(t.TempDir(), "a folder with a longer name")
	for _, part := range append([]string{"frontend"}, packages(t, here)...) {
		if err := os.CopyFS(filepath.Join(there, part), os.DirFS(filepath.Join(here, part))); err != nil {
			t.Fatal(err)
		}
	}
	err = filepath.WalkDir(there, func(path string, _ os.DirEntry, err error) error {
		if err != nil {
			return err
		}
		return os.Chtimes(path, time.Time{}, time.Unix(1e9, 0))
	})
	if err != nil {
		t.Fatal(err)
	}
	a := frontEnd(t, here)
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	b := frontEnd(t, there)
	if x, y := a.paths(), b.paths(); !slices.Equal(x, y) || len(x) < 15 {
		t.Fatalf("%v here and %v there", x, y)
	}
	if a.buildID() != b.buildID() {
		t.Error("the same sources have two build ids")
	}
	for _, path := range a.paths() {
		same := bytes.Equal(a.files[path], b.files[path]) && bytes.Equal(a.small[path].brotli, b.small[path].brotli) && bytes.Equal(a.small[path].gzip, b.small[path].gzip)
		if !same {
			t.Errorf("%s differs", path)
		}
	}
}

// frontEnd is what is made of the front end in a folder, but for the engine.
func frontEnd(t *testing.T, root string) *dist {
	t.Helper()
	d, names := newDist(), map[string]string{"ENGINE_WASM": "/assets/engine.wasm", "CATALOGUE_EN": "/assets/catalogue.txt"}
	if err := addArgon2(d, root, names); err != nil {
		t.Fatal(err)
	}
	if err := bundleWorkers(d, root, names); err != nil {
		t.Fatal(err)
	}
	p, err := bundleApp(d, root, names)
	if err != nil {
		t.Fatal(err)
	}
	for _, step := range []func() error{
		func() error { return addIcons(d) },
		func() error { return addPage(d, root, p) },
		func() error { return addServiceWorker(d, root) },
		func() error { return d.compress(cache{dir: t.TempDir()}) },
	} {
		if err := step(); err != nil {
			t.Fatal(err)
		}
	}
	if len(names) != 6 {
		t.Errorf("the page is told of %v", slices.Sorted(maps.Keys(names)))
	}
	return d
}

// packages are the folders of what the front end takes from others.
func packages(t *testing.T, root string) (folders []string) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(root, "package-lock.json"))
	if err != nil {
		t.Fatal(err)
	}
	var list struct {
		Packages map[string]struct{ Dev, Optional bool }
	}
	if err := json.Unmarshal(text, &list); err != nil {
		t.Fatal(err)
	}
	for folder, about := range list.Packages {
		if folder != "" && !about.Dev && !about.Optional {
			folders = append(folders, folder)
		}
	}
	return folders
}
