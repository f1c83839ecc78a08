// Package provenance is what a number rests on: the formula it came from, who
// published it and how sure we are of that, and the refusal that stands in
// for a number that cannot be had.
package provenance

import "doorsill/internal/message"

// Status is how well a formula or a number is founded: an entry "status." of the
// catalogue.
type Status string

const (
	// Published: read in the named source, or in a copy that quotes it.
	Published Status = "published"
	// FromMemory: recalled, not read. To be confirmed before it is relied on.
	FromMemory Status = "from-memory"
	// Practice: what the trade does, without a source.
	Practice Status = "practice"
	// Derived: worked out here from geometry or physics and checked by
	// brute-force search in the tests.
	Derived Status = "derived"
	// Proposal: our own, not validated.
	Proposal Status = "proposal"
)

// Statuses lists every status, the best founded first.
func Statuses() []Status {
	return []Status{Published, Derived, Practice, FromMemory, Proposal}
}

// Message states a status; borrowed is as in Provenance.
func (s Status) Message(borrowed bool) message.Message {
	status := message.Word("status", string(s))
	if borrowed {
		return message.New("provenance.status-borrowed", status)
	}
	return message.New("provenance.status", status)
}

// Provenance goes with a number so that the reader can ask for it.
type Provenance struct {
	// Formula is the sum in plain signs, with units: a code "formula.".
	Formula message.Message
	// Source is the public source, as one would cite it: a code "source.".
	Source message.Message
	Status Status
	// Borrowed says that the numbers in the formula were found on another part
	// of the body than the one that it is used for.
	Borrowed bool
}

// Of makes a provenance of two codes of the catalogue that take no arguments.
// Like Round and NewRefusal it is called everywhere, and not inlined to keep the
// program in the browser small.
//
//go:noinline
func Of(formula, source string, status Status) Provenance {
	return Provenance{Formula: message.New(formula), Source: message.New(source), Status: status}
}

// Threshold is one number that results depend on.
type Threshold struct {
	ID    string
	Value float64
	// Unit is an entry "unit." of the catalogue, or a sign that all languages
	// share, such as "gf"; "" for a plain ratio or count.
	Unit string
	// Source is as in Provenance.
	Source message.Message
	Status Status
}
