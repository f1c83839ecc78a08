package strength

import "doorsill/internal/engine/basis"

// BasisOf says what a quantity of Quantities rests on, and under what name: without
// what is said at its end of state, direction or switch. It is false for a
// quantity that needs no saying, such as a count.
func BasisOf(quantity string) (name string, b basis.Basis, ok bool) {
	for end := len(quantity); end > 0; end-- {
		if end < len(quantity) && quantity[end] != '-' {
			continue
		}
		for i := range bases {
			if row := &bases[i]; row.name == quantity[:end] {
				return row.name, basis.Basis{Formula: row.formula, Source: row.source, Status: row.status}, true
			}
		}
	}
	return "", basis.Basis{}, false
}

const (
	scatterSource = "NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5 and 1.3.6.7.2"
	plan          = "own proposal; planning on the weakest needed direction and the tired figure is trade habit"
)

// bases are what quantities rest on; read only.
var bases = [...]struct{ name, formula, source, status string }{
	{"mean", "sum of the readings / how many", scatterSource, basis.Published},
	{"sd", "√(sum of (reading − mean)² / (n − 1))", scatterSource, basis.Published},
	{"low", "mean − t · sd / √n, with t of Student for 95 % (two-sided, n − 1), not below 0", scatterSource, basis.Published},
	{"high", "mean + t · sd / √n, with t of Student for 95 % (two-sided, n − 1)", scatterSource, basis.Published},
	{"lower", "mean − t · sd / √n, with t of Student for 95 % (one-sided, n − 1), not below 0", scatterSource, basis.Published},
	{"spread", "(largest − smallest) / mean · 100; a mark for a new try, no proof of effort", ours, basis.Proposal},
	{"cv", "sd / mean · 100; at small forces it is large by arithmetic alone", scatterSource, basis.Published},
	{"usable", "the smaller of rested and tired mean; without a tired reading 0.7 · rested mean (assumed)", plan, basis.Proposal},
	{"reserve", "usable force / force to full command, in the weakest needed direction", shares, basis.Proposal},
	{"travel-reserve", "usable travel / (travel of the control · throw), in the worst needed direction", ours, basis.Proposal},
	{"weakest-spread", "(largest − smallest) / mean · 100 in the weakest direction", ours, basis.Proposal},
	{"tired-ratio", "tired mean / rested mean in the weakest direction", ours, basis.Proposal},
	{"noise", "largest force that was not meant / force that starts the control", ours, basis.Proposal},
	{"switch-reserve", "usable force at the switch / force to press it, at the weakest site", ours, basis.Proposal},
}
