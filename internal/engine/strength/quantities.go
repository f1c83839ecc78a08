package strength

import (
	"doorsill/internal/engine/quantity"
	"doorsill/internal/message"
)

// Quantities hands over every quantity that the readings give: for each site and
// direction what was measured rested and tired, then what counts for the
// chosen control. Names of repeats end in "-rested" or "-tired": count, mean,
// sd, spread, cv, low and high (95 % interval of the mean, not below 0) and
// lower (one-sided 95 % bound).
func (a *Analysis) Quantities(setup *Setup, emit func(*quantity.Quantity)) {
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
	for _, f := range [...]*quantity.Quantity{&a.Hits, &a.Unasked, &a.Steps, &a.Breath} {
		if setup != nil && f.Origin != quantity.NotAsked {
			emit(f)
		}
	}
	if a.Apart {
		emit(&a.Own[PowerSwitch])
		emit(&a.Own[ModeSwitch])
	}
	if setup != nil && setup.PressGF(StopSwitch) > 0 || a.pressed(StopSwitch) {
		emit(&a.Own[StopSwitch])
	}
}

func (s *Site) forces(d Direction, setup *Setup, emit func(*quantity.Quantity)) {
	pair := &s.Force[d]
	if !pair.Measured() {
		return
	}
	f := quantity.Quantity{Site: s.ID, Direction: d.String(), Origin: quantity.Measured}
	pair.Rested.quantities(&f, "rested", emit)
	pair.Tired.quantities(&f, "tired", emit)
	usable, assumed := pair.Usable()
	f.Name, f.Unit, f.Value, f.Say = "usable", "gf", micro(usable), message.Message{}
	if assumed {
		f.Origin, f.Say = quantity.Assumed, message.New("strength.usable-assumed", message.Number("factor", TiredFactor))
	}
	emit(&f)
	if setup != nil && setup.Site == s.ID && setup.OperateGF > 0 {
		DirectionReserve(&f, s, d, setup.OperateGF)
		f.Name = "reserve-direction"
		emit(&f)
	}
}

func (s *Site) others(d Direction, setup *Setup, emit func(*quantity.Quantity)) {
	f := quantity.Quantity{Site: s.ID, Direction: d.String(), Origin: quantity.Measured}
	if pair := &s.Travel[d]; pair.Measured() {
		f.Name, f.Unit, f.Value = "travel", "mm", micro(pair.Least())
		emit(&f)
		if setup != nil && setup.Site == s.ID && setup.TravelMM > 0 {
			TravelReserve(&f, s, d, setup)
			f.Name = "travel-reserve-direction"
			emit(&f)
		}
	}
	for at := range s.Switch {
		pair := &s.Switch[at][d]
		if !pair.Measured() {
			continue
		}
		usable, assumed := pair.Usable()
		f.Name, f.Unit, f.Value, f.Say, f.Origin = usableNames[at], "gf", micro(usable), message.Message{}, quantity.Measured
		if assumed {
			f.Origin = quantity.Assumed
		}
		emit(&f)
	}
}

// usableNames are by switch; read only.
var usableNames = [switches]string{"switch-usable", "switch-usable-power", "switch-usable-mode", "switch-usable-stop"}

// repeatQuantities are the quantities of one series; read only.
var repeatQuantities = [...]struct{ rested, tired, unit string }{
	{"count-rested", "count-tired", "readings"},
	{"mean-rested", "mean-tired", "gf"},
	{"sd-rested", "sd-tired", "gf"},
	{"low-rested", "low-tired", "gf"},
	{"high-rested", "high-tired", "gf"},
	{"lower-rested", "lower-tired", "gf"},
	{"spread-rested", "spread-tired", "%"},
	{"cv-rested", "cv-tired", "%"},
}

// saysNothing reports whether a bound of the mean is so far from it that it says
// nothing: any force lies above zero.
func (r *Repeats) saysNothing(quantity string) bool {
	switch quantity {
	case "low-rested", "high-rested":
		return r.Max > 0 && r.Low <= 0
	case "lower-rested":
		return r.Max > 0 && r.Lower <= 0
	}
	return false
}

// quantities hands over what repeats of a force come to. f names site and
// direction.
func (r *Repeats) quantities(f *quantity.Quantity, state string, emit func(*quantity.Quantity)) {
	if r.N == 0 {
		return
	}
	values := [...]float64{float64(r.N), r.Mean, r.SD, r.Low, r.High, r.Lower, r.Spread, r.CV}
	shown := len(values)
	switch {
	case r.N == 1:
		shown = 2 // count and mean
	case !r.HasSpread():
		shown = 6
	}
	for i, value := range values[:shown] {
		row := &repeatQuantities[i]
		if r.saysNothing(row.rested) {
			continue
		}
		f.Name, f.Value, f.Unit, f.Say = row.rested, micro(value), row.unit, message.Message{}
		if state == "tired" {
			f.Name = row.tired
		}
		if i == 1 {
			f.Say = message.New("strength.mean",
				message.Word("direction", f.Direction), message.Word("state", state), message.Inner("repeats", r.Say("gf")))
		}
		emit(f)
	}
}
