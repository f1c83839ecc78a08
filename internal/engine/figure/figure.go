// Package figure is a number with where it came from: what every package of
// the engine hands to the next and, in the end, to the reader.
package figure

import "doorsill/internal/engine/decimal"

// Basis says how a figure came about.
type Basis uint8

const (
	// Missing: nothing was measured, or not enough. The figure has no value.
	Missing Basis = iota
	// Measured: computed from readings, runs and the set-up alone.
	Measured
	// Assumed: an assumption stands in for a reading, and the sentence says so.
	Assumed
	// NotAsked: the figure has no meaning for this control, such as the force
	// reserve of a control that asks no force. The figure has no value.
	NotAsked
)

// Figure is one computed number.
type Figure struct {
	// Name is the id of the figure, such as "reserve".
	Name string
	// Site and Direction say where, or are empty.
	Site, Direction string
	// Value is in Unit: gf, mm, s, %, ratio, count or a rate. It has a meaning
	// only when Has reports true.
	Value decimal.Micro
	Unit  string
	Basis Basis
	// Thin marks a value that rests on too little and can only get worse: it
	// counts where it already is the worst, and is missing otherwise.
	Thin bool
	// Say explains the figure in one sentence, with numbers and units; for a
	// missing one it says what is needed.
	Say string
}

// Has reports whether the figure has a value.
func (f *Figure) Has() bool { return f.Basis == Measured || f.Basis == Assumed }

// Word returns the basis as the result text writes it: a thin figure is
// missing there.
func (f *Figure) Word() string {
	switch {
	case f.Thin:
		return "missing"
	case f.Basis == Measured:
		return "measured"
	case f.Basis == Assumed:
		return "assumed"
	}
	return "missing"
}

// Begin makes the figure a new one without a value.
func (f *Figure) Begin(name, site, unit, say string) {
	*f = Figure{Name: name, Site: site, Unit: unit, Say: say}
}

// Conclude gives the figure its value.
func (f *Figure) Conclude(basis Basis, value decimal.Micro, say string) {
	f.Basis, f.Value, f.Say = basis, value, say
}
