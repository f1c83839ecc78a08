package main

import (
	"cmp"
	"slices"
)

// edit puts text in the place of a part of a file. Edits of nested expressions
// only insert before and after, so that each can be made without the others.
type edit struct {
	from, to int
	text     string
	// order is of insertions at one place: what ends comes before what
	// begins, an inner end before an outer one.
	order int
}

// apply returns the text with all edits made.
func apply(text []byte, edits []edit) []byte {
	slices.SortStableFunc(edits, func(a, b edit) int {
		return cmp.Or(cmp.Compare(a.from, b.from), cmp.Compare(a.order, b.order))
	})
	var out []byte
	at := 0
	for _, e := range edits {
		out = append(out, text[at:e.from]...)
		out = append(out, e.text...)
		at = e.to
	}
	return append(out, text[at:]...)
}
