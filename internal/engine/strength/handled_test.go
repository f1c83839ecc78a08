package strength_test

import (
	"fmt"
	"testing"

	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/strength"
	"doorsill/internal/model"
)

// missed is a command, stop or release that did not come.
func missed(what strength.What, n int) []strength.Reading {
	var list []strength.Reading
	for range n {
		list = append(list, strength.Reading{What: what, Site: site, Supported: true, Missed: true, Value: 99})
	}
	return list
}

// times is one value several times.
func times(n int, value float64) []float64 {
	list := make([]float64, n)
	for i := range list {
		list[i] = value
	}
	return list
}

// switchedSetup is a head pad or the like.
func switchedSetup(class string) *strength.Setup {
	s := setup(0)
	s.Class, s.StartGF, s.TravelMM = class, 0, 0
	return s
}

// TestCommandsThatCame: ten are asked. Fewer are thin, unless so many were missed
// that 80 % of ten cannot be reached any more.
func TestCommandsThatCame(t *testing.T) {
	for _, c := range []struct {
		hits, missed int
		want         string
		thin         bool
	}{
		{0, 0, "", false}, {10, 0, "100", false}, {9, 0, "100", true}, {9, 1, "90", false}, {3, 2, "60", true}, {3, 3, "50", false}, {0, 3, "0", false}, {0, 2, "0", true}, {17, 3, "85", false}, {1, 0, "100", true},
	} {
		a := strength.Analyse(append(only(strength.Command, times(c.hits, 1.5)...), missed(strength.Command, c.missed)...), switchedSetup("switched"))
		got := ""
		if a.Hits.Origin == quantity.Measured {
			got = a.Hits.Value.Text()
		}
		if got != c.want || a.Hits.Thin != c.thin {
			t.Errorf("%d came, %d did not: %q, thin %v; want %q, %v", c.hits, c.missed, got, a.Hits.Thin, c.want, c.thin)
		}
		code := "strength.command-hits"
		if c.thin || c.want == "" {
			code = "strength.commands-tried"
			if want := fmt.Sprintf("strength.commands-tried tried=%d wanted=10", c.hits+c.missed); a.Hits.Say.String() != want {
				t.Errorf("%d came, %d did not: %s, want %s", c.hits, c.missed, a.Hits.Say.String(), want)
			}
		}
		if a.Hits.Say.Code != code {
			t.Errorf("%d came, %d did not: %s, want %s", c.hits, c.missed, a.Hits.Say.String(), code)
		}
	}
	a := strength.Analyse(append(only(strength.Command, 1, 4, 2), missed(strength.Command, 7)...), switchedSetup("switched"))
	if want := "strength.command-hits hits=3 tried=10 slowest=4"; a.Hits.Say.String() != want || a.Hits.Value.Text() != "30" {
		t.Errorf("%s, %s; want %s", a.Hits.Say.String(), a.Hits.Value.Text(), want)
	}
}

// TestWhatIsCountedOfASwitchedControl: the most that nobody asked, the most steps;
// of other controls it has no meaning.
func TestWhatIsCountedOfASwitchedControl(t *testing.T) {
	readings := joined(only(strength.Unasked, 1, 4, 0), only(strength.Steps, 2, 5, 3), only(strength.Command, times(10, 1)...))
	a := strength.Analyse(readings, switchedSetup("scanning"))
	if a.Unasked.Value.Text() != "4" || a.Steps.Value.Text() != "5" || a.Unasked.Origin != quantity.Measured || a.Steps.Origin != quantity.Measured || a.Unasked.Unit != "per-10-min" || a.Steps.Unit != "steps" || a.Hits.Unit != "%" {
		t.Errorf("unasked %+v, steps %+v", a.Unasked, a.Steps)
	}
	if a.Unasked.Say.String() != "strength.unasked most=4" || a.Steps.Say.String() != "strength.steps most=5" {
		t.Errorf("%s, %s", a.Unasked.Say.String(), a.Steps.Say.String())
	}
	a = strength.Analyse(nil, switchedSetup("scanning"))
	if a.Unasked.Origin != quantity.Missing || a.Steps.Origin != quantity.Missing || a.Unasked.Say.Code != "strength.unasked-not-counted" || a.Steps.Say.Code != "strength.steps-not-counted" {
		t.Errorf("nothing counted: %+v, %+v", a.Unasked, a.Steps)
	}
	a = strength.Analyse(joined(only(strength.Unasked, 1), only(strength.Steps, 1)), switchedSetup("scanning"))
	if a.Unasked.Value.Text() != "1" || a.Steps.Value.Text() != "1" {
		t.Errorf("one count of 1: unasked %+v, steps %+v", a.Unasked, a.Steps)
	}
	// What no force starts may start unmeant, and is not switched.
	touchless := switchedSetup("non-contact")
	a = strength.Analyse(readings, touchless)
	if a.Unasked.Value.Text() != "4" || a.Unasked.Origin != quantity.Measured {
		t.Errorf("without a touch: unasked %+v", a.Unasked)
	}
	stick := strength.Analyse(readings, setup(10))
	for _, q := range []quantity.Quantity{stick.Hits, stick.Unasked, stick.Steps, a.Hits, a.Steps} {
		if q.Origin != quantity.NotAsked || q.Say.Code != "strength.not-switched" {
			t.Errorf("of what is not switched: %+v", q)
		}
	}
}

// TestBreath: the least pressure reached over the one asked, tired where there is
// a tired one, else 0.7 of the rested.
func TestBreath(t *testing.T) {
	tired := func(values ...float64) []strength.Reading {
		list := only(strength.Breath, values...)
		for i := range list {
			list[i].Tired = true
		}
		return list
	}
	for _, c := range []struct {
		name     string
		readings []strength.Reading
		asked    float64
		class    string
		want     string
		origin   quantity.Origin
		code     string
	}{
		{"rested", only(strength.Breath, 6, 5, 8), 2, "breath", "1.75", quantity.Assumed, "strength.breath-assumed usable=3.5 factor=0.7 asked=2 reserve=1.75"},
		{"rested and tired", joined(only(strength.Breath, 6, 5), tired(4, 3)), 2, "breath", "1.5", quantity.Measured, "strength.breath usable=3 asked=2 reserve=1.5"},
		{"weaker rested", joined(only(strength.Breath, 2), tired(4, 3)), 2, "breath", "1", quantity.Measured, "strength.breath usable=2 asked=2 reserve=1"},
		{"tired alone", tired(4), 2, "breath", "2", quantity.Measured, "strength.breath usable=4 asked=2 reserve=2"},
		{"nothing", nil, 2, "breath", "0", quantity.Missing, "strength.breath-not-measured"},
		{"pressure not entered", tired(4), 0, "breath", "0", quantity.Missing, "strength.breath-not-entered"},
		{"not by breath", tired(4), 2, "scanning", "0", quantity.NotAsked, "strength.not-breath"},
	} {
		s := switchedSetup(c.class)
		s.BreathKPa = c.asked
		if a := strength.Analyse(c.readings, s); a.Breath.Value.Text() != c.want || a.Breath.Origin != c.origin || a.Breath.Say.String() != c.code || a.Breath.Unit != "ratio" || a.Breath.Site != site {
			t.Errorf("%s: %+v, %s; want %s, %s", c.name, a.Breath, a.Breath.Say.String(), c.want, c.code)
		}
	}
}

// TestReleasesAndStops: of five releases the slowest counts, and of ten stop
// commands where letting go is no brake; fewer count once one is above 2.5 s, or
// did not come.
func TestReleasesAndStops(t *testing.T) {
	latched := setup(10)
	latched.Mode = model.DriveLatched
	release, stop := strength.Release, strength.StopCommand
	for _, c := range []struct {
		name     string
		setup    *strength.Setup
		readings []strength.Reading
		want     string
		missed   int
		say      string
	}{
		{"five", setup(10), only(release, 1, 2.5, 1, 1, 1), "2.5", 0, "strength.release tried=5 slowest=2.5"},
		{"four", setup(10), only(release, 1, 2.5, 1, 1), "", 0, "strength.releases-timed tried=4 wanted=5"},
		{"one too slow", setup(10), only(release, 2.500001), "2.500001", 0, "strength.release tried=1 slowest=2.500001"},
		{"four and one missed", setup(10), joined(only(release, 1, 2, 1, 1), missed(release, 1)), "2", 1, "strength.releases-missed missed=1 tried=5"},
		{"only missed", setup(10), missed(release, 2), "0", 2, "strength.releases-missed missed=2 tried=2"},
		{"none", setup(10), nil, "", 0, "strength.releases-timed tried=0 wanted=5"},
		{"stops of a stick", setup(10), only(stop, times(10, 1)...), "", 0, "strength.releases-timed tried=0 wanted=5"},
		{"ten stops, latched", latched, joined(only(stop, times(9, 1)...), only(stop, 2)), "2", 0, "strength.stops tried=10 slowest=2"},
		{"nine stops, latched", latched, only(stop, times(9, 1)...), "", 0, "strength.stops-tried tried=9 wanted=10"},
		{"a stop too slow", latched, only(stop, 2.500001), "2.500001", 0, "strength.stops tried=1 slowest=2.500001"},
		{"a stop at 2.5 s", latched, only(stop, 2.5), "", 0, "strength.stops-tried tried=1 wanted=10"},
		{"a stop missed", latched, joined(only(stop, 1), missed(stop, 1)), "1", 1, "strength.stops-missed missed=1 tried=2"},
		{"latched, only releases", latched, only(release, 1, 1, 1, 1, 1), "", 0, "strength.stops-tried tried=0 wanted=10"},
		{"switched, releases", switchedSetup("switched"), only(release, 1, 1, 1, 1, 2), "2", 0, "strength.release tried=5 slowest=2"},
		{"switched, stops", switchedSetup("switched"), joined(only(release, 1, 1, 1, 1, 2), only(stop, 3)), "3", 0, "strength.stops tried=1 slowest=3"},
		{"switched, a stop missed", switchedSetup("switched"), joined(only(release, 1, 1, 1, 1, 2), missed(stop, 1)), "0", 1, "strength.stops-missed missed=1 tried=1"},
	} {
		a := strength.Analyse(c.readings, c.setup)
		got := ""
		if a.Release.Origin == quantity.Measured {
			got = a.Release.Value.Text()
		}
		if got != c.want || a.Missed != c.missed || a.Release.Say.String() != c.say || a.Release.Unit != "s" {
			t.Errorf("%s: %q, %d missed, %s; want %q, %d, %s", c.name, got, a.Missed, a.Release.Say.String(), c.want, c.missed, c.say)
		}
	}
}

// TestHolds: the shortest counts, and of what need not be held none.
func TestHolds(t *testing.T) {
	momentary := setup(10)
	momentary.Mode = model.DriveMomentary
	for _, c := range []struct {
		setup    *strength.Setup
		readings []strength.Reading
		want     string
	}{
		{setup(10), only(strength.Hold, 90), "90 strength.held held=90"},
		{setup(10), only(strength.Hold, 90, 24, 60), "24 strength.held-shortest held=24 n=3"},
		{setup(10), nil, "0 strength.hold-not-timed most=120"},
		{momentary, only(strength.Hold, 90), "0 strength.not-held"},
	} {
		a := strength.Analyse(c.readings, c.setup)
		if got := a.Hold.Value.Text() + " " + a.Hold.Say.String(); got != c.want || (a.Hold.Origin == quantity.NotAsked) != (c.setup == momentary) {
			t.Errorf("%s (%v), want %s", got, a.Hold.Origin, c.want)
		}
	}
}

// TestNoise: the largest force not meant over the force that starts the control,
// where a force starts it.
func TestNoise(t *testing.T) {
	starting := func(class string, start, operate float64) *strength.Setup {
		s := setup(operate)
		s.Class, s.StartGF = class, start
		return s
	}
	pushed := only(strength.Unintended, 1, 3, 2)
	for _, c := range []struct {
		name     string
		setup    *strength.Setup
		readings []strength.Reading
		want     string
		origin   quantity.Origin
	}{
		{"a stick", starting("small", 4, 10), pushed, "0.75 strength.noise unintended=3 start=4 part=0.75", quantity.Measured},
		{"not measured", starting("small", 4, 10), nil, "0 strength.noise-not-measured", quantity.Missing},
		{"start not entered", starting("small", 0, 10), pushed, "0 strength.start-not-entered", quantity.Missing},
		{"start and force not entered", starting("small", 0, 0), pushed, "0 strength.start-not-entered", quantity.Missing},
		{"no force at all", starting("non-contact", 0, 0), pushed, "0 strength.not-started-by-force", quantity.NotAsked},
		{"no-touch with a force", starting("non-contact", 0, 5), pushed, "0 strength.start-not-entered", quantity.Missing},
		{"no-touch with a start", starting("non-contact", 4, 0), pushed, "0.75 strength.noise unintended=3 start=4 part=0.75", quantity.Measured},
		{"a switch without a start", starting("switched", 0, 5), pushed, "0 strength.not-started-by-force", quantity.NotAsked},
		{"a switch without a reading", starting("switched", 4, 5), nil, "0 strength.not-started-by-force", quantity.NotAsked},
		{"a switch with both", starting("switched", 4, 5), pushed, "0.75 strength.noise unintended=3 start=4 part=0.75", quantity.Measured},
	} {
		a := strength.Analyse(c.readings, c.setup)
		if got := a.Noise.Value.Text() + " " + a.Noise.Say.String(); got != c.want || a.Noise.Origin != c.origin {
			t.Errorf("%s: %s (%v), want %s (%v)", c.name, got, a.Noise.Origin, c.want, c.origin)
		}
	}
}

// with is readings that were taken with a control.
func with(class, control string, list []strength.Reading) []strength.Reading {
	for i := range list {
		list[i].Class, list[i].Control = class, control
	}
	return list
}

// TestReadingsOfOtherControls count for the chosen one only where nothing was
// found with it and it may borrow; every kind of reading is counted among those
// that were left out.
func TestReadingsOfOtherControls(t *testing.T) {
	own, other := func(list []strength.Reading) []strength.Reading { return with("very-light", "Grey", list) },
		func(list []strength.Reading) []strength.Reading { return with("small", "Blue", list) }
	s := setup(10)
	s.Control = "Grey"
	tired := only(strength.Breath, 3)
	tired[0].Tired = true
	every := joined(only(strength.Hold, 9, 8), only(strength.Release, 1), missed(strength.Release, 1), only(strength.Unintended, 2), only(strength.Command, 1), missed(strength.Command, 1),
		only(strength.StopCommand, 1), missed(strength.StopCommand, 1), only(strength.Unasked, 1), only(strength.Steps, 1), only(strength.Breath, 4), tired)
	a := strength.Analyse(other(every), s)
	if a.Hold.Has() || a.Release.Has() || a.Noise.Has() || a.Missed != 0 || a.At(site).Others(s) != 13 {
		t.Errorf("hold %v, release %v, noise %v; %d others of 13", a.Hold.Has(), a.Release.Has(), a.Noise.Has(), a.At(site).Others(s))
	}
	if len(a.Notes) != 1 || a.Notes[0].String() != "strength.other-control site=index-right n=13" {
		t.Errorf("notes %v", a.Notes)
	}
	s.Borrow = true
	a = strength.Analyse(other(every), s)
	if a.Hold.Value.Text() != "8" || a.Missed != 1 || a.Noise.Value.Text() != "0.5" || a.Hold.Say.String() != "strength.borrowed found=[strength.held-shortest held=8 n=2]" {
		t.Errorf("borrowed: hold %s, %d missed, noise %s; %s", a.Hold.Value.Text(), a.Missed, a.Noise.Value.Text(), a.Hold.Say.String())
	}
	h := a.At(site).With(s)
	if !h.Borrowed || h.Holds.N != 2 || h.Releases.N != 1 || h.Unintended.N != 1 || h.Commands.N != 1 || h.Stops.N != 1 || h.Unasked.N != 1 || h.Steps.N != 1 || h.Breath.Top != 4 || h.BreathTired.Top != 3 ||
		h.CommandsMissed != 1 || h.StopsMissed != 1 || h.Missed != 1 {
		t.Errorf("borrowed %+v", h)
	}
	// One reading with the own control ends that, and one that names none counts for each.
	a = strength.Analyse(joined(other(only(strength.Hold, 9, 8)), own(only(strength.Hold, 20)), only(strength.Hold, 15)), s)
	if a.Hold.Value.Text() != "15" || a.Hold.Say.Code != "strength.held-shortest" || a.At(site).Others(s) != 2 {
		t.Errorf("its own: %s s, %s, %d others", a.Hold.Value.Text(), a.Hold.Say.String(), a.At(site).Others(s))
	}
	// One that names no control and says nothing of the hold leaves it as it is.
	a = strength.Analyse(joined(own(only(strength.Hold, 20)), only(strength.Release, 1)), s)
	if a.Hold.Value.Text() != "20" {
		t.Errorf("beside a release: held %s s", a.Hold.Value.Text())
	}
	// At a site, and with the support, that count.
	loose := only(strength.Hold, 5)
	loose[0].Supported = false
	a = strength.Analyse(joined(at("chin", only(strength.Hold, 3)), loose, only(strength.Hold, 40, 30)), s)
	if a.Hold.Value.Text() != "30" || a.Hold.Say.String() != "strength.held-shortest held=30 n=2" {
		t.Errorf("beside another site and support: %s", a.Hold.Say.String())
	}
	// Several readings with each of several others, in turn.
	a = strength.Analyse(joined(other(only(strength.Hold, 9)), with("standard", "Red", only(strength.Hold, 7)), other(only(strength.Hold, 11))), s)
	if h := a.At(site).With(s); h.Holds.N != 3 || h.Holds.Least != 7 || h.Holds.Top != 11 {
		t.Errorf("of two others: %+v", h.Holds)
	}
	a = strength.Analyse(nil, s)
	if h := a.At("chin").With(s); h != (strength.Handling{}) {
		t.Errorf("of nothing: %+v", h)
	}
}
