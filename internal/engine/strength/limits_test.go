package strength_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"doorsill/internal/engine/strength"
)

// TestEverySiteIsAPart, and what only looks like one is none.
func TestEverySiteIsAPart(t *testing.T) {
	for sites, want := range map[string]strength.Part{
		"chin lip tongue head-back head-left head-right cheek-left cheek-right":            strength.Head,
		"thumb-left thumb-right index-left index-right middle-left ring-right little-left": strength.Digit,
		"hand-left hand-right":                    strength.Hand,
		"forearm-left elbow-right shoulder-left":  strength.Arm,
		"knee-left knee-right":                    strength.Knee,
		"foot-left foot-right toe-left toe-right": strength.Foot,
		"nose thumb chin-left lip-right head cheek head-front hand-up hand-back -left left foot- tongue-left x": strength.UnknownPart,
	} {
		for site := range strings.FieldsSeq(sites) {
			if got := strength.PartOf(site); got != want {
				t.Errorf("%s is part %v, want %v", site, got, want)
			}
		}
	}
	if got := strength.PartOf(""); got != strength.UnknownPart {
		t.Errorf("no site is part %v", got)
	}
}

// TestPlausibleAtItsBounds: what is usual, what is asked about and what is refused,
// with the bound itself on its better side. Refused is what cannot be stored.
func TestPlausibleAtItsBounds(t *testing.T) {
	const ok, ask, refuse = "ok", "ask", "refuse"
	for _, c := range []struct {
		what, site, unit string
		values           []float64
		answers          []string
	}{
		{"force", "chin", "gf", []float64{0, 0.1, 1.99, 2, 2000, 2000.1, 10000, 10000.1}, []string{ask, ask, ask, ok, ok, ask, ask, refuse}},
		{"force", "thumb-left", "gf", []float64{2, 1500, 1500.1, 10000, 10000.1}, []string{ok, ok, ask, ask, refuse}},
		{"force", "hand-left", "gf", []float64{2, 3000, 3000.1, 10000.1}, []string{ok, ok, ask, refuse}},
		{"force", "toe-left", "gf", []float64{2, 6000, 6000.1, 10000.1}, []string{ok, ok, ask, refuse}},
		{"force", "knee-left", "gf", []float64{1.9, 2, 10000, 10000.1}, []string{ask, ok, ok, refuse}},
		{"switch-power", "shoulder-left", "gf", []float64{0, 2, 10000, 10000.1}, []string{ask, ok, ok, refuse}},
		{"unintended", "chin", "gf", []float64{0, 5000, 5000.1}, []string{ok, ok, refuse}},
		{"switch-press", "", "gf", []float64{0, 0.1, 500, 500.1, 2000, 2000.1}, []string{ok, ok, ok, ask, ask, refuse}},
		{"switch-press", "chin", "gf", []float64{500, 501}, []string{ok, ask}},
		{"force", "knee-left", "N", []float64{98.0665, 98.07}, []string{ok, refuse}},
		{"travel", "index-left", "mm", []float64{math.NaN(), -0.1, 0, 40, 40.1, 150, 150.1}, []string{refuse, refuse, ok, ok, ask, ask, refuse}},
		{"travel", "lip", "mm", []float64{60, 60.1, 150, 150.1}, []string{ok, ask, ask, refuse}},
		{"travel", "hand-left", "mm", []float64{90, 90.1, 150, 150.1}, []string{ok, ask, ask, refuse}},
		{"travel", "foot-left", "mm", []float64{150, 150.1}, []string{ok, refuse}},
		{"hold", "chin", "s", []float64{0, 120, 120.1, 600, 600.1}, []string{ok, ok, ask, ask, refuse}},
		{"release", "chin", "s", []float64{0, 2.5, 2.6, 20, 20.1}, []string{ok, ok, ask, ask, refuse}},
		{"command", "chin", "s", []float64{10, 10.1, 120, 120.1}, []string{ok, ask, ask, refuse}},
		{"stop-command", "chin", "s", []float64{10, 10.1, 120, 120.1}, []string{ok, ask, ask, refuse}},
		{"unasked", "chin", "per-10-min", []float64{60, 61, 600, 601}, []string{ok, ask, ask, refuse}},
		{"steps", "chin", "steps", []float64{20, 21, 60, 61}, []string{ok, ask, ask, refuse}},
		{"breath", "chin", "kPa", []float64{15, 15.1, 50, 50.1}, []string{ok, ask, ask, refuse}},
	} {
		var answers []string
		for _, value := range c.values {
			j := strength.Plausible(c.what, c.site, value, c.unit)
			answers = append(answers, j.Answer)
			if (j.Answer == ok) != j.Say.Empty() {
				t.Errorf("%s at %s of %v: %s with %s", c.what, c.site, value, j.Answer, j.Say.String())
			}
		}
		if !slices.Equal(answers, c.answers) {
			t.Errorf("%s at %q of %v: %v, want %v", c.what, c.site, c.values, answers, c.answers)
		}
	}
}

// TestWhatPlausibleSays, and what it takes a number for that fits another unit
// better: 30 N are 3059 gf, and 30 gf are usual; 1.5 gf are not, and 1.5 N are 153
// gf; 0.01 gf are neither as newton, 1 gf, nor as ounces, but 5 gf as pounds.
func TestWhatPlausibleSays(t *testing.T) {
	for _, c := range []struct {
		what, site string
		value      float64
		unit       string
		say        string
		suggested  string
	}{
		{"force", "chin", 30, "N", "strength.unusual-at typed=[strength.typed-force value=30 unit=N gf=3059.148639] site=chin usual=[strength.usual low=2 high=2000 unit=gf]", "30 gf"},
		{"force", "chin", 30.126, "N", "strength.unusual-at typed=", "30.13 gf"},
		{"force", "chin", 1.5, "gf", "strength.unusual-at typed=[strength.typed value=1.5 unit=gf] site=chin", "153 gf"},
		{"force", "chin", 0.01, "gf", "strength.unusual-at typed=", "5 gf"},
		{"force", "chin", 0.001, "gf", "strength.unusual-at typed=", ""},
		{"force", "chin", 3000, "gf", "strength.unusual-at typed=", ""},
		{"force", "chin", 12, "lbf", "strength.unusual-at typed=[strength.typed-force value=12 unit=lbf gf=5443.10844]", "12 gf"},
		{"force", "chin", 10001, "gf", "strength.above-limit limit=10000 typed=[strength.typed value=10001 unit=gf]", ""},
		{"force", "chin", 400, "N", "strength.above-limit-other-unit limit=10000 typed=[strength.typed-force value=400 unit=N gf=40788.648519] other=400", ""},
		{"unintended", "chin", 6000, "gf", "strength.above-limit limit=5000 typed=[strength.typed value=6000 unit=gf]", ""},
		{"travel", "chin", -1, "mm", "strength.refused error=[strength.below-zero]", ""},
		{"force", "knee-left", 1, "gf", "strength.unusual-at typed=[strength.typed value=1 unit=gf] site=knee-left usual=[strength.usual-from low=2 unit=gf]", "102 gf"},
		{"switch-press", "", 501, "gf", "strength.unusual typed=[strength.typed value=501 unit=gf] usual=[strength.usual-to high=500 unit=gf]", ""},
		{"switch-press", "", 6, "N", "strength.unusual typed=", "6 gf"},
		{"force", "chin", 0, "N", "strength.nothing-came-question", ""},
		{"travel", "chin", 61, "mm", "strength.unusual-at typed=[strength.typed value=61 unit=mm] site=chin usual=[strength.usual-to high=60 unit=mm]", ""},
		{"travel", "chin", 151, "mm", "strength.above-limit-of limit=150 unit=mm value=151", ""},
		{"travel", "chin", 15, "cm", "strength.wrong-unit unit=cm want=mm", ""},
		{"hold", "chin", 130, "s", "strength.hold-counted most=120 value=130", "120 s"},
		{"release", "chin", 3, "s", "strength.unusual-at typed=[strength.typed value=3 unit=s] site=chin usual=[strength.usual-to high=2.5 unit=s]", ""},
		{"breath", "chin", 5, "s", "strength.wrong-unit unit=s want=kPa", ""},
		{"switch-press", "nose", 5, "gf", "strength.unknown-site site=nose", ""},
		{"force", "", 5, "gf", "strength.unknown-site site=", ""},
		{"", "chin", 5, "gf", "strength.unknown-reading reading=", ""},
	} {
		j := strength.Plausible(c.what, c.site, c.value, c.unit)
		suggested := ""
		if j.Unit != "" {
			suggested = j.Suggested.Text() + " " + j.Unit
		}
		if !strings.HasPrefix(j.Say.String(), c.say) || suggested != c.suggested {
			t.Errorf("%s at %s of %v %s: %s, suggests %q; want %s, %q", c.what, c.site, c.value, c.unit, j.Say.String(), suggested, c.say, c.suggested)
		}
	}
}

// TestKindsOfControl: which work without force or travel, give all or nothing, and
// drive for as long as they are held.
func TestKindsOfControl(t *testing.T) {
	for _, c := range []struct {
		class                               string
		forceless, travelless, allOrNothing bool
	}{
		{"standard", false, false, false}, {"small", false, false, false}, {"very-light", false, false, false},
		{"force-sensing", false, true, false}, {"non-contact", true, true, false},
		{"switched", true, true, true}, {"breath", true, true, true}, {"scanning", true, true, true}, {"", false, false, false},
	} {
		if strength.Forceless(c.class) != c.forceless || strength.Travelless(c.class) != c.travelless || strength.Switched(c.class) != c.allOrNothing {
			t.Errorf("%q: without force %v, without travel %v, all or nothing %v", c.class, strength.Forceless(c.class), strength.Travelless(c.class), strength.Switched(c.class))
		}
		for mode, held := range map[string]bool{"": !c.allOrNothing, "held": true, "momentary": false, "latched": false} {
			if got := (&strength.Setup{Class: c.class, Mode: mode}).IsHeld(); got != held {
				t.Errorf("%q, mode %q: held %v, want %v", c.class, mode, got, held)
			}
		}
	}
	all := strength.Classes()
	for i := range all[1:] {
		if all[i].OperateGF <= all[i+1].OperateGF {
			t.Errorf("%s is not heavier than %s", all[i].ID, all[i+1].ID)
		}
	}
}

// TestIdsOfReadings and directions come back as they are written.
func TestIdsOfReadings(t *testing.T) {
	ids := []string{"", "force", "travel", "hold", "release", "unintended", "switch-force", "switch-power", "switch-mode", "switch-stop", "command", "stop-command", "unasked", "steps", "breath"}
	for i, id := range ids {
		if got := strength.WhatOf(id); got != strength.What(i) {
			t.Errorf("%q is reading %v, want %v", id, got, i)
		}
		if got, want := strength.What(i).IsForce(), i == 1 || i >= 5 && i <= 9; got != want {
			t.Errorf("%q is a force: %v, want %v", id, got, want)
		}
	}
	for i, id := range []string{"", "forward", "reverse", "left", "right", "press"} {
		if d, ok := strength.DirectionOf(id); !ok || d != strength.Direction(i) || d.String() != id {
			t.Errorf("%q is direction %v (%v), want %v", id, d, ok, i)
		}
	}
	if d, ok := strength.DirectionOf("up"); ok || d != strength.NoDirection {
		t.Errorf("up is direction %v (%v)", d, ok)
	}
}

// TestSeriesWhileTheyAreTaken: how many more are wanted, how many more after a rest
// where they lie far apart, and which are odd, at the bounds of 20 and 30 %, of
// 50 gf, of twice and half, of three and of five.
func TestSeriesWhileTheyAreTaken(t *testing.T) {
	for _, c := range []struct {
		name    string
		what    strength.What
		unit    string
		values  []float64
		missing int
		more    int
		odd     []int
		value   string
	}{
		{"none", strength.Force, "gf", nil, 3, 0, nil, "0"},
		{"none at a switch", strength.SwitchForce, "gf", nil, 3, 0, nil, "0"},
		{"none not meant", strength.Unintended, "gf", nil, 1, 0, nil, "0"},
		{"one", strength.StopForce, "gf", []float64{60}, 2, 0, nil, "60"},
		{"two far apart", strength.Force, "gf", []float64{60, 600}, 1, 0, nil, "330"},
		{"20 % of 50", strength.Force, "gf", []float64{45, 50, 55}, 0, 0, nil, "50"},
		{"a little more", strength.Force, "gf", []float64{44.9, 50, 55.1}, 0, 2, nil, "50"},
		{"30 % below 50", strength.SwitchForce, "gf", []float64{34, 40, 46}, 0, 0, nil, "40"},
		{"more than 30 %", strength.SwitchForce, "gf", []float64{33.9, 40, 46.1}, 0, 2, nil, "40"},
		{"0.4 N is weak", strength.ModeForce, "N", []float64{0.35, 0.4, 0.45}, 0, 0, nil, "0.4"},
		{"0.5 N is not", strength.ModeForce, "N", []float64{0.44, 0.5, 0.56}, 0, 2, nil, "0.5"},
		{"2 ozf is more than 50 gf", strength.PowerForce, "ozf", []float64{1.75, 2, 2.25}, 0, 2, nil, "2"},
		{"four far apart", strength.Force, "gf", []float64{50, 100, 50, 100}, 0, 1, nil, "75"},
		{"five far apart", strength.Force, "gf", []float64{50, 100, 50, 100, 50}, 0, 0, nil, "70"},
		{"six far apart", strength.Force, "gf", []float64{50, 100, 50, 100, 50, 100}, 0, 0, nil, "75"},
		{"twice is not odd", strength.Force, "gf", []float64{100, 100, 200}, 0, 2, nil, "133.333333"},
		{"more than twice is", strength.Force, "gf", []float64{100, 100, 200.1}, 0, 2, []int{2}, "133.366667"},
		{"half is not odd", strength.Force, "gf", []float64{50, 100, 100}, 0, 2, nil, "83.333333"},
		{"less than half is", strength.Force, "gf", []float64{49.9, 100, 100}, 0, 2, []int{0}, "83.3"},
		{"of two none is odd", strength.Travel, "mm", []float64{1, 10}, 0, 0, nil, "5.5"},
		{"of four the lower middle", strength.Travel, "mm", []float64{10, 4, 30, 8}, 0, 0, []int{2}, "13"},
		{"travel needs one", strength.Travel, "mm", nil, 1, 0, nil, "0"},
		{"the largest counts", strength.Unintended, "gf", []float64{4, 30, 2}, 0, 0, nil, "30"},
		{"the largest counts here too", strength.Unasked, "per-10-min", []float64{4, 1}, 0, 0, nil, "4"},
		{"and here", strength.Steps, "steps", []float64{2, 3, 9}, 0, 0, nil, "9"},
		{"breath", strength.Breath, "kPa", []float64{2, 3}, 0, 0, nil, "2.5"},
	} {
		s, err := strength.StatusOf(c.what, c.unit, c.values)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if s.N != len(c.values) || s.Missing != c.missing || s.More != c.more || !slices.Equal(s.Odd, c.odd) || s.Value.Text() != c.value {
			t.Errorf("%s: %+v (value %s); want %d more, %d after a rest, odd %v, value %s", c.name, s, s.Value.Text(), c.missing, c.more, c.odd, c.value)
		}
		apart := ""
		switch {
		case c.more > 0:
			apart = "strength.apart"
		case c.name == "two far apart":
			apart = "strength.apart-early"
		case c.name == "five far apart", c.name == "six far apart":
			apart = "strength.apart-still"
		}
		if s.Apart.Code != apart {
			t.Errorf("%s: says %q, want %q", c.name, s.Apart.String(), apart)
		}
		if len(c.values) > 0 && (s.Low.Float() != slices.Min(c.values) || s.High.Float() != slices.Max(c.values)) {
			t.Errorf("%s: from %s to %s", c.name, s.Low.Text(), s.High.Text())
		}
		if force := c.what == strength.Force || c.what >= strength.SwitchForce && c.what <= strength.StopForce; s.HasSpread != (force && len(c.values) > 1) {
			t.Errorf("%s: has a spread: %v", c.name, s.HasSpread)
		}
	}
	for _, what := range []strength.What{strength.UnknownWhat, strength.Hold, strength.Release, strength.Command, strength.StopCommand} {
		for _, unit := range []string{"", "s", "gf"} {
			if _, err := strength.StatusOf(what, unit, []float64{1}); err != strength.ErrUnit {
				t.Errorf("reading %v in %q: %v, want a refusal of the unit", what, unit, err)
			}
		}
	}
	for what, unit := range map[strength.What]string{strength.Travel: "gf", strength.Force: "mm", strength.Breath: "s", strength.Steps: ""} {
		if _, err := strength.StatusOf(what, unit, []float64{1}); err != strength.ErrUnit {
			t.Errorf("reading %v in %s: %v, want a refusal of the unit", what, unit, err)
		}
	}
	if s, err := strength.StatusOf(strength.Force, "gf", []float64{1, -1}); err != strength.ErrNegative || s.N != 0 {
		t.Errorf("below zero: %+v, %v", s, err)
	}
}

// TestForcesInOtherUnits are rounded to what a gauge shows: a thousandth, of a
// pound a ten-thousandth. A force beyond a million million is none.
func TestForcesInOtherUnits(t *testing.T) {
	for _, c := range []struct {
		value    float64
		from, to string
		want     string
	}{
		{1, "lbf", "gf", "453.592"}, {1, "gf", "lbf", "0.0022"}, {1, "gf", "ozf", "0.035"}, {1, "gf", "N", "0.01"}, {1.23456, "gf", "gf", "1.235"},
		{-1, "gf", "N", "strength.below-zero"}, {1, "kg", "gf", "strength.unknown-unit"}, {1, "gf", "kg", "strength.unknown-unit"}, {1e300, "gf", "gf", "strength.not-a-number"},
	} {
		m, err := strength.Convert(c.value, c.from, c.to)
		got := m.Text()
		if err != nil {
			got = err.Error()
			if m != 0 {
				t.Errorf("%v %s: %s beside an error", c.value, c.from, m.Text())
			}
		}
		if got != c.want {
			t.Errorf("%v %s in %s is %s, want %s", c.value, c.from, c.to, got, c.want)
		}
	}
	if value, err := strength.FromGF(-1, "gf"); err != strength.ErrNegative || value != 0 {
		t.Errorf("-1 gf: %v, %v", value, err)
	}
	if value, err := strength.FromGF(1, "kg"); err != strength.ErrUnit || value != 0 {
		t.Errorf("1 gf in kg: %v, %v", value, err)
	}
}

// TestWhatEachQuantityRestsOn: the longest beginning of its name that is known.
func TestWhatEachQuantityRestsOn(t *testing.T) {
	for quantity, want := range map[string]string{
		"mean-rested": "mean", "sd-tired": "sd", "low-rested": "low", "high-rested": "high", "lower-rested": "lower", "spread-rested": "spread", "cv-tired": "cv",
		"usable": "usable", "reserve": "reserve", "reserve-direction": "reserve", "reserve-bound": "reserve", "travel-reserve": "travel-reserve", "travel-reserve-direction": "travel-reserve",
		"weakest-spread": "weakest-spread", "tired-ratio": "tired-ratio", "noise": "noise", "switch-reserve": "switch-reserve", "switch-reserve-mode": "switch-reserve",
		"count-rested": "", "hold": "", "travel": "", "": "", "reserved": "", "means": "",
	} {
		name, from, ok := strength.ProvenanceOf(quantity)
		if name != want || ok != (want != "") || ok == from.Formula.Empty() {
			t.Errorf("%q rests on %q (%v, %v), want %q", quantity, name, ok, from, want)
		}
	}
}
