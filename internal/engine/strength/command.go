package strength

import (
	"doorsill/internal/decimal"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/say"
)

// weakest fills spread and tired ratio for the direction that the reserve is
// for.
func (a *Analysis) weakest() {
	at := a.Reserve.Site
	a.Spread.Begin("weakest-spread", at, "%", say.Line("Needs {0} force readings in the weakest direction.", nil, RepeatsWanted))
	a.Tired.Begin("tired-ratio", at, "ratio", "Needs force readings rested and tired in the weakest direction.")
	a.Spread.Direction, a.Tired.Direction = a.Weakest.String(), a.Weakest.String()
	if a.Reserve.Origin == quantity.NotAsked {
		a.Spread.Conclude(quantity.NotAsked, 0, a.Reserve.Say)
		a.Tired.Conclude(quantity.NotAsked, 0, a.Reserve.Say)
		return
	}
	if !a.Reserve.Has() {
		return
	}
	pair, where := &a.At(at).Force[a.Weakest], say.Words{a.Weakest.String()}
	if r := pair.UsableRepeats(); r.Enough() && r.HasSpread() {
		a.Spread.Conclude(quantity.Measured, micro(r.Spread), say.Line("{^}: from {1} to {1} gf, spread {0} % of the mean.", where, r.Min, r.Max, r.Spread))
	}
	if value, ok := decimal.Ratio(pair.Tired.Mean, pair.Rested.Mean); ok && pair.Tired.N > 0 {
		a.Tired.Conclude(quantity.Measured, value, say.Line("{^}: {1} gf tired, {1} gf rested, {2-} of it is left.", where, pair.Tired.Mean, pair.Rested.Mean, value.Float()))
	}
}

// hold takes the shortest hold: a drop that was not a slip can come again.
func (a *Analysis) hold(setup *Setup) {
	s := a.At(setup.Site).Holds
	a.Hold.Begin("hold", setup.Site, "s", say.Line("Not timed: hold the forward command, up to {0} s.", nil, HoldCounted))
	if s.N == 0 {
		return
	}
	template := "Forward held for {1} s, the shortest of {0}."
	if s.N == 1 {
		template = "Forward held for {1} s."
	}
	a.Hold.Conclude(quantity.Measured, micro(s.Least), say.Line(template, nil, s.Least, float64(s.N)))
}

// release takes the slowest of five. Fewer do not make a value, unless one of
// them already is too slow or did not come.
func (a *Analysis) release(setup *Setup) {
	site := a.At(setup.Site)
	s, tried := site.Releases, site.Releases.N+site.Missed
	a.Missed = site.Missed
	a.Release.Begin("release", setup.Site, "s", say.Line("{0} of {0} releases timed.", nil, float64(tried), ReleasesWanted))
	slowest := micro(s.Top)
	switch {
	case site.Missed > 0:
		a.Release.Conclude(quantity.Measured, slowest, say.Line("{0} of {0} releases did not come.", nil, float64(site.Missed), float64(tried)))
	case tried >= ReleasesWanted, s.N > 0 && slowest > micro(ReleaseSlow):
		a.Release.Conclude(quantity.Measured, slowest, say.Line("Slowest of {0} releases: {2} s.", nil, float64(tried), s.Top))
	}
}

// noise compares the largest force that was not meant with the force that
// starts the control.
func (a *Analysis) noise(setup *Setup) {
	s := a.At(setup.Site).Unintended
	f := &a.Noise
	f.Begin("noise", setup.Site, "ratio", "Unintended force not measured: watch the gauge at rest, while talking and over bumps.")
	switch {
	case setup.StartGF == 0 && setup.OperateGF == 0 && Forceless(setup.Class):
		f.Conclude(quantity.NotAsked, 0, "This control is not started by force.")
	case setup.StartGF == 0:
		f.Say = "The force that starts the control is not entered: read it off the actual control with the gauge."
	case s.N > 0:
		part, _ := decimal.Ratio(s.Top, setup.StartGF)
		f.Conclude(quantity.Measured, part, say.Line("{1} gf not meant, {1} gf start the control: {2+} of it.", nil, s.Top, setup.StartGF, part.Float()))
	}
}
