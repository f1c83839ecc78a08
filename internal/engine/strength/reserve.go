package strength

import (
	"doorsill/internal/decimal"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/say"
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
	f.Begin("reserve", setup.Site, "ratio", "")
	if setup.OperateGF == 0 {
		f.Origin, f.Say = noForce(setup)
		return
	}
	lacking := false
	for _, d := range setup.Needed {
		if !site.Force[d].Measured() {
			lacking = true
			continue
		}
		if value, ok := decimal.Ratio(site.Force[d].usable(), setup.OperateGF); ok && (!f.Has() || value < f.Value) {
			DirectionReserve(f, site, d, setup.OperateGF)
			a.Weakest = d
		}
	}
	// A direction without readings can only make the worst one worse, so a
	// reserve that is already short stands.
	if lacking && (!f.Has() || f.Value >= micro(ReserveTight)) {
		f.Direction = ""
		f.Conclude(quantity.Missing, 0, lack(&site.Force, setup, "force"))
	}
}

// noForce explains a control for which no force is given.
func noForce(setup *Setup) (quantity.Origin, string) {
	if Forceless(setup.Class) {
		return quantity.NotAsked, "This control asks no force."
	}
	return quantity.Missing, "The force that the control asks is not entered: read it off the actual control with the gauge."
}

// DirectionReserve fills f with usable force over the force asked, in one
// direction that was measured. The force asked is more than 0.
func DirectionReserve(f *quantity.Quantity, site *Site, d Direction, asked float64) {
	pair := &site.Force[d]
	usable, assumed := pair.Usable()
	f.Direction, f.Unit = d.String(), "ratio"
	f.Value, _ = decimal.Ratio(usable, asked)
	words := say.Words{f.Direction, Word(f.Value)}
	f.Origin = quantity.Measured
	f.Say = say.Line("{^}: {1-} gf usable for {1} gf asked, reserve {2-} ({}).", words, usable, asked, f.Value.Float())
	if assumed {
		f.Origin = quantity.Assumed
		f.Say = say.Line("{^}: {1} gf rested, no tired reading, so {1} of it counts (assumed): {1-} gf for {1} gf asked, reserve {2-} ({}).",
			words, pair.Rested.Mean, TiredFactor, usable, asked, f.Value.Float())
	}
}

// lack says in which needed directions readings are missing.
func lack(pairs *[directions]Pair, setup *Setup, what string) string {
	var list say.Words
	for _, d := range setup.Needed {
		if !pairs[d].Measured() {
			list = append(list, d.String())
		}
	}
	return say.Line("No {} reading at the {} for: {}.", say.Words{what, SiteWords(setup.Site), say.List(list, ", ")})
}
