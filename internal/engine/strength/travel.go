package strength

import (
	"doorsill/internal/decimal"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/say"
)

// travel compares usable travel with the travel that the control asks in each
// needed direction, after its throw setting, and keeps the worst.
func (a *Analysis) travel(setup *Setup) {
	site, f := a.At(setup.Site), &a.Travel
	f.Begin("travel-reserve", setup.Site, "ratio", "The travel that the control asks is not entered: measure it on the actual control.")
	if setup.TravelMM == 0 {
		if Travelless(setup.Class) {
			f.Conclude(quantity.NotAsked, 0, "This control asks no travel.")
		}
		return
	}
	f.Say = ""
	lacking := false
	for _, d := range setup.Needed {
		if !site.Travel[d].Measured() {
			lacking = true
			continue
		}
		if value, ok := decimal.Ratio(site.Travel[d].Least(), setup.travelAsked(d)); ok && (!f.Has() || value < f.Value) {
			travelReserve(f, site, d, setup)
		}
	}
	if lacking && (!f.Has() || f.Value >= micro(TravelJust)) {
		f.Direction = ""
		f.Conclude(quantity.Missing, 0, lack(&site.Travel, setup, "travel"))
	}
}

// travelAsked is the travel to full command in a direction, in millimetres.
func (s *Setup) travelAsked(d Direction) float64 { return s.TravelMM * s.Throw[d] / 100 }

func travelReserve(f *quantity.Quantity, site *Site, d Direction, setup *Setup) {
	usable, asked := site.Travel[d].Least(), setup.travelAsked(d)
	f.Origin, f.Direction, f.Unit = quantity.Measured, d.String(), "ratio"
	f.Value, _ = decimal.Ratio(usable, asked)
	throw := ""
	if setup.Throw[d] != 100 {
		throw = say.Line(" (throw {0} % of {1} mm)", nil, setup.Throw[d], setup.TravelMM)
	}
	f.Say = say.Line("{^}: {1-} mm usable for {1} mm asked{}, travel reserve {2-}.", say.Words{f.Direction, throw}, usable, asked, f.Value.Float())
}
