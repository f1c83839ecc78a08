package strength

import "doorsill/internal/engine/figure"

// Figures hands over every figure that the readings give: for each site and
// direction what was measured rested and tired, then what counts for the
// chosen control. Names of repeats end in "-rested" or "-tired": count, mean,
// sd, spread, cv, low and high (95 % interval of the mean, not below 0) and
// lower (one-sided 95 % bound).
func (a *Analysis) Figures(setup *Setup, emit func(*figure.Figure)) {
	for i := range a.Sites {
		site := &a.Sites[i]
		for d := NoDirection; d < directions; d++ {
			site.forces(d, setup, emit)
			site.others(d, setup, emit)
		}
	}
	for _, f := range a.chosen() {
		emit(f)
	}
}

func (s *Site) forces(d Direction, setup *Setup, emit func(*figure.Figure)) {
	pair := &s.Force[d]
	if !pair.Measured() {
		return
	}
	f := figure.Figure{Site: s.ID, Direction: d.String(), Basis: figure.Measured}
	pair.Rested.figures(&f, "-rested", emit)
	pair.Tired.figures(&f, "-tired", emit)
	usable, assumed := pair.Usable()
	f.Name, f.Unit, f.Value, f.Say = "usable", "gf", micro(usable), ""
	if assumed {
		f.Basis, f.Say = figure.Assumed, "No tired reading: "+number(TiredFactor, 1)+" of the rested mean is planned on."
	}
	emit(&f)
	if setup != nil && setup.Site == s.ID && setup.OperateGF > 0 {
		DirectionReserve(&f, s, d, setup.OperateGF)
		f.Name = "reserve-direction"
		emit(&f)
	}
}

func (s *Site) others(d Direction, setup *Setup, emit func(*figure.Figure)) {
	f := figure.Figure{Site: s.ID, Direction: d.String(), Basis: figure.Measured}
	if pair := &s.Travel[d]; pair.Measured() {
		f.Name, f.Unit, f.Value = "travel", "mm", micro(pair.Least())
		emit(&f)
		if setup != nil && setup.Site == s.ID && setup.TravelMM > 0 {
			travelReserve(&f, s, d, setup)
			f.Name = "travel-reserve-direction"
			emit(&f)
		}
	}
	if pair := &s.Switch[d]; pair.Measured() {
		usable, assumed := pair.Usable()
		f.Name, f.Unit, f.Value, f.Say = "switch-usable", "gf", micro(usable), ""
		if assumed {
			f.Basis = figure.Assumed
		}
		emit(&f)
	}
}

// figures hands over what repeats of a force come to. f names site and
// direction; state is "-rested" or "-tired".
func (r *Repeats) figures(f *figure.Figure, state string, emit func(*figure.Figure)) {
	if r.N == 0 {
		return
	}
	add := func(name string, value float64) {
		f.Name, f.Value = name+state, micro(value)
		emit(f)
		f.Say = ""
	}
	f.Unit = "readings"
	add("count", float64(r.N))
	f.Unit, f.Say = "gf", upper(f.Direction)+", "+state[1:]+": "+r.Say("gf")
	add("mean", r.Mean)
	if r.N > 1 {
		add("sd", r.SD)
		add("low", max(r.Low, 0))
		add("high", r.High)
		add("lower", max(r.Lower, 0))
	}
	if r.HasSpread() {
		f.Unit = "%"
		add("spread", r.Spread)
		add("cv", r.CV)
	}
}
