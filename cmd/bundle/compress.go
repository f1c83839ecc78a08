package main

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"path"
	"path/filepath"

	"github.com/andybalholm/brotli"
)

// compressible are the kinds of file that shrink; PNG is compressed already.
var compressible = map[string]bool{
	".js": true, ".css": true, ".html": true, ".txt": true, ".svg": true, ".wasm": true, ".webmanifest": true, ".json": true,
}

// compress makes the twins of every file that shrinks, once for each content.
func (d *dist) compress(c cache) error {
	for _, p := range d.paths() {
		if !compressible[path.Ext(p)] {
			continue
		}
		br, err := c.keep(d.files[p], "br24", brotliBest)
		if err != nil {
			return fmt.Errorf("compress %s: %w", p, err)
		}
		gz, err := c.keep(d.files[p], "gz", gzipBest)
		if err != nil {
			return fmt.Errorf("compress %s: %w", p, err)
		}
		d.small[p] = twins{brotli: br, gzip: gz}
	}
	return nil
}

func brotliBest(data []byte) ([]byte, error) {
	var out bytes.Buffer
	// The engine is longer than the usual window of 4 MB; 16 MB is the most that every browser reads.
	w := brotli.NewWriterOptions(&out, brotli.WriterOptions{Quality: brotli.BestCompression, LGWin: 24})
	if _, err := w.Write(data); err != nil {
		return nil, err
	}
	err := w.Close()
	return out.Bytes(), err
}

func gzipBest(data []byte) ([]byte, error) {
	var out bytes.Buffer
	w, err := gzip.NewWriterLevel(&out, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(data); err != nil {
		return nil, err
	}
	err = w.Close()
	return out.Bytes(), err
}

// cache keeps slow results between builds in .cache, named by what they were
// made from. Deleting the folder is always safe.
type cache struct{ dir string }

func newCache(root string) cache {
	return cache{dir: filepath.Join(root, ".cache", "bundle")}
}

// keep returns transform(data), from the cache when it was made before.
func (c cache) keep(data []byte, ext string, transform func([]byte) ([]byte, error)) ([]byte, error) {
	sum := sha256.Sum256(data)
	name := hex.EncodeToString(sum[:]) + "." + ext
	return c.named(name, func() ([]byte, error) { return transform(data) })
}

// named returns what stands under name, or makes it and keeps it there.
func (c cache) named(name string, create func() ([]byte, error)) ([]byte, error) {
	file := filepath.Join(c.dir, name)
	if had, err := os.ReadFile(file); err == nil {
		return had, nil
	}
	data, err := create()
	if err != nil {
		return nil, err
	}
	if err := os.MkdirAll(c.dir, 0o755); err != nil {
		return nil, fmt.Errorf("make cache: %w", err)
	}
	// Written beside and renamed, so that a stopped build leaves no half file.
	beside := file + ".part"
	if err := os.WriteFile(beside, data, 0o644); err != nil {
		return nil, fmt.Errorf("keep %s: %w", name, err)
	}
	return data, os.Rename(beside, file)
}
