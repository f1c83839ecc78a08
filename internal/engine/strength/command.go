package strength

import (
	"strconv"

	"doorsill/internal/engine/decimal"
	"doorsill/internal/engine/figure"
)

// weakest fills spread and tired ratio for the direction that the reserve is
// for.
func (a *Analysis) weakest() {
	at := a.Reserve.Site
	a.Spread = figure.Figure{Name: "weakest-spread", Site: at, Direction: a.Weakest.String(), Unit: "%",
		Say: "Needs " + strconv.Itoa(RepeatsWanted) + " force readings in the weakest direction."}
	a.Tired = figure.Figure{Name: "tired-ratio", Site: at, Direction: a.Weakest.String(), Unit: "ratio",
		Say: "Needs force readings rested and tired in the weakest direction."}
	if a.Reserve.Basis == figure.NotAsked {
		a.Spread.Basis, a.Spread.Say = figure.NotAsked, a.Reserve.Say
		a.Tired.Basis, a.Tired.Say = figure.NotAsked, a.Reserve.Say
		return
	}
	if !a.Reserve.Has() {
		return
	}
	pair := &a.At(at).Force[a.Weakest]
	if r := pair.Basis(); r.Enough() && r.HasSpread() {
		a.Spread.Basis, a.Spread.Value = figure.Measured, micro(r.Spread)
		a.Spread.Say = upper(a.Weakest.String()) + ": from " + number(r.Min, 1) + " to " + number(r.Max, 1) + " gf, spread " + number(r.Spread, 0) + " % of the mean."
	}
	if value, ok := decimal.Ratio(pair.Tired.Mean, pair.Rested.Mean); ok && pair.Tired.N > 0 {
		a.Tired.Basis, a.Tired.Value = figure.Measured, value
		a.Tired.Say = upper(a.Weakest.String()) + ": " + number(pair.Tired.Mean, 1) + " gf tired, " + number(pair.Rested.Mean, 1) +
			" gf rested, " + value.Down(2).Short(2) + " of it is left."
	}
}

// hold takes the shortest hold: a drop that was not a slip can come again.
func (a *Analysis) hold(setup *Setup) {
	s := a.At(setup.Site).Holds
	a.Hold = figure.Figure{Name: "hold", Site: setup.Site, Unit: "s", Say: "Not timed: hold the forward command, up to " + number(HoldCounted, 0) + " s."}
	if s.N > 0 {
		a.Hold.Basis, a.Hold.Value = figure.Measured, micro(s.Least)
		a.Hold.Say = "Forward held for " + number(s.Least, 1) + " s" + shortestOf(s.N) + "."
	}
}

func shortestOf(n int) string {
	if n == 1 {
		return ""
	}
	return ", the shortest of " + strconv.Itoa(n)
}

// release takes the slowest of five. Fewer do not make a figure, unless one of
// them already is too slow or did not come.
func (a *Analysis) release(setup *Setup) {
	site := a.At(setup.Site)
	s, tried := site.Releases, site.Releases.N+site.Missed
	a.Missed = site.Missed
	a.Release = figure.Figure{Name: "release", Site: setup.Site, Unit: "s", Value: micro(s.Top)}
	f := &a.Release
	switch {
	case site.Missed > 0:
		f.Basis = figure.Measured
		f.Say = strconv.Itoa(site.Missed) + " of " + strconv.Itoa(tried) + " releases did not come."
	case tried >= ReleasesWanted, s.N > 0 && f.Value > micro(ReleaseSlow):
		f.Basis = figure.Measured
		f.Say = "Slowest of " + strconv.Itoa(tried) + " releases: " + number(s.Top, 2) + " s."
	default:
		f.Value = 0
		f.Say = strconv.Itoa(tried) + " of " + strconv.Itoa(ReleasesWanted) + " releases timed."
	}
}

// noise compares the largest force that was not meant with the force that
// starts the control.
func (a *Analysis) noise(setup *Setup) {
	s := a.At(setup.Site).Unintended
	a.Noise = figure.Figure{Name: "noise", Site: setup.Site, Unit: "ratio"}
	f := &a.Noise
	switch {
	case setup.StartGF == 0 && setup.OperateGF == 0 && Forceless(setup.Class):
		f.Basis, f.Say = figure.NotAsked, "This control is not started by force."
	case setup.StartGF == 0:
		f.Say = "The force that starts the control is not entered: read it off the actual control with the gauge."
	case s.N == 0:
		f.Say = "Unintended force not measured: watch the gauge at rest, while talking and over bumps."
	default:
		f.Value, _ = decimal.Ratio(s.Top, setup.StartGF)
		f.Basis = figure.Measured
		f.Say = number(s.Top, 1) + " gf not meant, " + number(setup.StartGF, 1) + " gf start the control: " + f.Value.Up(2).Short(2) + " of it."
	}
}

// switches compares usable switch force with what the switch asks, at the
// weakest of the switch sites.
func (a *Analysis) switches(setup *Setup) {
	a.Switch = figure.Figure{Name: "switch-reserve", Unit: "ratio", Say: "Usable force at the switch site is not measured."}
	if setup.SwitchPressGF == 0 {
		a.Switch.Say = "The force that the switch asks is not entered."
		return
	}
	for i := range a.Sites {
		site := &a.Sites[i]
		for d := NoDirection; d < directions; d++ {
			if !site.Switch[d].Measured() {
				continue
			}
			if value, ok := decimal.Ratio(site.Switch[d].usable(), setup.SwitchPressGF); ok && (!a.Switch.Has() || value < a.Switch.Value) {
				switchReserve(&a.Switch, site, d, setup.SwitchPressGF)
			}
		}
	}
}

func switchReserve(f *figure.Figure, site *Site, d Direction, press float64) {
	usable, assumed := site.Switch[d].Usable()
	f.Site, f.Direction, f.Basis = site.ID, d.String(), figure.Measured
	f.Value, _ = decimal.Ratio(usable, press)
	how := ""
	if assumed {
		f.Basis = figure.Assumed
		how = " (" + number(TiredFactor, 1) + " of the rested force, assumed)"
	}
	f.Say = upper(SiteWords(site.ID)) + ": " + atLeast(usable) + " gf usable" + how + " for a switch that asks " + number(press, 1) +
		" gf, reserve " + f.Value.Down(2).Short(2) + "."
}
