package strength

import (
	"doorsill/internal/decimal"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/message"
)

// Word names a force reserve.
func Word(reserve decimal.Micro) string {
	switch {
	case reserve > micro(ReserveOverLight):
		return "over-light"
	case reserve >= micro(ReserveRoomy):
		return "roomy"
	case reserve >= micro(ReserveWorkable):
		return "workable"
	case reserve >= micro(ReserveTight):
		return "tight"
	}
	return "short"
}

func micro(x float64) decimal.Micro {
	m, _ := decimal.Of(x)
	return m
}

// reserve compares usable force with what the control asks in each needed
// direction and keeps the worst.
func (a *Analysis) reserve(setup *Setup) {
	site, f := a.At(setup.Site), &a.Reserve
	f.Begin("reserve", setup.Site, "ratio", message.Message{})
	if setup.OperateGF == 0 {
		f.Origin, f.Say = noForce(setup)
		return
	}
	incomplete := false
	for _, d := range setup.Needed {
		if !site.Force[d].Measured() {
			incomplete = true
			continue
		}
		if value, ok := decimal.Ratio(site.Force[d].usable(), setup.OperateGF); ok && (!f.Has() || value < f.Value) {
			DirectionReserve(f, site, d, setup.OperateGF)
			a.Weakest = d
		}
	}
	// A direction without readings can only make the worst one worse, so a
	// reserve that is already short stands.
	if incomplete && (!f.Has() || f.Value >= micro(ReserveTight)) {
		f.Direction = ""
		f.Conclude(quantity.Missing, 0, message.New("strength.no-force-reading",
			message.Word("site", setup.Site), message.Words("directions", lacking(&site.Force, setup))))
	}
}

// noForce explains a control for which no force is given.
func noForce(setup *Setup) (quantity.Origin, message.Message) {
	if Forceless(setup.Class) {
		return quantity.NotAsked, message.New("strength.no-force-asked")
	}
	return quantity.Missing, message.New("strength.force-not-entered")
}

// DirectionReserve fills f with usable force over the force asked, in one
// direction that was measured. The force asked is more than 0.
func DirectionReserve(f *quantity.Quantity, site *Site, d Direction, asked float64) {
	pair := &site.Force[d]
	usable, assumed := pair.Usable()
	f.Direction, f.Unit = d.String(), "ratio"
	f.Value, _ = decimal.Ratio(usable, asked)
	to, word := message.Word("direction", f.Direction), message.Word("word", Word(f.Value))
	force, needs, reserve := message.Number("usable", usable), message.Number("asked", asked), message.Exact("reserve", f.Value)
	if assumed {
		f.Origin = quantity.Assumed
		f.Say = message.New("strength.reserve-assumed", to, message.Number("rested", pair.Rested.Mean), message.Number("factor", TiredFactor),
			force, needs, reserve, word)
		return
	}
	f.Origin, f.Say = quantity.Measured, message.New("strength.reserve", to, force, needs, reserve, word)
}

// lacking lists the needed directions without readings.
func lacking(pairs *[directions]Pair, setup *Setup) []string {
	var list []string
	for _, d := range setup.Needed {
		if !pairs[d].Measured() {
			list = append(list, d.String())
		}
	}
	return list
}
