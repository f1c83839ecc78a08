package main

import (
	"fmt"
	"io"
	"path"
	"strings"
)

// sizes are compressed bytes, as the browser fetches them.
type sizes struct{ entry, scripts, styles, engine, argon2, catalogue, faces, precache int }

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
		case ".txt":
			if p != licences {
				s.catalogue += n
			}
		case ".woff2":
			s.faces += n
		}
		if keptOffline(p) {
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

// report prints every size in kB of 1,000 bytes beside its budget, and says
// whether one is over it. A tablet may have to fetch all of it over a slow
// connection before its first visit.
func report(out io.Writer, s sizes) bool {
	rows := []struct {
		name         string
		size, budget int
	}{
		{"first script", s.entry, 45_000},
		// Drawings, the parts of the split view and forms that lose nothing are scripts too.
		{"all scripts", s.scripts, 200_000},
		{"styles", s.styles, 20_000},
		{"engine (wasm)", s.engine, 900_000},
		{"Argon2id (wasm)", s.argon2, 2_000},
		{"catalogue (en)", s.catalogue, 25_000},
		{"faces", s.faces, 100_000},
		{"whole offline copy", s.precache, 1_200_000},
	}
	over := false
	fmt.Fprintf(out, "%-20s %9s %9s\n", "brotli", "kB", "budget")
	for _, r := range rows {
		note := ""
		if r.size > r.budget {
			over, note = true, "  OVER BUDGET"
		}
		fmt.Fprintf(out, "%-20s %9.1f %9.1f%s\n", r.name, kilo(r.size), kilo(r.budget), note)
	}
	return over
}

func kilo(bytes int) float64 { return float64(bytes) / 1000 }
