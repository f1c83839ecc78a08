package main

import (
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"
)

func TestWatchTellsOfSourcesOnly(t *testing.T) {
	root := t.TempDir()
	write(t, root, "server/old.go")
	write(t, root, "frontend/parts/list.tsx")
	write(t, root, "embed/dist/index.html")
	w, err := watch(root, "embed", "frontend", "server")
	if err != nil {
		t.Fatal(err)
	}
	defer w.Close()
	write(t, root, "embed/dist/index.html")
	write(t, root, "server/old_test.go")
	write(t, root, "server/old.go")
	write(t, root, "server/old.go")
	write(t, root, "frontend/parts/list.tsx")
	if got, want := next(t, w), []string{"frontend/parts/list.tsx", "server/old.go"}; !slices.Equal(got, want) {
		t.Errorf("changed: %q, want %q", got, want)
	}
	write(t, root, "server/certs/new.go")
	if got := next(t, w); !slices.Contains(got, "server/certs") {
		t.Errorf("changed: %q, want the new folder server/certs among it", got)
	}
	write(t, root, "server/certs/later.go")
	if got, want := next(t, w), []string{"server/certs/later.go"}; !slices.Equal(got, want) {
		t.Errorf("changed: %q, want %q", got, want)
	}
	if err := os.Remove(filepath.Join(root, "server", "old.go")); err != nil {
		t.Fatal(err)
	}
	if got, want := next(t, w), []string{"server/old.go"}; !slices.Equal(got, want) {
		t.Errorf("after a file was removed: %q, want %q", got, want)
	}
}

func TestSourcesAreToldFromOtherFiles(t *testing.T) {
	for path, want := range map[string]bool{
		"server/open.go": true, "frontend/app/app.tsx": true, "frontend/style/index.css": true,
		"internal/checklist/authoring/standard.json": true, "internal/account/blocked.txt": true,
		"server/open_test.go": false, "frontend/app/idle.test.ts": false, "server/.#open.go": false,
		"server/open.go~": false, "README.md": false,
	} {
		if got := isSource(path); got != want {
			t.Errorf("%s is a source: %v, want %v", path, got, want)
		}
	}
}

// next waits for what has changed and returns it in order.
func next(t *testing.T, w *watcher) []string {
	t.Helper()
	select {
	case changed := <-w.changes:
		slices.Sort(changed)
		return changed
	case <-time.After(10 * time.Second):
		t.Fatal("nothing was told")
		return nil
	}
}

func write(t *testing.T, root, path string) {
	t.Helper()
	full := filepath.Join(root, filepath.FromSlash(path))
	if err := os.MkdirAll(filepath.Dir(full), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(full, []byte(path), 0o644); err != nil {
		t.Fatal(err)
	}
}
