package strength

import (
	"doorsill/internal/decimal"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/message"
)

// switchNames are the quantities by switch, and the switch by its id; read only.
var switchNames = [switches]struct{ quantity, id string }{
	{"switch-reserve", "both"}, {"switch-reserve-power", "power"}, {"switch-reserve-mode", "mode"}, {"switch-reserve-stop", "stop"},
}

// switches compares usable switch force with what the switches ask. As long as
// nothing is recorded of one switch, the one force counts for both.
func (a *Analysis) switches(setup *Setup) {
	a.Own[StopSwitch] = a.switchReserve(setup, StopSwitch)
	a.Apart = setup.OwnPressGF[PowerSwitch]+setup.OwnPressGF[ModeSwitch] > 0 || a.pressed(PowerSwitch) || a.pressed(ModeSwitch)
	if !a.Apart {
		a.Switch = a.switchReserve(setup, BothSwitches)
		if a.Switch.Has() {
			a.Switch.Say = message.New("strength.one-switch-force", message.Inner("reserve", a.Switch.Say))
		}
		a.Own[PowerSwitch], a.Own[ModeSwitch] = a.Switch, a.Switch
		return
	}
	a.Own[PowerSwitch], a.Own[ModeSwitch] = a.switchReserve(setup, PowerSwitch), a.switchReserve(setup, ModeSwitch)
	a.Switch = a.weakerSwitch(setup)
	a.Switch.Name = switchNames[BothSwitches].quantity
}

// weakerSwitch is the switch with the smaller reserve. One that is there and was
// not measured leaves it missing, unless the other is already too heavy.
func (a *Analysis) weakerSwitch(setup *Setup) quantity.Quantity {
	power, mode := &a.Own[PowerSwitch], &a.Own[ModeSwitch]
	switch {
	case setup.PressGF(ModeSwitch) == 0:
		return *power
	case setup.PressGF(PowerSwitch) == 0:
		return *mode
	case !power.Has():
		power, mode = mode, power
		fallthrough
	case !mode.Has():
		if power.Has() && power.Value < micro(SwitchProven) {
			return *power
		}
		return *mode
	case mode.Value < power.Value:
		return *mode
	}
	return *power
}

// OwnStopProven reports whether a tired reading of its own shows that the driver
// can press their own stop switch with the least reserve or more.
func (a *Analysis) OwnStopProven() bool {
	stop := &a.Own[StopSwitch]
	return stop.Origin == quantity.Measured && stop.Value >= micro(ReserveTight)
}

// pressed reports whether force was read at one switch.
func (a *Analysis) pressed(at int) bool {
	for i := range a.Sites {
		for d := range a.Sites[i].Switch[at] {
			if a.Sites[i].Switch[at][d].Measured() {
				return true
			}
		}
	}
	return false
}

// switchReserve is the reserve at the weakest site of a switch. Readings of
// that switch count, and without any those that are of no switch by name.
func (a *Analysis) switchReserve(setup *Setup, at int) quantity.Quantity {
	var f quantity.Quantity
	press, which := setup.PressGF(at), message.Word("switch", switchNames[at].id)
	f.Begin(switchNames[at].quantity, "", "ratio", message.New("strength.switch-not-measured", which))
	if press == 0 {
		f.Say = message.New("strength.switch-not-entered", which)
		return f
	}
	if !a.pressed(at) && at != StopSwitch {
		at = BothSwitches
	}
	for i := range a.Sites {
		site := &a.Sites[i]
		for d := NoDirection; d < directions; d++ {
			pair := &site.Switch[at][d]
			if !pair.Measured() {
				continue
			}
			if value, ok := decimal.Ratio(pair.usable(), press); ok && (!f.Has() || value < f.Value) {
				f.Value = value
				pair.against(&f, site.ID, d, press, which)
			}
		}
	}
	return f
}

// SwitchReserve fills f with usable force over the force asked at one switch that
// was measured, one of BothSwitches to StopSwitch. The force asked is more than 0.
func SwitchReserve(f *quantity.Quantity, site *Site, at int, d Direction, asked float64) {
	pair := &site.Switch[at][d]
	f.Name, f.Unit = switchNames[at].quantity, "ratio"
	f.Value, _ = decimal.Ratio(pair.usable(), asked)
	pair.against(f, site.ID, d, asked, message.Word("switch", switchNames[at].id))
}

func (p *Pair) against(f *quantity.Quantity, site string, d Direction, press float64, which message.Arg) {
	usable, assumed := p.Usable()
	f.Site, f.Direction, f.Origin = site, d.String(), quantity.Measured
	at, force, asked, reserve := message.Word("site", site), message.Number("usable", usable), message.Number("asked", press), message.Exact("reserve", f.Value)
	if assumed {
		f.Origin = quantity.Assumed
		f.Say = message.New("strength.switch-reserve-assumed", at, force, message.Number("factor", TiredFactor), which, asked, reserve)
		return
	}
	f.Say = message.New("strength.switch-reserve", at, force, which, asked, reserve)
}
