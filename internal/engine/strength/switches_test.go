package strength_test

import (
	"testing"

	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/strength"
)

// press is two readings of one force at a switch, tired so that nothing is
// assumed.
func press(what strength.What, at string, gf float64) []strength.Reading {
	r := strength.Reading{What: what, Site: at, Direction: strength.Press, Tired: true, Supported: true, Value: gf}
	rested := r
	rested.Tired = false
	return []strength.Reading{r, r, rested, rested}
}

// pressing is a control whose switches ask for so much: both, power, mode.
func pressing(both, power, mode float64) *strength.Setup {
	s := setup(10)
	s.SwitchPressGF, s.OwnPressGF[strength.PowerSwitch], s.OwnPressGF[strength.ModeSwitch] = both, power, mode
	return s
}

func joined(lists ...[]strength.Reading) (all []strength.Reading) {
	for _, list := range lists {
		all = append(all, list...)
	}
	return all
}

// TestSwitchReserveOfTwoSwitches: the weaker of two counts. While one of them
// was not measured the reserve is open, unless the other is too heavy already:
// below 3, which is what a switch must have that is relied on (TRADE.md, section
// 4.5, and "mnt-swforce" of section 3.3: from 3 it is enough).
func TestSwitchReserveOfTwoSwitches(t *testing.T) {
	both, power, mode := strength.SwitchForce, strength.PowerForce, strength.ModeForce
	for _, c := range []struct {
		name     string
		setup    *strength.Setup
		readings []strength.Reading
		want     string // the reserve, or nothing while it is open
	}{
		{"no switch", pressing(0, 0, 0), press(both, "thumb-left", 300), ""},
		{"one force for both", pressing(100, 0, 0), press(both, "thumb-left", 300), "3"},
		{"nothing measured", pressing(100, 0, 0), nil, ""},
		{"power is weaker", pressing(100, 0, 0), joined(press(power, "thumb-left", 310), press(mode, "thumb-left", 390)), "3.1"},
		{"mode is weaker", pressing(100, 0, 0), joined(press(power, "thumb-left", 390), press(mode, "thumb-left", 310)), "3.1"},
		{"alike", pressing(100, 0, 0), joined(press(power, "thumb-left", 300), press(mode, "thumb-left", 300)), "3"},
		{"weaker by what it asks", pressing(0, 100, 130), joined(press(power, "thumb-left", 390), press(mode, "thumb-left", 390)), "3"},
		{"power at 3, mode not measured", pressing(100, 0, 0), press(power, "thumb-left", 300), ""},
		{"power above 3, mode not measured", pressing(100, 0, 0), press(power, "thumb-left", 300.0001), ""},
		{"power below 3, mode not measured", pressing(100, 0, 0), press(power, "thumb-left", 299.9999), "2.999999"},
		{"mode at 3, power not measured", pressing(100, 0, 0), press(mode, "thumb-left", 300), ""},
		{"mode below 3, power not measured", pressing(100, 0, 0), press(mode, "thumb-left", 299.9999), "2.999999"},
		{"there is only a power switch", pressing(0, 100, 0), press(power, "thumb-left", 500), "5"},
		{"there is only a mode switch", pressing(0, 0, 100), press(mode, "thumb-left", 500), "5"},
		{"a reading of no switch stands for the one without its own", pressing(100, 0, 0), joined(press(power, "thumb-left", 500), press(both, "knee-left", 400)), "4"},
		{"and for neither once both have their own", pressing(100, 0, 0),
			joined(press(power, "thumb-left", 500), press(mode, "thumb-left", 600), press(both, "knee-left", 100)), "5"},
		{"the weakest site of a switch", pressing(0, 0, 100), joined(press(mode, "knee-left", 500), press(mode, "thumb-left", 400), press(mode, "toe-left", 600)), "4"},
	} {
		a := strength.Analyse(c.readings, c.setup)
		if got := a.Switch; got.Has() != (c.want != "") || got.Has() && got.Value.Text() != c.want {
			t.Errorf("%s: reserve %s (%v), want %q: %s", c.name, got.Value.Text(), got.Origin, c.want, said(got.Say))
		}
	}
}

// TestEachSwitchHasItsOwnReserve, and one that stands for both says so of each.
func TestEachSwitchHasItsOwnReserve(t *testing.T) {
	a := strength.Analyse(joined(press(strength.PowerForce, "thumb-left", 250), press(strength.ModeForce, "knee-left", 400)), pressing(100, 0, 0))
	power, mode := a.Own[strength.PowerSwitch], a.Own[strength.ModeSwitch]
	if !a.Apart || power.Value.Text() != "2.5" || power.Site != "thumb-left" || mode.Value.Text() != "4" || mode.Site != "knee-left" {
		t.Errorf("apart %v; power %s at %s, mode %s at %s", a.Apart, power.Value.Text(), power.Site, mode.Value.Text(), mode.Site)
	}
	if a.Switch.Name != "switch-reserve" || power.Name != "switch-reserve-power" || mode.Name != "switch-reserve-mode" {
		t.Errorf("named %s, %s and %s", a.Switch.Name, power.Name, mode.Name)
	}
	a = strength.Analyse(press(strength.SwitchForce, "thumb-left", 250), pressing(100, 0, 0))
	if power, mode := a.Own[strength.PowerSwitch], a.Own[strength.ModeSwitch]; a.Apart || power.Value.Text() != "2.5" || mode.Value.Text() != "2.5" {
		t.Errorf("apart %v; power %s, mode %s", a.Apart, power.Value.Text(), mode.Value.Text())
	}
	for name, s := range map[string]*strength.Setup{"power": pressing(0, 1, 0), "mode": pressing(0, 0, 1)} {
		if a := strength.Analyse(press(strength.SwitchForce, "thumb-left", 250), s); !a.Apart {
			t.Errorf("a force of the %s switch alone does not tell the two apart", name)
		}
	}
}

// TestASwitchReserveWithoutATiredReading is that of 0.7 of the rested force, and
// said to be assumed (TRADE.md 4.2).
func TestASwitchReserveWithoutATiredReading(t *testing.T) {
	r := strength.Reading{What: strength.ModeForce, Site: "thumb-left", Direction: strength.Press, Supported: true, Value: 500}
	a := strength.Analyse([]strength.Reading{r, r, r}, pressing(0, 0, 100))
	if a.Switch.Value.Text() != "3.5" || a.Switch.Origin != quantity.Assumed {
		t.Errorf("reserve %s (%v)", a.Switch.Value.Text(), a.Switch.Origin)
	}
}
