// Package provenance is what a number rests on: the formula it came from, who
// published it and how sure we are of that, and the refusal that stands in
// for a number that cannot be had.
package provenance

// How well a formula or a number is founded.
const (
	// Published: read in the named source, or in a copy that quotes it.
	Published = "published"
	// FromMemory: recalled, not read. To be confirmed before it is relied on.
	FromMemory = "from memory"
	// Practice: what the trade does.
	Practice = "common practice, no source"
	// Derived: worked out here from geometry or physics and checked by
	// brute-force search in the tests.
	Derived = "derived here and checked by search"
	// Proposal: our own, not validated.
	Proposal = "proposal, not validated"
)

// Statuses lists every status, the best founded first.
func Statuses() []string {
	return []string{Published, Derived, Practice, FromMemory, Proposal}
}

// Provenance goes with a number so that the reader can ask for it.
type Provenance struct {
	_ [0]func() // never compared: the code for that would be fetched for nothing
	// Formula is the sum in plain signs, with units.
	Formula string
	// Source is the public source, as one would cite it.
	Source string
	// Status is one of Statuses.
	Status string
}

// Threshold is one number that results depend on.
type Threshold struct {
	ID    string
	Value float64
	// Unit is "" for a plain ratio or count.
	Unit   string
	Source string
	// Status is one of Statuses.
	Status string
}
