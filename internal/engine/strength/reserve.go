package strength

import (
	"doorsill/internal/engine/decimal"
	"doorsill/internal/engine/figure"
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
func (a *Analysis) reserve(setup Setup) {
	site := a.At(setup.Site)
	a.Reserve = figure.Figure{Name: "reserve", Site: setup.Site, Unit: "ratio"}
	f := &a.Reserve
	if setup.OperateGF == 0 {
		f.Basis, f.Say = noForce(setup)
		return
	}
	lacking := Direction(0)
	for _, d := range setup.Needed {
		if !site.Force[d].Measured() {
			lacking = max(lacking, d)
			continue
		}
		one := DirectionReserve(site, d, setup.OperateGF)
		if !f.Has() || one.Value < f.Value {
			*f = one
			a.Weakest = d
		}
	}
	// A direction without readings can only make the worst one worse, so a
	// reserve that is already short stands.
	if lacking != NoDirection && (!f.Has() || f.Value >= micro(ReserveTight)) {
		*f = figure.Figure{Name: "reserve", Site: setup.Site, Unit: "ratio", Say: lack(site, setup, "force")}
	}
}

// noForce explains a control for which no force is given.
func noForce(setup Setup) (figure.Basis, string) {
	if Forceless(setup.Class) {
		return figure.NotAsked, "This control asks no force."
	}
	return figure.Missing, "The force that the control asks is not entered: read it off the actual control with the gauge."
}

// DirectionReserve returns usable force over the force asked, in one direction
// that was measured.
func DirectionReserve(site *Site, d Direction, asked float64) figure.Figure {
	usable, assumed := site.Force[d].Usable()
	f := figure.Figure{Name: "reserve", Site: site.ID, Direction: d.String(), Unit: "ratio", Basis: figure.Measured}
	how := number(usable, 1) + " gf usable"
	if assumed {
		f.Basis = figure.Assumed
		how = number(site.Force[d].Rested.Mean, 1) + " gf rested, no tired reading, so " + number(TiredFactor, 1) +
			" of it counts (assumed): " + number(usable, 1) + " gf"
	}
	value, ok := decimal.Ratio(usable, asked)
	if !ok {
		return figure.Figure{Name: f.Name, Site: site.ID, Direction: f.Direction, Unit: "ratio", Say: "The force that the control asks is not entered."}
	}
	f.Value = value
	f.Say = upper(d.words()) + ": " + how + " for " + number(asked, 1) + " gf asked, reserve " + value.Down(2).Short(2) + " (" + Word(value) + ")."
	return f
}

// lack says in which needed directions readings are missing.
func lack(site *Site, setup Setup, what string) string {
	pairs := &site.Force
	if what == "travel" {
		pairs = &site.Travel
	}
	list := ""
	for _, d := range setup.Needed {
		if pairs[d].Measured() {
			continue
		}
		if list != "" {
			list += ", "
		}
		list += d.words()
	}
	return "No " + what + " reading at the " + SiteWords(setup.Site) + " for: " + list + "."
}

// words writes a direction as a person would say it.
func (d Direction) words() string {
	if d == NoDirection {
		return "no direction"
	}
	return d.String()
}

func upper(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return string(s[0]-'a'+'A') + s[1:]
}
