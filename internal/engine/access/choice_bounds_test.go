package access_test

import (
	"testing"

	"doorsill/internal/decimal"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/strength"
	"doorsill/internal/model"
)

// says reports whether a choice says something with this code.
func says(c access.Choice, code string) bool {
	for i := range c.Say {
		if c.Say[i].Code == code {
			return true
		}
	}
	return false
}

// TestTheLeastSensitiveFirst at the bounds of what is heavy and what is light:
// above 80 gf and above 15 gf (TRADE.md 4.4, 2, with the classes of 4.3, 7 to 9).
// Of one class the one with more reserve goes first.
func TestTheLeastSensitiveFirst(t *testing.T) {
	for _, c := range []struct {
		one, other float64
		first      string
	}{{80, 80 + step, "other"}, {80, 79, "other"}, {15, 15 + step, "other"}, {15, 14, "other"}, {80, 16, "other"}, {81, 80, "one"}, {16, 15, "one"}} {
		who := measured("hand-right", alike(900), alike(900)).chose("small", "hand-right", 1, 50, 4)
		who.in.Kit = []model.PackedControl{kitOf("one", "small", c.one/2, c.one, 4), kitOf("other", "small", c.other/2, c.other, 4)}
		r := who.judged()
		one, other := choiceOf(t, r, "one", "hand-right").Rank, choiceOf(t, r, "other", "hand-right").Rank
		if first := map[bool]string{true: "one", false: "other"}[one < other]; one == 0 || other == 0 || first != c.first {
			t.Errorf("%v gf has place %d, %v gf place %d; want %s first", c.one, one, c.other, other, c.first)
		}
	}
}

// TestWhatAsksForALighterControl: pain above 3 or strain with the chosen one at
// its site, and a reserve below 7 in a fast course (TRADE.md 4.4, 3).
func TestWhatAsksForALighterControl(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*client)
		code   string
		want   bool
	}{
		{"pain of 3", func(c *client) { c.in.Pain = decimal.Int(3) }, "access.lighter-for-pain", false},
		{"pain above 3", func(c *client) { c.in.Pain = decimal.Int(3) + 1 }, "access.lighter-for-pain", true},
		{"pain that nobody asked about", func(c *client) { c.in.Pain, c.in.PainAsked = decimal.Int(4), false }, "access.lighter-for-pain", false},
		{"a fast course at 7", func(c *client) { c.in.Needs.Course = "fast" }, "access.lighter-for-course", false},
		{"a fast course below 7", func(c *client) { c.in.Needs.Course = "fast"; c.in.Kit[1].OperateGF = 50.001 }, "access.lighter-for-course", true},
		{"a slow course below 7", func(c *client) { c.in.Needs.Course = "slow"; c.in.Kit[1].OperateGF = 50.001 }, "access.lighter-for-course", false},
	} {
		who := measured("hand-right", alike(350), alike(350)).chose("small", "hand-right", 20, 50, 4)
		// The one that goes behind says why.
		who.in.Kit = []model.PackedControl{kitOf("lighter", "very-light", 5, 10, 4), kitOf("same", "small", 20, 50, 4)}
		c.change(who)
		got := false
		for _, m := range choiceOf(t, who.judged(), "same", "hand-right").Say {
			if why := m.Arg("why"); m.Code == "access.place" && why != nil {
				got = why.Messages[0].Code == c.code
			}
		}
		if got != c.want {
			t.Errorf("%s: asks for a lighter one %v, want %v", c.name, got, c.want)
		}
	}
}

// TestAnUnmeantForceThatDrivesTheControl: at the force to full command, and
// not below (TRADE.md 4.3, 3: it moves the chair).
func TestAnUnmeantForceThatDrivesTheControl(t *testing.T) {
	very := strength.Classes()[2]
	if very.OperateGF != 10 {
		t.Fatalf("the lightest usual kind asks for %v gf", very.OperateGF)
	}
	for unmeant, refused := range map[float64]bool{10 - step: false, 10: true, 10 + step: true} {
		who := measured("hand-right", alike(100), alike(100)).chose("small", "hand-right", 5, 10, 3)
		who.readings = append(who.readings, strength.Reading{What: strength.Unintended, Site: "hand-right", Value: unmeant})
		r := who.judged()
		for _, class := range r.Classes {
			if class.ID == very.ID && (class.Verdict == bad) != refused {
				t.Errorf("%v gf unmeant against 10: the kind is %v", unmeant, class.Verdict)
			}
		}
		choice := choiceOf(t, r, access.Generic+very.ID, "hand-right")
		if noise := reasonOf(t, choice.Reasons, "noise"); (noise.Verdict == bad) != refused || noise.Advisory == refused {
			t.Errorf("%v gf unmeant against 10: the rule says %v of the kind, a note %v", unmeant, noise.Verdict, noise.Advisory)
		}
	}
}

// TestAKitControlIsNoUsualKind, however long its id is: what it starts with is
// known, so that noise counts.
func TestAKitControlIsNoUsualKind(t *testing.T) {
	who := measured("hand-right", alike(210), alike(200)).chose("small", "hand-right", 20, 48, 4)
	who.in.Kit = []model.PackedControl{kitOf("the-blue-stick", "small", 1.5, 48, 4)} // 1 gf unmeant over 1.5
	if r := reasonOf(t, choiceOf(t, who.judged(), "the-blue-stick", "hand-right").Reasons, "noise"); r.Verdict != fair || r.Advisory {
		t.Errorf("%v, a note %v", r.Verdict, r.Advisory)
	}
}

// TestHoursWhereForceDiffers: fading alone asks for no hours, as the reserve is
// the tired one, and what is said of outdoors counts against neither.
func TestHoursWhereForceDiffers(t *testing.T) {
	for _, c := range []struct {
		name          string
		site          string
		rested, tired float64
		rough         float64
		want          []access.Verdict
	}{
		{"fading", "hand-right", 200, 160, 0, nil},
		{"force", "hand-right", 160, 145, 0, []access.Verdict{good, fair}},
		{"no fading", "hand-right", 200, 180, 0, nil},
		{"force, with rough ground refused", "chin", 160, 145, 3, []access.Verdict{good, fair}},
	} {
		who := measured(c.site, alike(c.rested), alike(c.tired)).chose("small", c.site, 20, 50, 4)
		who.in.Rough = worth(c.rough)
		var got []access.Verdict
		for _, w := range who.judged().Windows {
			got = append(got, w.Verdict)
		}
		if len(got) != len(c.want) || len(got) > 0 && (got[0] != c.want[0] || got[1] != c.want[1]) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// TestHowLongForceLasts is said while the reserve is above 3.
func TestHowLongForceLasts(t *testing.T) {
	for gf, want := range map[float64]bool{150: false, 150.5: true, 151: true} {
		who := measured("hand-right", alike(gf), alike(gf)).chose("small", "hand-right", 20, 50, 4)
		who.in.Kit = []model.PackedControl{kitOf("k1", "small", 20, 50, 4)}
		who.in.Needs.Course, who.in.Needs.WaitWeeks = "slow", new(12.0)
		if got := says(choiceOf(t, who.judged(), "k1", "hand-right"), "access.lasts"); got != want {
			t.Errorf("%v gf for 50: said %v, want %v", gf, got, want)
		}
	}
}

// TestSwitchesWithoutAJack: any force that a switch asks for counts.
func TestSwitchesWithoutAJack(t *testing.T) {
	for _, c := range []struct {
		press       float64
		power, mode bool
		code        string
	}{
		{1, false, false, "access.no-jacks"}, {1, false, true, "access.no-power-jack"}, {1, true, false, "access.no-mode-jack"},
		{1, true, true, ""}, {0, false, false, ""},
	} {
		who := measured("hand-right", alike(210), alike(200)).chose("small", "hand-right", 20, 48, 4)
		who.setup.SwitchPressGF = c.press
		k := kitOf("k1", "small", 20, 48, 4)
		k.PowerJack, k.ModeJack = c.power, c.mode
		who.in.Kit = []model.PackedControl{k}
		choice := choiceOf(t, who.judged(), "k1", "hand-right")
		for _, code := range []string{"access.no-jacks", "access.no-power-jack", "access.no-mode-jack"} {
			if got := says(choice, code); got != (code == c.code) {
				t.Errorf("%+v: %s said %v", c, code, got)
			}
		}
	}
}

// TestASiteIsRuledOutWithFewWords, or none.
func TestASiteIsRuledOutWithFewWords(t *testing.T) {
	for why, want := range map[string]string{"": "", ".": "", " . ": "", "sore. ": "sore", "sore": "sore", "sore\nand\tred\x1f.": "sore and red"} {
		who := measured("hand-right", alike(210), alike(200)).chose("small", "hand-right", 20, 50, 0)
		who.in.Needs.Rejected = map[string]string{"hand-right": why}
		choice := choiceOf(t, who.judged(), access.Generic+"small", "hand-right")
		if !choice.RuledOut || choice.Rank != 0 {
			t.Errorf("%q: ruled out %v, rank %d", why, choice.RuledOut, choice.Rank)
		}
		last := choice.Say[len(choice.Say)-1]
		if last.Code != "access.ruled-out" || last.Arg("why").Word != want {
			t.Errorf("%q: %s", why, last.String())
		}
	}
}

// TestDirectionsBeforeAnythingWasMeasured: all four, or those of the set-up.
func TestDirectionsBeforeAnythingWasMeasured(t *testing.T) {
	in := access.Input{Setup: &strength.Setup{Class: "small", Site: "chin", Needed: []strength.Direction{strength.Left}}}
	in.Needs.ReverseKey = new(true)
	if got := in.Needed(); len(got) != 1 || got[0] != strength.Left {
		t.Errorf("needed %v", got)
	}
	in.Setup.Needed = nil
	if got := in.Needed(); len(got) != 4 {
		t.Errorf("needed %v", got)
	}
}

// TestUsualKindsAreJudgedWithFullTravel: 28 mm of a standard stick (TRADE.md 2.5)
// ask for 35 mm (1.25 times), whatever throw the chosen control is set to. A kind
// in general fits nobody before one was measured.
func TestUsualKindsAreJudgedWithFullTravel(t *testing.T) {
	for way, worse := range map[float64]int{35: 0, 35 - 28*step: 1} {
		who := measured("hand-right", alike(2000), alike(2000)).chose("small", "hand-right", 20, 48, 4)
		for i := range who.readings {
			if who.readings[i].What == strength.Travel {
				who.readings[i].Value = way
			}
		}
		for d := range who.setup.Throw {
			who.setup.Throw[d] = 50
		}
		got := who.judged().Classes[0]
		found := got.Say.Arg("found").Messages[0].Arg("found").Messages
		if got.ID != "standard" || got.Verdict != access.Unknown || len(found) != 1+worse {
			t.Errorf("%v mm: %s is %v: %s", way, got.ID, got.Verdict, said(got.Say))
		}
	}
}
