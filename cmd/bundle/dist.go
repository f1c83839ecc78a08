package main

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"
	"sort"
)

// dist is everything that will stand in embed/dist, by path.
type dist struct {
	files map[string][]byte
	// small holds the compressed twins of files.
	small map[string]twins
	// entry lists the scripts that the first page needs.
	entry []string
}

type twins struct{ brotli, gzip []byte }

func newDist() *dist {
	return &dist{files: map[string][]byte{}, small: map[string]twins{}}
}

// paths returns the files' paths in order.
func (d *dist) paths() []string {
	paths := make([]string, 0, len(d.files))
	for p := range d.files {
		paths = append(paths, p)
	}
	sort.Strings(paths)
	return paths
}

// buildID names this very content: equal files give equal ids.
func (d *dist) buildID() string {
	h := sha256.New()
	for _, p := range d.paths() {
		fmt.Fprintf(h, "%s %x\n", p, sha256.Sum256(d.files[p]))
	}
	return hex.EncodeToString(h.Sum(nil))[:16]
}

// addHashed stores data under assets/ with its content hash in the name and
// returns its URL.
func (d *dist) addHashed(name, ext string, data []byte) string {
	sum := sha256.Sum256(data)
	p := fmt.Sprintf("assets/%s-%s%s", name, hex.EncodeToString(sum[:])[:10], ext)
	d.files[p] = data
	return "/" + p
}

// write replaces embed/dist, all but its .keep file.
func (d *dist) write(root string) error {
	dir := filepath.Join(root, "embed", "dist")
	if err := emptyFolder(dir); err != nil {
		return fmt.Errorf("empty %s: %w", dir, err)
	}
	for p, data := range d.files {
		if err := put(dir, p, data); err != nil {
			return err
		}
		if t, ok := d.small[p]; ok {
			if err := put(dir, p+".br", t.brotli); err != nil {
				return err
			}
			if err := put(dir, p+".gz", t.gzip); err != nil {
				return err
			}
		}
	}
	return nil
}

func put(dir, path string, data []byte) error {
	full := filepath.Join(dir, filepath.FromSlash(path))
	if err := os.MkdirAll(filepath.Dir(full), 0o755); err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	if err := os.WriteFile(full, data, 0o644); err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	return nil
}

func emptyFolder(dir string) error {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return err
	}
	for _, e := range entries {
		if e.Name() == ".keep" {
			continue
		}
		if err := os.RemoveAll(filepath.Join(dir, e.Name())); err != nil {
			return err
		}
	}
	return nil
}
