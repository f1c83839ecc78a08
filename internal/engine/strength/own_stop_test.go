package strength_test

import (
	"testing"

	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/strength"
)

// stopping is a control whose own stop switch asks for so much, beside others
// that ask for 100 gf.
func stopping(stop float64) *strength.Setup {
	s := pressing(100, 0, 0)
	s.OwnPressGF[strength.StopSwitch] = stop
	return s
}

// TestTheOwnStopIsReadByItself: nothing else stands in for its force, its
// readings or the tired ones among them, and it leaves the other switches as
// they are. The reserve asked is 2.
func TestTheOwnStopIsReadByItself(t *testing.T) {
	rested := strength.Reading{What: strength.StopForce, Site: "thumb-left", Direction: strength.Press, Supported: true, Value: 900}
	others := joined(press(strength.SwitchForce, "thumb-left", 500), press(strength.PowerForce, "thumb-left", 500))
	for _, c := range []struct {
		name     string
		setup    *strength.Setup
		readings []strength.Reading
		proven   bool
	}{
		{"just enough", stopping(100), press(strength.StopForce, "thumb-left", 200), true},
		{"just short", stopping(100), press(strength.StopForce, "thumb-left", 199.9999), false},
		{"no force entered", stopping(0), press(strength.StopForce, "thumb-left", 500), false},
		{"only other switches were measured", stopping(100), others, false},
		{"only rested", stopping(100), []strength.Reading{rested, rested, rested}, false},
		{"not measured", stopping(100), nil, false},
		{"at the weaker of two sites", stopping(100), joined(press(strength.StopForce, "thumb-left", 500), press(strength.StopForce, "knee-left", 150)), false},
	} {
		a := strength.Analyse(c.readings, c.setup)
		if got := a.OwnStopProven(); got != c.proven {
			t.Errorf("%s: proven %v, want %v: %s", c.name, got, c.proven, said(a.Own[strength.StopSwitch].Say))
		}
	}
	a := strength.Analyse(joined(press(strength.SwitchForce, "thumb-left", 300), press(strength.StopForce, "knee-left", 90)), stopping(50))
	if a.Apart || a.Switch.Value.Text() != "3" || a.Switch.Site != "thumb-left" {
		t.Errorf("beside a stop: apart %v, switch reserve %s at %s", a.Apart, a.Switch.Value.Text(), a.Switch.Site)
	}
	none := strength.Analyse(nil, nil)
	if none.OwnStopProven() {
		t.Error("proven without a set-up")
	}
}

// TestTheOwnStopIsShown as soon as something is known of it.
func TestTheOwnStopIsShown(t *testing.T) {
	shown := func(setup *strength.Setup, readings []strength.Reading) (is bool) {
		a := strength.Analyse(readings, setup)
		a.Quantities(setup, func(q *quantity.Quantity) { is = is || q.Name == "switch-reserve-stop" })
		return is
	}
	if shown(stopping(0), nil) || !shown(stopping(1), nil) || !shown(stopping(0), press(strength.StopForce, "chin", 50)) {
		t.Error("shown without a stop, or not shown with one")
	}
}
