// Package quantity is a number with where it came from: what every package of
// the engine hands to the next and, in the end, to the reader.
package quantity

import (
	"doorsill/internal/decimal"
	"doorsill/internal/message"
)

// Origin says how a quantity came about.
type Origin uint8

const (
	// Missing: nothing was measured, or not enough. The quantity has no value.
	Missing Origin = iota
	// Measured: computed from readings, runs and the set-up alone.
	Measured
	// Assumed: an assumption stands in for a reading, and the message says so.
	Assumed
	// NotAsked: the quantity has no meaning for this control, such as the force
	// reserve of a control that asks no force. The quantity has no value.
	NotAsked
)

// Quantity is one computed number.
type Quantity struct {
	// Name is the id of the quantity, such as "reserve".
	Name string
	// Site and Direction say where, or are empty.
	Site, Direction string
	// Value is in Unit: gf, mm, s, %, ratio, count or a rate. It has a meaning
	// only when Has reports true.
	Value  decimal.Micro
	Unit   string
	Origin Origin
	// Thin marks a value that rests on too little and can only get worse: it
	// counts where it already is the worst, and is missing otherwise.
	Thin bool
	// Say explains the quantity, with numbers and units; for a missing one it
	// says what is needed.
	Say message.Message
}

// Has reports whether the quantity has a value.
func (f *Quantity) Has() bool { return f.Origin == Measured || f.Origin == Assumed }

// Word returns the origin as the result text writes it: a thin quantity is
// missing there.
func (f *Quantity) Word() string {
	switch {
	case f.Thin:
		return "missing"
	case f.Origin == Measured:
		return "measured"
	case f.Origin == Assumed:
		return "assumed"
	}
	return "missing"
}

// Begin makes the quantity a new one without a value.
func (f *Quantity) Begin(name, site, unit string, say message.Message) {
	*f = Quantity{Name: name, Site: site, Unit: unit, Say: say}
}

// Conclude gives the quantity its value.
func (f *Quantity) Conclude(origin Origin, value decimal.Micro, say message.Message) {
	f.Origin, f.Value, f.Say = origin, value, say
}
