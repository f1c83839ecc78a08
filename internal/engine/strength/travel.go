package strength

import (
	"doorsill/internal/decimal"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/message"
)

// travel compares usable travel with the travel that the control asks in each
// needed direction, after its throw setting, and keeps the worst.
func (a *Analysis) travel(setup *Setup) {
	site, f := a.At(setup.Site), &a.Travel
	f.Begin("travel-reserve", setup.Site, "ratio", message.Message{})
	if setup.TravelMM == 0 {
		f.Origin, f.Say = noTravel(setup)
		return
	}
	incomplete := false
	for _, d := range setup.Needed {
		if !site.Travel[d].Measured() {
			incomplete = true
			continue
		}
		if value, ok := decimal.Ratio(site.Travel[d].Least(), setup.TravelAsked(d)); ok && (!f.Has() || value < f.Value) {
			TravelReserve(f, site, d, setup)
		}
	}
	if incomplete && (!f.Has() || f.Value >= micro(TravelJust)) {
		f.Direction = ""
		f.Conclude(quantity.Missing, 0, message.New("strength.no-travel-reading",
			message.Word("site", setup.Site), message.Words("directions", lacking(&site.Travel, setup))))
	}
}

// noTravel explains a control for which no travel is given.
func noTravel(setup *Setup) (quantity.Origin, message.Message) {
	if Travelless(setup.Class) {
		return quantity.NotAsked, message.New("strength.no-travel-asked")
	}
	return quantity.Missing, message.New("strength.travel-not-entered")
}

// TravelAsked is the travel to full command in a direction, in millimetres.
func (s *Setup) TravelAsked(d Direction) float64 { return s.TravelMM * s.Throw[d] / 100 }

// TravelReserve fills f with usable travel over the travel asked, in one direction
// that was measured. The travel asked is more than 0.
func TravelReserve(f *quantity.Quantity, site *Site, d Direction, setup *Setup) {
	usable, asked := site.Travel[d].Least(), setup.TravelAsked(d)
	f.Origin, f.Direction, f.Unit = quantity.Measured, d.String(), "ratio"
	f.Value, _ = decimal.Ratio(usable, asked)
	to, way, needs, reserve := message.Word("direction", f.Direction), message.Number("usable", usable), message.Number("asked", asked), message.Exact("reserve", f.Value)
	if setup.Throw[d] != 100 {
		f.Say = message.New("strength.travel-reserve-throw", to, way, needs,
			message.Number("throw", setup.Throw[d]), message.Number("travel", setup.TravelMM), reserve)
		return
	}
	f.Say = message.New("strength.travel-reserve", to, way, needs, reserve)
}
