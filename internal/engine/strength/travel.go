package strength

import (
	"doorsill/internal/engine/decimal"
	"doorsill/internal/engine/figure"
)

// travel compares usable travel with the travel that the control asks in each
// needed direction, after its throw setting, and keeps the worst.
func (a *Analysis) travel(setup Setup) {
	site := a.At(setup.Site)
	a.Travel = figure.Figure{Name: "travel-reserve", Site: setup.Site, Unit: "ratio"}
	f := &a.Travel
	if setup.TravelMM == 0 {
		f.Say = "The travel that the control asks is not entered: measure it on the actual control."
		if Travelless(setup.Class) {
			f.Basis, f.Say = figure.NotAsked, "This control asks no travel."
		}
		return
	}
	lacking := false
	for _, d := range setup.Needed {
		if !site.Travel[d].Measured() {
			lacking = true
			continue
		}
		if one := travelReserve(site, d, setup); !f.Has() || one.Value < f.Value {
			*f = one
		}
	}
	if lacking && (!f.Has() || f.Value >= micro(TravelJust)) {
		*f = figure.Figure{Name: f.Name, Site: setup.Site, Unit: "ratio", Say: lack(site, setup, "travel")}
	}
}

func travelReserve(site *Site, d Direction, setup Setup) figure.Figure {
	usable := site.Travel[d].Least()
	asked := setup.TravelMM * setup.Throw[d] / 100
	value, _ := decimal.Ratio(usable, asked)
	say := upper(d.words()) + ": " + number(usable, 1) + " mm usable for " + number(asked, 1) + " mm asked"
	if setup.Throw[d] != 100 {
		say += " (throw " + number(setup.Throw[d], 0) + " % of " + number(setup.TravelMM, 1) + " mm)"
	}
	return figure.Figure{Name: "travel-reserve", Site: site.ID, Direction: d.String(), Unit: "ratio",
		Basis: figure.Measured, Value: value, Say: say + ", travel reserve " + value.Down(2).Short(2) + "."}
}
