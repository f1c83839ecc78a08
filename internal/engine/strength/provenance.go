package strength

import "doorsill/internal/engine/provenance"

// ProvenanceOf says what a quantity of Quantities rests on, and under what name: without
// what is said at its end of state, direction or switch. It is false for a
// quantity that needs no saying, such as a count.
func ProvenanceOf(quantity string) (name string, from provenance.Provenance, ok bool) {
	for end := len(quantity); end > 0; end-- {
		if end < len(quantity) && quantity[end] != '-' {
			continue
		}
		for i := range provenances {
			if row := &provenances[i]; row.name == quantity[:end] {
				return row.name, row.from, true
			}
		}
	}
	return "", provenance.Provenance{}, false
}

const scatter = "source.scatter"

// provenances are what quantities rest on; read only.
var provenances = [...]struct {
	name string
	from provenance.Provenance
}{
	{"mean", provenance.Of("formula.mean", scatter, provenance.Published)},
	{"sd", provenance.Of("formula.sd", scatter, provenance.Published)},
	{"low", provenance.Of("formula.low", scatter, provenance.Published)},
	{"high", provenance.Of("formula.high", scatter, provenance.Published)},
	{"lower", provenance.Of("formula.lower", scatter, provenance.Published)},
	{"spread", provenance.Of("formula.spread", ours, provenance.Proposal)},
	{"cv", provenance.Of("formula.cv", scatter, provenance.Published)},
	{"usable", provenance.Of("formula.usable", "source.own-planning", provenance.Proposal)},
	{"reserve", provenance.Of("formula.reserve", shares, provenance.Proposal)},
	{"travel-reserve", provenance.Of("formula.travel-reserve", ours, provenance.Proposal)},
	{"weakest-spread", provenance.Of("formula.weakest-spread", ours, provenance.Proposal)},
	{"tired-ratio", provenance.Of("formula.tired-ratio", ours, provenance.Proposal)},
	{"noise", provenance.Of("formula.noise", ours, provenance.Proposal)},
	{"switch-reserve", provenance.Of("formula.switch-reserve", ours, provenance.Proposal)},
}
