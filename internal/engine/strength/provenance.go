package strength

import "doorsill/internal/engine/provenance"

// ProvenanceOf says what a quantity of Quantities rests on, and under what name: without
// what is said at its end of state, direction or switch. It is false for a
// quantity that needs no saying, such as a count.
func ProvenanceOf(quantity string) (name string, b provenance.Provenance, ok bool) {
	for end := len(quantity); end > 0; end-- {
		if end < len(quantity) && quantity[end] != '-' {
			continue
		}
		for i := range provenances {
			if row := &provenances[i]; row.name == quantity[:end] {
				return row.name, provenance.Of(row.formula, row.source, row.status), true
			}
		}
	}
	return "", provenance.Provenance{}, false
}

const scatter = "source.scatter"

// provenances are what quantities rest on; read only.
var provenances = [...]struct {
	name, formula, source string
	status                provenance.Status
}{
	{"mean", "formula.mean", scatter, provenance.Published},
	{"sd", "formula.sd", scatter, provenance.Published},
	{"low", "formula.low", scatter, provenance.Published},
	{"high", "formula.high", scatter, provenance.Published},
	{"lower", "formula.lower", scatter, provenance.Published},
	{"spread", "formula.spread", ours, provenance.Proposal},
	{"cv", "formula.cv", scatter, provenance.Published},
	{"usable", "formula.usable", "source.own-planning", provenance.Proposal},
	{"reserve", "formula.reserve", shares, provenance.Proposal},
	{"travel-reserve", "formula.travel-reserve", ours, provenance.Proposal},
	{"weakest-spread", "formula.weakest-spread", ours, provenance.Proposal},
	{"tired-ratio", "formula.tired-ratio", ours, provenance.Proposal},
	{"noise", "formula.noise", ours, provenance.Proposal},
	{"switch-reserve", "formula.switch-reserve", ours, provenance.Proposal},
}
