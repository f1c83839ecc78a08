package access_test

import (
	"strings"
	"testing"

	"doorsill/internal/engine/access"
	"doorsill/internal/engine/strength"
	"doorsill/internal/model"
)

// TestABaseThatMovesMakesNothingBetter: what refuses a control without asking for
// its force does so on any base.
func TestABaseThatMovesMakesNothingBetter(t *testing.T) {
	for rule, change := range map[string]func(*client){
		"latched": func(c *client) { c.setup.Mode = model.DriveLatched },
		"hits":    func(c *client) { c.without(strength.Command).tried(strength.Command, 7, 3) },
		"unasked": func(c *client) { c.counted(strength.Unasked, 9) },
		"breath": func(c *client) {
			c.setup.Class, c.setup.BreathKPa = "breath", 2
			c.in.Needs.BreathLeak, c.in.Needs.Tracheostomy = new(false), new(false)
			c.counted(strength.Breath, 1)
		},
		"wet":    func(c *client) { c.in.Needs.Moisture = map[string]string{"head-left": "wet"} },
		"helper": func(c *client) { c.in.Needs.HelperDrives = new(true) },
	} {
		for _, base := range []string{"stable", "moves"} {
			who := pad("switched", "momentary")
			change(who)
			who.in.Needs.Base = base
			if r := who.judged(); r.Indoors != access.NotFeasible || reasonOf(t, r.Reasons, rule).Verdict != access.NotFeasible {
				t.Errorf("%s on a base that is %s: %v: %s", rule, base, r.Indoors, said(r.Say))
			}
		}
	}
	good := pad("switched", "momentary")
	good.in.Needs.Base = "moves"
	if r := good.judged(); r.Indoors != access.Unknown || len(r.Reasons) != 1 {
		t.Errorf("nothing refuses it, and it is %v: %v", r.Indoors, r.Reasons)
	}
}

func TestAHelperAndAControlWithoutForce(t *testing.T) {
	who := pad("switched", "momentary")
	who.in.Needs.HelperDrives = new(true)
	if say := said(reasonOf(t, who.judged().Reasons, "helper").Say); !strings.Contains(say, "asks no force") || strings.Contains(say, "0 gf") {
		t.Error(say)
	}
}

// TestTheChosenControlIsTheOneOfItsName: another control of the kit with the same
// figures lends it no sealing; of two that may be meant the worse counts.
func TestTheChosenControlIsTheOneOfItsName(t *testing.T) {
	for _, c := range []struct {
		chosen string
		seals  [2]string
		want   access.Verdict
	}{
		{"open", [2]string{"IP55", ""}, access.NotFeasible},
		{"sealed", [2]string{"IP55", ""}, access.Feasible},
		{"a third", [2]string{"IP55", "IP55"}, access.NotFeasible},
		{"", [2]string{"IP55", ""}, access.NotFeasible},
		{"", [2]string{"IP53", "IP55"}, access.NotFeasible},
		{"", [2]string{"", "IP55"}, access.NotFeasible},
		{"", [2]string{"IP54", "IP55"}, access.Feasible},
	} {
		who := measured("hand-right", alike(400), alike(400)).chose("small", "hand-right", 20, 50, 4)
		who.setup.Control = c.chosen
		for i, name := range []string{"sealed", "open"} {
			k := kitOf(name, "small", 20, 50, 4)
			k.Name, k.Sealing = name, c.seals[i]
			who.in.Kit = append(who.in.Kit, k)
		}
		who.in.Needs.Moisture = map[string]string{"hand-right": "wet"}
		if got := reasonOf(t, who.judged().Reasons, "wet").Verdict; got != c.want {
			t.Errorf("%q of %v: %v, want %v", c.chosen, c.seals, got, c.want)
		}
	}
}

// TestAChosenSiteThatIsRuledOut: nobody can say both, so nothing is known.
func TestAChosenSiteThatIsRuledOut(t *testing.T) {
	for site, want := range map[string]access.Verdict{"hand-right": access.Unknown, "hand-left": access.Feasible} {
		who := measured("hand-right", alike(400), alike(400)).chose("small", "hand-right", 20, 50, 4)
		who.in.Needs.Rejected = map[string]string{site: "hurts after lunch."}
		if r := who.judged(); r.Indoors != want || r.Outdoors != want {
			t.Errorf("%s ruled out: %v, %v, want %v: %s", site, r.Indoors, r.Outdoors, want, said(r.Say))
		}
	}
}

func TestASlowStopCommandIsTriedAgainAsOne(t *testing.T) {
	slow := pad("switched", "momentary").counted(strength.StopCommand, 2.1)
	if change := said(reasonOf(t, slow.judged().Reasons, "release").Change); !strings.Contains(change, "call “stop” 10 times again") {
		t.Error(change)
	}
}

// TestADirectionThatIsNotAskedIsNotJudged: a weak direction is not escaped by leaving
// it out of what the control is asked, but for reverse with a proven key.
func TestADirectionThatIsNotAskedIsNotJudged(t *testing.T) {
	const f, b, l, r = strength.Forward, strength.Reverse, strength.Left, strength.Right
	for _, c := range []struct {
		name   string
		class  string
		needed []strength.Direction
		key    bool
		want   access.Verdict
	}{
		{"every way", "small", four, false, access.Feasible},
		{"without left", "small", []strength.Direction{f, b, r}, false, access.Unknown},
		{"without forward", "small", []strength.Direction{b, l, r}, true, access.Unknown},
		{"forward alone", "small", []strength.Direction{f}, true, access.Unknown},
		{"without reverse", "small", []strength.Direction{f, l, r}, false, access.Unknown},
		{"reverse by a key", "small", []strength.Direction{f, l, r}, true, access.Feasible},
		{"every way, and a key", "small", four, true, access.Feasible},
	} {
		who := measured("hand-right", alike(400), alike(400)).chose(c.class, "hand-right", 20, 50, 4)
		who.setup.Needed = c.needed
		if c.key {
			who.pressing(180, 60).in.Needs.ReverseKey = new(true)
		}
		if got := who.judged(); got.Indoors != c.want {
			t.Errorf("%s: %v, want %v: %s", c.name, got.Indoors, c.want, said(got.Say))
		}
	}
	pads := pad("switched", "momentary") // asked forward alone
	if got := pads.judged(); got.Indoors != access.Feasible {
		t.Errorf("head pads: %v: %s", got.Indoors, said(got.Say))
	}
}
