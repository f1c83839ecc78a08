package main

import (
	"fmt"
	"io"
	"path"
)

// sizes are compressed bytes, as the browser fetches them.
type sizes struct{ entry, scripts, styles, wasm, precache int }

// measure adds up what d weighs; files without a compressed twin count whole.
func measure(d *dist) sizes {
	var s sizes
	for _, p := range d.paths() {
		n := d.weight(p)
		switch path.Ext(p) {
		case ".js":
			s.scripts += n
		case ".css":
			s.styles += n
		case ".wasm":
			s.wasm += n
		}
		if p != "sw.js" {
			s.precache += n
		}
	}
	for _, p := range d.entry {
		s.entry += d.weight(p)
	}
	return s
}

func (d *dist) weight(p string) int {
	if t, ok := d.small[p]; ok {
		return len(t.brotli)
	}
	return len(d.files[p])
}

// report prints every size beside its budget in kB of 1,000 bytes and says
// whether one is over.
func report(out io.Writer, s sizes) bool {
	rows := []struct {
		name         string
		size, budget int
	}{
		{"first script", s.entry, 45_000},
		{"all scripts", s.scripts, 120_000},
		{"styles", s.styles, 15_000},
		{"engine (wasm)", s.wasm, 520_000},
		{"whole offline copy", s.precache, 1_000_000},
	}
	over := false
	fmt.Fprintf(out, "%-20s %9s %9s\n", "brotli", "kB", "budget")
	for _, r := range rows {
		note := ""
		if r.size > r.budget {
			over, note = true, "  OVER"
		}
		fmt.Fprintf(out, "%-20s %9.1f %9.1f%s\n", r.name, float64(r.size)/1000, float64(r.budget)/1000, note)
	}
	return over
}
