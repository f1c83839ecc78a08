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
				return row.name, provenance.Provenance{Formula: row.formula, Source: row.source, Status: row.status}, true
			}
		}
	}
	return "", provenance.Provenance{}, false
}

const (
	scatterSource = "NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5 and 1.3.6.7.2"
	plan          = "own proposal; planning on the weakest needed direction and the tired figure is trade habit"
)

// provenances are what quantities rest on; read only.
var provenances = [...]struct{ name, formula, source, status string }{
	{"mean", "sum of the readings / how many", scatterSource, provenance.Published},
	{"sd", "√(sum of (reading − mean)² / (n − 1))", scatterSource, provenance.Published},
	{"low", "mean − t · sd / √n, with t of Student for 95 % (two-sided, n − 1), not below 0", scatterSource, provenance.Published},
	{"high", "mean + t · sd / √n, with t of Student for 95 % (two-sided, n − 1)", scatterSource, provenance.Published},
	{"lower", "mean − t · sd / √n, with t of Student for 95 % (one-sided, n − 1), not below 0", scatterSource, provenance.Published},
	{"spread", "(largest − smallest) / mean · 100; a mark for a new try, no proof of effort", ours, provenance.Proposal},
	{"cv", "sd / mean · 100; at small forces it is large by arithmetic alone", scatterSource, provenance.Published},
	{"usable", "the smaller of rested and tired mean; without a tired reading 0.7 · rested mean (assumed)", plan, provenance.Proposal},
	{"reserve", "usable force / force to full command, in the weakest needed direction", shares, provenance.Proposal},
	{"travel-reserve", "usable travel / (travel of the control · throw), in the worst needed direction", ours, provenance.Proposal},
	{"weakest-spread", "(largest − smallest) / mean · 100 in the weakest direction", ours, provenance.Proposal},
	{"tired-ratio", "tired mean / rested mean in the weakest direction", ours, provenance.Proposal},
	{"noise", "largest force that was not meant / force that starts the control", ours, provenance.Proposal},
	{"switch-reserve", "usable force at the switch / force to press it, at the weakest site", ours, provenance.Proposal},
}
