package access_test

import (
	"strings"
	"testing"

	"doorsill/internal/engine/access"
	"doorsill/internal/engine/strength"
)

// pad is somebody who drives with head pads that go while they are pressed:
// ten commands, ten stops, nothing that nobody asked.
func pad(class, mode string) *client {
	c := &client{in: access.Input{PainAsked: true}}
	c.setup = &strength.Setup{Class: class, Site: "head-left", Mode: mode, Needed: []strength.Direction{strength.Forward}}
	c.tried(strength.Command, 10, 0).tried(strength.StopCommand, 10, 0).counted(strength.Unasked, 0).counted(strength.Steps, 1)
	return c
}

func (c *client) tried(what strength.What, came, missed int) *client {
	for range came {
		c.readings = append(c.readings, strength.Reading{What: what, Site: "head-left", Tired: true, Value: 1})
	}
	for range missed {
		c.readings = append(c.readings, strength.Reading{What: what, Site: "head-left", Tired: true, Missed: true})
	}
	return c
}

func (c *client) counted(what strength.What, n float64) *client {
	c.readings = append(c.readings, strength.Reading{What: what, Site: "head-left", Tired: true, Value: n})
	return c
}

// without takes a kind of reading out.
func (c *client) without(what strength.What) *client {
	var kept []strength.Reading
	for _, r := range c.readings {
		if r.What != what {
			kept = append(kept, r)
		}
	}
	c.readings = kept
	return c
}

// TestSwitchesAreJudgedByTheirOwnRules changes one thing at a time.
func TestSwitchesAreJudgedByTheirOwnRules(t *testing.T) {
	const unknown = access.Unknown
	hold := strength.Reading{What: strength.Hold, Site: "head-left", Value: 5}
	breathing := func(rested, tired float64) *client {
		c := pad("breath", "momentary")
		c.setup.BreathKPa = 2
		c.in.Needs.BreathLeak, c.in.Needs.Tracheostomy = new(false), new(false)
		c.counted(strength.Breath, tired)
		c.readings = append(c.readings, strength.Reading{What: strength.Breath, Site: "head-left", Value: rested})
		return c
	}
	after := func(c *client, change func(*client)) *client {
		change(c)
		return c
	}
	for _, c := range []struct {
		name, rule string
		who        *client
		own, all   access.Verdict
	}{
		{"head pads", "hits", pad("switched", "momentary"), good, good},
		{"8 of 10", "hits", pad("switched", "momentary").without(strength.Command).tried(strength.Command, 8, 2), fair, fair},
		{"19 of 20", "hits", pad("switched", "momentary").without(strength.Command).tried(strength.Command, 19, 1), good, good},
		{"7 of 10", "hits", pad("switched", "momentary").without(strength.Command).tried(strength.Command, 7, 3), bad, bad},
		{"9 tried", "hits", pad("switched", "momentary").without(strength.Command).tried(strength.Command, 9, 0), unknown, unknown},
		{"3 of 5 missed already", "hits", pad("switched", "momentary").without(strength.Command).tried(strength.Command, 2, 3), bad, bad},
		{"commands not tried", "hits", pad("switched", "momentary").without(strength.Command), unknown, unknown},
		{"one stop did not come", "release", pad("switched", "momentary").tried(strength.StopCommand, 0, 1), bad, bad},
		{"a slow stop", "release", pad("switched", "momentary").counted(strength.StopCommand, 2.6), bad, bad},
		{"a stop of 2.5 s", "release", pad("switched", "momentary").counted(strength.StopCommand, 2.5), fair, fair},
		{"nine stops", "release", pad("switched", "momentary").without(strength.StopCommand).tried(strength.StopCommand, 9, 0), unknown, unknown},
		{"stops not tried", "release", pad("switched", "momentary").without(strength.StopCommand), unknown, unknown},
		{"one unasked", "unasked", pad("switched", "momentary").counted(strength.Unasked, 1), good, good},
		{"three unasked", "unasked", pad("switched", "momentary").counted(strength.Unasked, 3), fair, fair},
		{"four unasked", "unasked", pad("switched", "momentary").counted(strength.Unasked, 4), bad, bad},
		{"unasked not counted", "unasked", pad("switched", "momentary").without(strength.Unasked), unknown, unknown},
		{"scanning in two steps", "steps", pad("scanning", "momentary").counted(strength.Steps, 2), good, good},
		{"scanning in five steps", "steps", pad("scanning", "momentary").counted(strength.Steps, 5), fair, fair},
		{"scanning, steps not counted", "steps", pad("scanning", "momentary").without(strength.Steps), unknown, unknown},
		{"how it drives is not asked", "latched", pad("switched", ""), unknown, unknown},
		{"latched without a stop", "latched", pad("switched", "latched"), bad, bad},
		{"latched with a stop", "latched", after(pad("switched", "latched"), func(c *client) { c.setup.SeparateStop = true }), good, good},
		{"latched, and the stop is not tried", "release", after(pad("switched", "latched").without(strength.StopCommand), func(c *client) {
			c.setup.SeparateStop = true
			c.tried(strength.Release, 5, 0)
		}), unknown, unknown},
		{"a hold of 5 s where nothing is held", "hold", after(pad("switched", "momentary"), func(c *client) { c.readings = append(c.readings, hold) }), good, good},
		{"a hold of 5 s where it is held", "hold", after(pad("switched", "held"), func(c *client) { c.readings = append(c.readings, hold) }), fair, fair},
		{"breath", "breath", breathing(7, 6), good, good},
		{"breath, tight when tired", "breath", breathing(7, 4), fair, fair},
		{"breath, short when tired", "breath", breathing(7, 3.9), bad, bad},
		{"breath that leaks", "breath", after(breathing(7, 6), func(c *client) { c.in.Needs.BreathLeak = new(true) }), fair, fair},
		{"breath through the throat", "breath", after(breathing(7, 6), func(c *client) { c.in.Needs.Tracheostomy = new(true) }), fair, fair},
		{"breathing not asked", "breath", after(breathing(7, 6), func(c *client) { c.in.Needs.Tracheostomy = nil }), unknown, unknown},
		{"breath, pressure not entered", "breath", after(breathing(7, 6), func(c *client) { c.setup.BreathKPa = 0 }), unknown, unknown},
	} {
		r := c.who.judged()
		own := reasonOf(t, r.Reasons, c.rule)
		if own.Verdict != c.own || r.Indoors != c.all {
			t.Errorf("%s: %v, in all %v; want %v, %v: %s %s", c.name, own.Verdict, r.Indoors, c.own, c.all, said(own.Say), said(r.Say))
		}
		if (own.Verdict == good) != own.Change.Empty() {
			t.Errorf("%s: to change %q", c.name, said(own.Change))
		}
		if held := c.who.setup.Mode == "held"; r.PractiseOnly != held {
			t.Errorf("%s: practice only %v", c.name, r.PractiseOnly)
		}
	}
}

// TestALatchedStickStopsByItsOwnStop: what letting go would do says nothing of it.
func TestALatchedStickStopsByItsOwnStop(t *testing.T) {
	who := measured("hand-right", alike(210), alike(200)).chose("small", "hand-right", 20, 50, 4)
	who.setup.Mode = "latched"
	if r := who.judged(); r.Indoors != bad {
		t.Errorf("without a stop: %v", r.Indoors)
	}
	who.setup.SeparateStop = true
	r := who.judged()
	if release := reasonOf(t, r.Reasons, "release"); release.Verdict != access.Unknown || !strings.Contains(said(release.Change), "Call “stop” 10 times") {
		t.Errorf("five releases: %v, %s", release.Verdict, said(release.Change))
	}
	for range 10 {
		who.readings = append(who.readings, strength.Reading{What: strength.StopCommand, Site: "hand-right", Value: 1})
	}
	if r = who.judged(); r.Indoors != good {
		t.Errorf("ten stops: %v, %s", r.Indoors, said(r.Say))
	}
}
