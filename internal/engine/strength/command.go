package strength

import (
	"doorsill/internal/engine/decimal"
	"doorsill/internal/engine/figure"
	"doorsill/internal/engine/say"
)

// weakest fills spread and tired ratio for the direction that the reserve is
// for.
func (a *Analysis) weakest() {
	at := a.Reserve.Site
	a.Spread = figure.Figure{Name: "weakest-spread", Site: at, Direction: a.Weakest.String(), Unit: "%",
		Say: say.Line("Needs {0} force readings in the weakest direction.", nil, RepeatsWanted)}
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
	pair, where := &a.At(at).Force[a.Weakest], say.Words{a.Weakest.String()}
	if r := pair.Basis(); r.Enough() && r.HasSpread() {
		a.Spread.Basis, a.Spread.Value = figure.Measured, micro(r.Spread)
		a.Spread.Say = say.Line("{^}: from {1} to {1} gf, spread {0} % of the mean.", where, r.Min, r.Max, r.Spread)
	}
	if value, ok := decimal.Ratio(pair.Tired.Mean, pair.Rested.Mean); ok && pair.Tired.N > 0 {
		a.Tired.Basis, a.Tired.Value = figure.Measured, value
		a.Tired.Say = say.Line("{^}: {1} gf tired, {1} gf rested, {2-} of it is left.", where, pair.Tired.Mean, pair.Rested.Mean, value.Float())
	}
}

// hold takes the shortest hold: a drop that was not a slip can come again.
func (a *Analysis) hold(setup *Setup) {
	s := a.At(setup.Site).Holds
	a.Hold = figure.Figure{Name: "hold", Site: setup.Site, Unit: "s"}
	f := &a.Hold
	if s.N == 0 {
		f.Say = say.Line("Not timed: hold the forward command, up to {0} s.", nil, HoldCounted)
		return
	}
	f.Basis, f.Value = figure.Measured, micro(s.Least)
	template := "Forward held for {1} s, the shortest of {0}."
	if s.N == 1 {
		template = "Forward held for {1} s."
	}
	f.Say = say.Line(template, nil, s.Least, float64(s.N))
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
		f.Say = say.Line("{0} of {0} releases did not come.", nil, float64(site.Missed), float64(tried))
	case tried >= ReleasesWanted, s.N > 0 && f.Value > micro(ReleaseSlow):
		f.Basis = figure.Measured
		f.Say = say.Line("Slowest of {0} releases: {2} s.", nil, float64(tried), s.Top)
	default:
		f.Value = 0
		f.Say = say.Line("{0} of {0} releases timed.", nil, float64(tried), ReleasesWanted)
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
		f.Say = say.Line("{1} gf not meant, {1} gf start the control: {2+} of it.", nil, s.Top, setup.StartGF, f.Value.Float())
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
		how = say.Line(" ({1} of the rested force, assumed)", nil, TiredFactor)
	}
	f.Say = say.Line("{^}: {1-} gf usable{} for a switch that asks {1} gf, reserve {2-}.", say.Words{SiteWords(site.ID), how}, usable, press, f.Value.Float())
}
