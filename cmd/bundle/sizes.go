package main

import (
	"fmt"
	"io"
	"path"
	"strings"
)

// sizes are compressed bytes, as the browser fetches them.
type sizes struct{ entry, scripts, styles, engine, argon2, precache int }

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
			if strings.HasPrefix(p, "assets/engine-") {
				s.engine += n
			} else {
				s.argon2 += n
			}
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

// report prints every size in kB of 1,000 bytes beside its goal and its limit,
// and says whether one is over its limit. A limit above its goal is a debt: bring
// it down with every cut, never up.
func report(out io.Writer, s sizes) bool {
	rows := []struct {
		name              string
		size, goal, limit int
	}{
		{"first script", s.entry, 45_000, 45_000},
		{"all scripts", s.scripts, 150_000, 150_000},
		{"styles", s.styles, 15_000, 15_000},
		{"engine (wasm)", s.engine, 520_000, 520_000},
		{"Argon2id (wasm)", s.argon2, 2_000, 2_000},
		{"whole offline copy", s.precache, 1_000_000, 1_000_000},
	}
	over := false
	fmt.Fprintf(out, "%-20s %9s %9s %9s\n", "brotli", "kB", "goal", "limit")
	for _, r := range rows {
		note := ""
		switch {
		case r.size > r.limit:
			over, note = true, "  OVER THE LIMIT"
		case r.size > r.goal:
			note = "  over the goal"
		}
		fmt.Fprintf(out, "%-20s %9.1f %9.1f %9.1f%s\n", r.name, kilo(r.size), kilo(r.goal), kilo(r.limit), note)
	}
	return over
}

func kilo(bytes int) float64 { return float64(bytes) / 1000 }
