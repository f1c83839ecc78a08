package strength_test

import (
	"strconv"
	"strings"
	"testing"

	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
	"doorsill/internal/phrase"
)

var english = phrase.NewWriter(phrase.English(), nil)

// said words messages, a line each.
func said(messages ...message.Message) string {
	var lines []string
	for i := range messages {
		lines = append(lines, english.Text(&messages[i]))
	}
	return strings.Join(lines, "\n")
}

const site = "index-right"

// pulls is three equal readings rested and tired in all four directions.
func pulls(at, gf string) []strength.Reading {
	value, err := strconv.ParseFloat(gf, 64)
	if err != nil {
		panic(err)
	}
	var list []strength.Reading
	for d := strength.Forward; d <= strength.Right; d++ {
		for range 3 {
			r := strength.Reading{What: strength.Force, Site: at, Direction: d, Supported: true, Value: value}
			tired := r
			tired.Tired = true
			list = append(list, r, tired)
		}
	}
	return list
}

func setup(operate float64) *strength.Setup {
	s := &strength.Setup{Class: "very-light", Site: site, StartGF: 4, OperateGF: operate, TravelMM: 3,
		Needed: []strength.Direction{strength.Forward, strength.Reverse, strength.Left, strength.Right}}
	for d := range s.Throw {
		s.Throw[d] = 100
	}
	return s
}

func force(d strength.Direction, tired, supported bool, values ...float64) []strength.Reading {
	var list []strength.Reading
	for _, v := range values {
		list = append(list, strength.Reading{What: strength.Force, Site: site, Direction: d, Tired: tired, Supported: supported, Value: v})
	}
	return list
}

func only(what strength.What, values ...float64) []strength.Reading {
	var list []strength.Reading
	for _, v := range values {
		list = append(list, strength.Reading{What: what, Site: site, Supported: true, Value: v})
	}
	return list
}

func TestWorstNeededDirectionCounts(t *testing.T) {
	readings := append(pulls(site, "80"), force(strength.Left, true, true, 10, 10, 10)...) // left tired mean 45
	a := strength.Analyse(readings, setup(10))
	if got := a.Reserve.Value.Text(); got != "4.5" || a.Reserve.Direction != "left" {
		t.Errorf("reserve %s %s, want 4.5 left: %s", got, a.Reserve.Direction, said(a.Reserve.Say))
	}
	s := setup(10)
	s.Needed = []strength.Direction{strength.Forward, strength.Right}
	if a = strength.Analyse(readings, s); a.Reserve.Value.Text() != "8" || a.Reserve.Direction != "forward" {
		t.Errorf("without left and reverse: %s, want 8 forward", said(a.Reserve.Say))
	}
}

func TestTheSmallerOfRestedAndTiredCounts(t *testing.T) {
	for _, c := range []struct {
		name          string
		rested, tired []float64
		usable        string
		origin        quantity.Origin
	}{
		{"tired is less", []float64{60, 60, 60}, []float64{50, 50, 50}, "5", quantity.Measured},
		{"rested is less", []float64{40, 40, 40}, []float64{50, 50, 50}, "4", quantity.Measured},
		{"no tired reading", []float64{60, 60, 60}, nil, "4.2", quantity.Assumed},
		{"no rested reading", nil, []float64{50}, "5", quantity.Measured},
		{"tried and nothing came", []float64{0, 0, 0}, []float64{0}, "0", quantity.Measured},
	} {
		s := setup(10)
		s.Needed = []strength.Direction{strength.Forward}
		a := strength.Analyse(append(force(strength.Forward, false, true, c.rested...), force(strength.Forward, true, true, c.tired...)...), s)
		if got := a.Reserve.Value.Text(); got != c.usable || a.Reserve.Origin != c.origin {
			t.Errorf("%s: reserve %s, origin %v; want %s, %v", c.name, got, a.Reserve.Origin, c.usable, c.origin)
		}
		if assumed := a.Reserve.Say.Code == "strength.reserve-assumed"; assumed != (c.origin == quantity.Assumed) {
			t.Errorf("%s: %q", c.name, said(a.Reserve.Say))
		}
	}
}

func TestADirectionWithoutReadingsIsNeverGuessed(t *testing.T) {
	good := append(force(strength.Forward, false, true, 60, 60, 60), force(strength.Reverse, false, true, 60, 60, 60)...)
	a := strength.Analyse(good, setup(10))
	if a.Reserve.Has() || said(a.Reserve.Say) != "No force reading at the right index finger for: left, right." {
		t.Errorf("reserve %v: %s", a.Reserve.Has(), said(a.Reserve.Say))
	}
	// What is short already cannot get better by measuring more.
	a = strength.Analyse(force(strength.Forward, false, true, 10, 10, 10), setup(10))
	if !a.Reserve.Has() || a.Reserve.Value.Text() != "0.7" {
		t.Errorf("a short direction was not counted: %s", said(a.Reserve.Say))
	}
}

func TestSupportedAndUnsupportedAreNeverMixed(t *testing.T) {
	readings := append(pulls(site, "50"), force(strength.Left, true, false, 5, 5, 5)...)
	a := strength.Analyse(readings, setup(10))
	if got := a.Reserve.Value.Text(); got != "5" {
		t.Errorf("reserve %s, want 5 from the supported readings alone", got)
	}
	if !strings.Contains(said(a.Notes...), "3 without support are kept apart") {
		t.Errorf("nobody says what was left out: %q", said(a.Notes...))
	}
	s := setup(10)
	s.Needed = []strength.Direction{strength.Left}
	a = strength.Analyse(force(strength.Left, true, false, 30, 30, 30), s)
	if a.Reserve.Value.Text() != "3" || !strings.Contains(said(a.Notes...), "without support") {
		t.Errorf("unsupported alone: %s %q", said(a.Reserve.Say), said(a.Notes...))
	}
}

func TestReleaseIsTheSlowestOfFive(t *testing.T) {
	missed := strength.Reading{What: strength.Release, Site: site, Supported: true, Missed: true}
	for _, c := range []struct {
		name     string
		readings []strength.Reading
		has      bool
		value    string
		missed   int
	}{
		{"five", only(strength.Release, 0.5, 1.2, 0.7, 0.6, 0.9), true, "1.2", 0},
		{"four do not make a figure", only(strength.Release, 0.5, 0.5, 0.5, 0.5), false, "0", 0},
		{"four with one that is too slow", only(strength.Release, 0.5, 2.6, 0.5, 0.5), true, "2.6", 0},
		{"one missed", append(only(strength.Release, 0.5), missed), true, "0.5", 1},
		{"none", nil, false, "0", 0},
	} {
		a := strength.Analyse(c.readings, setup(10))
		if a.Release.Has() != c.has || a.Release.Value.Text() != c.value || a.Missed != c.missed {
			t.Errorf("%s: has %v, %s s, %d missed: %s", c.name, a.Release.Has(), a.Release.Value.Text(), a.Missed, said(a.Release.Say))
		}
	}
}

func TestTravelAfterThrow(t *testing.T) {
	var readings []strength.Reading
	for d := strength.Forward; d <= strength.Right; d++ {
		readings = append(readings, strength.Reading{What: strength.Travel, Site: site, Direction: d, Value: 3})
	}
	s := setup(10)
	s.TravelMM, s.Throw[strength.Left] = 4, 50
	a := strength.Analyse(readings, s)
	if a.Travel.Value.Text() != "0.75" || a.Travel.Direction != "forward" {
		t.Errorf("%s, want 3 of 4 mm forward", said(a.Travel.Say))
	}
	s.Needed = []strength.Direction{strength.Left}
	if a = strength.Analyse(readings, s); a.Travel.Value.Text() != "1.5" || !strings.Contains(said(a.Travel.Say), "(50 % of 4 mm)") {
		t.Errorf("%s, want 3 of 2 mm left after throw", said(a.Travel.Say))
	}
}

func TestHoldNoiseAndSwitch(t *testing.T) {
	readings := append(only(strength.Hold, 90, 24, 60), only(strength.Unintended, 1, 3, 2)...)
	readings = append(readings,
		strength.Reading{What: strength.SwitchForce, Site: "thumb-left", Direction: strength.Press, Value: 200},
		strength.Reading{What: strength.SwitchForce, Site: "knee-left", Direction: strength.Press, Value: 900})
	s := setup(10)
	s.SwitchPressGF = 70
	a := strength.Analyse(readings, s)
	for name, c := range map[string]struct {
		got  quantity.Quantity
		want string
	}{
		"the shortest hold":                     {a.Hold, "24"},
		"the largest unintended force":          {a.Noise, "0.75"},
		"the weakest switch site, 0.7 assumed":  {a.Switch, "2"},
		"no tired reading, so no ratio of them": {a.Tired, "0"},
	} {
		if c.got.Value.Text() != c.want {
			t.Errorf("%s: %s, want %s (%s)", name, c.got.Value.Text(), c.want, said(c.got.Say))
		}
	}
	if a.Switch.Origin != quantity.Assumed || a.Tired.Has() {
		t.Errorf("switch %v, tired %v", a.Switch.Origin, a.Tired.Has())
	}
}

func TestAControlWithoutForceIsNotAskedForIt(t *testing.T) {
	s := setup(0)
	s.Class, s.StartGF, s.TravelMM = "breath", 0, 0
	a := strength.Analyse(nil, s)
	for _, f := range []quantity.Quantity{a.Reserve, a.Travel, a.Noise, a.Spread, a.Tired} {
		if f.Origin != quantity.NotAsked {
			t.Errorf("%s of a breath control: origin %v, %s", f.Name, f.Origin, said(f.Say))
		}
	}
	s.Class = "small" // here a force of 0 was forgotten
	if a = strength.Analyse(pulls(site, "60"), s); a.Reserve.Origin != quantity.Missing || a.Noise.Origin != quantity.Missing {
		t.Errorf("a stick without a force: %s %s", said(a.Reserve.Say), said(a.Noise.Say))
	}
}

func TestOddAndScatteredReadingsAreAskedAbout(t *testing.T) {
	a := strength.Analyse(force(strength.Forward, false, true, 60, 62, 130), setup(10))
	notes := said(a.Notes...)
	for _, want := range []string{"more than twice or less than half of the middle one", "spread 84 %, above 20 %"} {
		if !strings.Contains(notes, want) {
			t.Errorf("no %q in\n%s", want, notes)
		}
	}
}
