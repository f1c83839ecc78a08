package strength

import (
	"doorsill/internal/engine/decimal"
	"doorsill/internal/engine/figure"
)

// Figures lists every figure that the readings give: for each site and
// direction what was measured rested and tired, then what counts for the
// chosen control. Names of repeats end in "-rested" or "-tired": count, mean,
// sd, spread, cv, low and high (95 % interval of the mean, not below 0) and
// lower (one-sided 95 % bound).
func (a *Analysis) Figures(setup *Setup) []figure.Figure {
	list := make([]figure.Figure, 0, 96)
	for i := range a.Sites {
		site := &a.Sites[i]
		for d := NoDirection; d < directions; d++ {
			list = site.forces(list, d, setup)
			list = site.others(list, d, setup)
		}
	}
	return append(list, a.Reserve, a.Travel, a.Spread, a.Tired, a.Hold, a.Release, a.Noise, a.Switch)
}

func (s *Site) forces(list []figure.Figure, d Direction, setup *Setup) []figure.Figure {
	pair := s.Force[d]
	if !pair.Measured() {
		return list
	}
	at := figure.Figure{Site: s.ID, Direction: d.String(), Basis: figure.Measured}
	list = pair.Rested.figures(list, at, restedNames)
	list = pair.Tired.figures(list, at, tiredNames)
	usable, assumed := pair.Usable()
	at.Name, at.Unit = "usable", "gf"
	at.Value = micro(usable)
	if assumed {
		at.Basis, at.Say = figure.Assumed, "No tired reading: "+number(TiredFactor, 1)+" of the rested mean is planned on."
	}
	list = append(list, at)
	if setup != nil && setup.Site == s.ID && setup.OperateGF > 0 {
		list = append(list, named(DirectionReserve(s, d, setup.OperateGF), "reserve-direction"))
	}
	return list
}

func (s *Site) others(list []figure.Figure, d Direction, setup *Setup) []figure.Figure {
	at := figure.Figure{Site: s.ID, Direction: d.String(), Basis: figure.Measured}
	if pair := s.Travel[d]; pair.Measured() {
		at.Name, at.Unit, at.Value = "travel", "mm", micro(pair.Least())
		list = append(list, at)
		if setup != nil && setup.Site == s.ID && setup.TravelMM > 0 {
			list = append(list, named(travelReserve(s, d, *setup), "travel-reserve-direction"))
		}
	}
	if pair := s.Switch[d]; pair.Measured() {
		usable, assumed := pair.Usable()
		at.Name, at.Unit, at.Value = "switch-usable", "gf", micro(usable)
		if assumed {
			at.Basis = figure.Assumed
		}
		list = append(list, at)
	}
	return list
}

func named(f figure.Figure, name string) figure.Figure {
	f.Name = name
	return f
}

// repeatNames are the names of the figures of one series of repeats.
type repeatNames struct{ count, mean, sd, spread, cv, low, high, lower, word string }

func restedNames() repeatNames {
	return repeatNames{"count-rested", "mean-rested", "sd-rested", "spread-rested", "cv-rested", "low-rested", "high-rested", "lower-rested", ", rested: "}
}

func tiredNames() repeatNames {
	return repeatNames{"count-tired", "mean-tired", "sd-tired", "spread-tired", "cv-tired", "low-tired", "high-tired", "lower-tired", ", tired: "}
}

func (r Repeats) figures(list []figure.Figure, at figure.Figure, names func() repeatNames) []figure.Figure {
	if r.N == 0 {
		return list
	}
	n := names()
	add := func(name, unit string, value decimal.Micro, say string) {
		at.Name, at.Unit, at.Value, at.Say = name, unit, value, say
		list = append(list, at)
	}
	add(n.count, "readings", decimal.Int(r.N), "")
	add(n.mean, "gf", micro(r.Mean), upper(at.Direction)+n.word+r.Say("gf"))
	if r.N > 1 {
		add(n.sd, "gf", micro(r.SD), "")
		add(n.low, "gf", micro(max(r.Low, 0)), "")
		add(n.high, "gf", micro(r.High), "")
		add(n.lower, "gf", micro(max(r.Lower, 0)), "")
	}
	if r.HasSpread() {
		add(n.spread, "%", micro(r.Spread), "")
		add(n.cv, "%", micro(r.CV), "")
	}
	return list
}
