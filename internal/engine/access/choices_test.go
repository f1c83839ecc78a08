package access_test

import (
	"math/rand/v2"
	"strings"
	"testing"

	"doorsill/internal/decimal"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/strength"
	"doorsill/internal/model"
)

var four = []strength.Direction{strength.Forward, strength.Reverse, strength.Left, strength.Right}

// client is somebody who was measured: forces by direction, rested and tired,
// 10 mm of travel, and every other rule content.
type client struct {
	readings []strength.Reading
	setup    *strength.Setup
	in       access.Input
}

func measured(site string, rested, tired [4]float64) *client {
	c := &client{in: access.Input{PainAsked: true, Rough: of(0), Grade: 4, GradeAsked: true}}
	return c.at(site, rested, tired)
}

func (c *client) at(site string, rested, tired [4]float64) *client {
	add := func(r strength.Reading) {
		r.Site = site
		c.readings = append(c.readings, r)
	}
	for i, d := range four {
		for range 3 {
			add(strength.Reading{What: strength.Force, Direction: d, Value: rested[i]})
			if tired[i] >= 0 {
				add(strength.Reading{What: strength.Force, Direction: d, Tired: true, Value: tired[i]})
			}
		}
		add(strength.Reading{What: strength.Travel, Direction: d, Value: 10})
	}
	for range 5 {
		add(strength.Reading{What: strength.Release, Value: 0.8})
	}
	add(strength.Reading{What: strength.Hold, Direction: strength.Forward, Value: 60})
	add(strength.Reading{What: strength.Unintended, Value: 1})
	return c
}

func (c *client) chose(class, site string, start, operate, travel float64) *client {
	c.setup = &strength.Setup{Class: class, Site: site, StartGF: start, OperateGF: operate, TravelMM: travel, Needed: four}
	for d := range c.setup.Throw {
		c.setup.Throw[d] = 100
	}
	return c
}

func (c *client) pressing(gf, press float64) *client {
	c.setup.SwitchPressGF = press
	c.readings = append(c.readings, strength.Reading{What: strength.SwitchForce, Site: "thumb-left", Direction: strength.Press, Tired: true, Value: gf})
	return c
}

func (c *client) judged() access.Result {
	analysis := strength.Analyse(c.readings, c.setup)
	c.in.Setup, c.in.Analysis = c.setup, &analysis
	if c.setup != nil {
		if needed := c.in.Needed(); len(needed) < len(c.setup.Needed) {
			c.in.Asked, c.setup.Needed = c.setup.Needed, needed
			analysis = strength.Analyse(c.readings, c.setup)
		}
	}
	return access.Judge(c.in)
}

func alike(gf float64) [4]float64 { return [4]float64{gf, gf, gf, gf} }

func kitOf(id, class string, start, operate, travel float64) model.PackedControl {
	return model.PackedControl{ID: id, Class: class, StartGF: start, OperateGF: operate, TravelMM: travel, PowerJack: true, ModeJack: true}
}

func choiceOf(t *testing.T, r access.Result, control, site string) access.Choice {
	t.Helper()
	for _, c := range r.Choices {
		if c.Control == control && c.Site == site {
			return c
		}
	}
	t.Fatalf("no verdict on %s at %s", control, site)
	return access.Choice{}
}

func reasonOf(t *testing.T, list []access.Reason, rule string) access.Reason {
	t.Helper()
	for _, r := range list {
		if r.Rule == rule {
			return r
		}
	}
	t.Fatalf("no rule %s in %v", rule, list)
	return access.Reason{}
}

// TestEveryRuleOfAKitControl changes one thing about a hand that a 48 gf
// control suits, and reads what the rule about it says.
func TestEveryRuleOfAKitControl(t *testing.T) {
	for _, c := range []struct {
		name    string
		change  func(*client)
		rule    string
		verdict access.Verdict
		say     string
		change2 string
	}{
		{"force", func(*client) {}, "force", access.Feasible, "200 gf usable for 48 gf asked: 4.16 times (enough)", ""},
		{"travel short", func(c *client) { c.in.Kit[0].TravelMM = 9 }, "travel", access.Marginal, "9 mm asked: 1.11 times", "Set a shorter way to full command forward, reverse, left, right, 88 % or less (the force stays as it is)"},
		{"travel hopeless", func(c *client) { c.in.Kit[0].TravelMM = 50 }, "travel", access.NotFeasible, "asked: 0.2 times", "Even the shortest way to full command that can be set, 20 %"},
		{"no start", func(c *client) { c.in.Kit[0].StartGF = 0 }, "noise", access.Unknown, "is not entered", "Measure what starts the actual control"},
		{"no force", func(c *client) { c.in.Kit[0].OperateGF = 0 }, "force", access.Unknown, "is not entered", "Measure the force"},
		{"moisture open", func(*client) {}, "wet", access.Unknown, "How wet the right hand gets is not noted", "dry, damp or wet"},
		{"dry", moist("dry", ""), "wet", access.Feasible, "Dry", ""},
		{"damp, no code", moist("damp", ""), "wet", access.Marginal, "no sealing of the control is known", "sealed control"},
		{"damp, splash", moist("damp", "IP54"), "wet", access.Feasible, "Damp at the right hand, and sealed against splashes (second digit of its IEC 60529 code: 4;", ""},
		{"wet, digit 3", moist("wet", "IPX3"), "wet", access.NotFeasible, "not sealed against splashes (second digit of its IEC 60529 code: 3;", "sealed against splash"},
		{"wet, jets", moist("wet", "IP65"), "wet", access.Feasible, "code: 5;", ""},
		{"helper, light", helped(48, false), "helper", access.Marginal, "48 gf is light for a hand", "attendant control"},
		{"helper, listed for it", helped(48, true), "helper", access.Feasible, "listed as fit for a helper", ""},
		{"helper, very light", helped(15, true), "helper", access.NotFeasible, "15 gf is too light", "separate attendant control"},
		{"helper, heavy", helped(81, false), "helper", access.Feasible, "81 gf suits a hand", ""},
		{"two steps", func(c *client) { c.in.Grade = 2 }, "grading", access.Marginal, "with words", "A longer way to full command"},
		{"one step", func(c *client) { c.in.Grade = 0 }, "grading", access.NotFeasible, "not yet", "Treat it as a switched control"},
		{"grading open", func(c *client) { c.in.GradeAsked = false }, "grading", access.Unknown, "not tried", "small, a middle and a full"},
		{"adjusted", func(c *client) { c.in.Needs.Base = "adjustable" }, "base", access.Marginal, "adjusted today", "measure again"},
	} {
		who := measured("hand-right", alike(210), alike(200)).chose("small", "hand-right", 20, 48, 4)
		who.in.Kit = []model.PackedControl{kitOf("k1", "small", 20, 48, 4)}
		c.change(who)
		if who.in.Kit[0].OperateGF > 0 {
			k := who.in.Kit[0]
			who.chose(k.Class, "hand-right", k.StartGF, k.OperateGF, k.TravelMM)
		}
		r := who.judged()
		got := reasonOf(t, choiceOf(t, r, "k1", "hand-right").Reasons, c.rule)
		say, change := said(got.Say), said(got.Change)
		if got.Verdict != c.verdict || !strings.Contains(say, c.say) || !strings.Contains(change, c.change2) || (change == "") != (c.change2 == "") {
			t.Errorf("%s: %v, %q, to change: %q", c.name, got.Verdict, say, change)
		}
	}
}

func moist(how, code string) func(*client) {
	return func(c *client) {
		c.in.Needs.Moisture = map[string]string{"hand-right": how}
		c.in.Kit[0].Sealing = code
	}
}

func helped(gf float64, listed bool) func(*client) {
	return func(c *client) {
		c.in.Needs.HelperDrives = new(true)
		c.in.Kit[0].OperateGF, c.in.Kit[0].StartGF, c.in.Kit[0].Attendant = gf, gf/2, listed
	}
}

func TestVerdictOfAllRulesIsTheWorstOfThem(t *testing.T) {
	who := measured("chin", alike(210), alike(200)).chose("small", "chin", 20, 50, 4)
	who.in.Kit = []model.PackedControl{kitOf("k1", "small", 20, 50, 4)}
	if r := who.judged(); r.Indoors != access.Feasible || r.Outdoors != access.Feasible {
		t.Errorf("indoors %v, outdoors %v: %s", r.Indoors, r.Outdoors, said(r.Say))
	}
	who.in.Needs.Moisture = map[string]string{"chin": "wet"}
	r := who.judged()
	if r.Indoors != access.NotFeasible || !strings.Contains(said(r.Say), "moisture") {
		t.Errorf("wet and not sealed is %v: %s", r.Indoors, said(r.Say))
	}
	if first := choiceOf(t, r, "k1", "chin").Reasons[0]; first.Rule != "wet" {
		t.Errorf("the worst reason is not first: %s", first.Rule)
	}
}

func TestWhileTheBaseMovesThereIsNoVerdict(t *testing.T) {
	who := measured("chin", alike(10), alike(10)).chose("standard", "chin", 100, 250, 28)
	who.in.Needs.Base = "moves"
	r := who.judged()
	if r.Indoors != access.Unknown || len(r.Reasons) != 1 || r.Reasons[0].Rule != "base" || r.Left != nil || len(r.Classes) != 0 {
		t.Errorf("%v: %s, %v", r.Indoors, said(r.Say), r.Reasons)
	}
	for _, c := range r.Choices {
		if c.Indoors != access.Unknown || c.Outdoors != access.Unknown || c.Rank != 0 {
			t.Errorf("%s at %s: %v, %v, place %d", c.Control, c.Site, c.Indoors, c.Outdoors, c.Rank)
		}
	}
}

func TestWeakReverse(t *testing.T) {
	for _, c := range []struct {
		name             string
		reverse, switch_ float64
		proven           *bool
		jack             bool
		verdict          access.Verdict
		say              string
	}{
		{"no key", 60, 180, nil, true, access.NotFeasible, "Weakest reverse, 60 gf; strongest right, 210 gf; the weakest is 0.28 of the strongest."},
		{"a proven key", 60, 180, new(true), true, access.Feasible, "Reverse is switched: the reverse key is pressed with 3 times what it asks."},
		{"the key is too heavy", 60, 179, new(true), true, access.NotFeasible, "Reverse stays needed: the reverse key is pressed with 2.98 times what it asks; 3 times is wanted."},
		{"no jack", 60, 180, new(true), false, access.NotFeasible, "no jack for a mode key"},
		{"nothing in reverse", 0, 180, nil, true, access.NotFeasible, "Weakest reverse, 0 gf"},
	} {
		who := measured("hand-right", [4]float64{200, 300, 200, 210}, [4]float64{200, c.reverse, 200, 210}).chose("small", "hand-right", 20, 50, 4)
		who.pressing(c.switch_, 60)
		who.in.Needs.ReverseKey = c.proven
		k := kitOf("k1", "small", 20, 50, 4)
		k.ModeJack = c.jack
		who.in.Kit = []model.PackedControl{k}
		r := who.judged()
		balance := said(reasonOf(t, r.Reasons, "balance").Say)
		if r.Indoors != c.verdict || !strings.Contains(balance, c.say) {
			t.Errorf("%s: %v, %s", c.name, r.Indoors, balance)
		}
		choice := choiceOf(t, r, "k1", "hand-right")
		if choice.Indoors != c.verdict {
			t.Errorf("%s: the same control of the kit is %v: %s", c.name, choice.Indoors, said(choice.Say...))
		}
		if hasNoJack := strings.Contains(said(choice.Say...), "no jack for a mode switch"); hasNoJack == c.jack {
			t.Errorf("%s: %s", c.name, said(choice.Say...))
		}
	}
}

func TestUnevenDirectionsAreANoteAndNoBar(t *testing.T) {
	who := measured("hand-right", [4]float64{200, 200, 500, 200}, [4]float64{200, 200, 500, 200}).chose("small", "hand-right", 20, 50, 4)
	r := who.judged()
	got := reasonOf(t, r.Reasons, "balance")
	change := said(got.Change)
	if r.Indoors != access.Feasible || got.Verdict != access.Marginal || !strings.Contains(change, "left drives forward") || !strings.Contains(change, "(the same force)") {
		t.Errorf("%v; %v: %s", r.Indoors, got.Verdict, change)
	}
}

// TestOrderOfChoice: the lightest is not the best by default; pain, strain and
// a fast course ask for a lighter class; the client's wish breaks a tie.
func TestOrderOfChoice(t *testing.T) {
	for _, c := range []struct {
		name           string
		change         func(*client)
		main, fallback string
		say            string
	}{
		{"the least sensitive that has the reserve", func(*client) {}, "heavy@hand-right", "light@index-right", "the least sensitive kind"},
		{"pain with the chosen one", func(c *client) { c.in.Pain = decimal.Int(4) }, "light@index-right", "light@hand-right", "a better verdict than others"},
		{"strain with the chosen one", func(c *client) { c.in.Strain = true }, "light@hand-right", "light@index-right", "strain with the chosen control"},
		{"a fast course", func(c *client) { c.in.Needs.Course = "fast" }, "light@hand-right", "light@index-right", "a fast course"},
		{"the wish does not beat the order", func(c *client) { c.in.Needs.WishSite = "index-right" }, "heavy@hand-right", "light@index-right", "the least sensitive"},
		{"the wish breaks a tie", func(c *client) {
			c.in.Needs.WishControl = "light"
			c.in.Kit = []model.PackedControl{kitOf("other", "small", 20, 48, 4), kitOf("light", "small", 20, 50, 4)}
			c.chose("small", "hand-right", 20, 50, 4)
		}, "light@hand-right", "light@index-right", "the client's wish"},
	} {
		who := measured("hand-right", alike(900), alike(900)).at("index-right", alike(400), alike(400)).chose("standard", "hand-right", 100, 250, 4)
		who.in.Kit = []model.PackedControl{kitOf("light", "small", 20, 50, 4), kitOf("heavy", "standard", 100, 250, 4)}
		c.change(who)
		got := map[string]string{}
		say := ""
		for _, choice := range who.judged().Choices {
			if choice.Role != "" {
				got[choice.Role] = choice.Control + "@" + choice.Site
			}
			if choice.Role == "main" {
				say = said(choice.Say...)
			}
		}
		if got["main"] != c.main || got["fallback"] != c.fallback || !strings.Contains(say, c.say) {
			t.Errorf("%s: main %s, fallback %s, want %s, %s; %s", c.name, got["main"], got["fallback"], c.main, c.fallback, say)
		}
	}
}

func TestHowFastForceMayFallBeforeDelivery(t *testing.T) {
	who := measured("hand-right", alike(270), alike(270)).chose("small", "hand-right", 20, 50, 4)
	who.in.Kit = []model.PackedControl{kitOf("k1", "small", 20, 50, 4)}
	who.in.Needs.Course, who.in.Needs.WaitWeeks = "slow", new(12.0)
	// 270 - 3 x 50 = 120 gf to lose in 12 + 12 weeks.
	if say := said(choiceOf(t, who.judged(), "k1", "hand-right").Say...); !strings.Contains(say, "falls by less than 5 gf a week") {
		t.Error(say)
	}
}

func TestNoStickAnywhereNamesWhatWasTriedAndWhatIsLeft(t *testing.T) {
	who := measured("chin", alike(12), alike(12)).at("index-right", alike(5), alike(5))
	who.in.Kit = []model.PackedControl{kitOf("k1", "small", 20, 48, 4), kitOf("sw", "switched", 100, 150, 2)}
	r := who.judged()
	if r.Left == nil {
		t.Fatal("nothing is said where no stick fits")
	}
	say, change := said(r.Left.Say), said(r.Left.Change)
	for _, want := range []string{"at the chin 48 gf, 250 gf, 10 gf", "at the right index finger 48 gf"} {
		if !strings.Contains(say, want) {
			t.Errorf("no %q in %q", want, say)
		}
	}
	for _, want := range []string{"another site", "a control without touch", "breath control", "an attendant control", "before these were tried and listed"} {
		if !strings.Contains(change, want) {
			t.Errorf("no %q in %q", want, change)
		}
	}
	if strings.Contains(change, "head pads") {
		t.Errorf("switches were tried and are still left: %q", change)
	}
}

func TestRestedAndTiredWindows(t *testing.T) {
	r := measured("hand-right", alike(160), alike(140)).chose("small", "hand-right", 20, 50, 4).judged()
	if len(r.Windows) != 2 || r.Windows[0].Verdict != access.Feasible || r.Windows[1].Verdict != access.Marginal || !strings.Contains(said(r.Windows[1].Say), "the plan must carry hours") {
		t.Errorf("3.2 rested and 2.8 tired: %+v", r.Windows)
	}
	for name, who := range map[string]*client{
		"alike":            measured("hand-right", alike(210), alike(200)),
		"no tired reading": measured("hand-right", alike(210), alike(-1)),
	} {
		if r := who.chose("small", "hand-right", 20, 50, 4).judged(); r.Windows != nil {
			t.Errorf("%s: %+v", name, r.Windows)
		}
	}
}

// TestVerdictsNeverImproveWithLessForce scales every force down, and then what
// the control asks up.
func TestVerdictsNeverImproveWithLessForce(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	verdicts := func(scale, asked float64, forces, tired [4]float64, site string) access.Result {
		for i := range forces {
			forces[i], tired[i] = forces[i]*scale, tired[i]*scale
		}
		who := measured(site, forces, tired).chose("small", site, 20, 40*asked, 4)
		who.in.Kit = []model.PackedControl{kitOf("k1", "small", 20, 40*asked, 4)}
		return who.judged()
	}
	for range 300 {
		var rested, tired [4]float64
		for i := range rested {
			rested[i] = random.Float64() * 400
			tired[i] = rested[i] * (0.3 + 0.7*random.Float64())
		}
		site := []string{"hand-right", "index-right", "chin"}[random.IntN(3)]
		scale := 0.1 + 0.9*random.Float64()
		full, weak, heavy := verdicts(1, 1, rested, tired, site), verdicts(scale, 1, rested, tired, site), verdicts(1, 1/scale, rested, tired, site)
		if weak.Indoors < full.Indoors || weak.Outdoors < full.Outdoors {
			t.Fatalf("%v of %v/%v at %s is better: %s, before: %s", scale, rested, tired, site, said(weak.Say), said(full.Say))
		}
		if heavy.Indoors < full.Indoors {
			t.Fatalf("a heavier control (%v) is better indoors: %s, before: %s", 40/scale, said(heavy.Say), said(full.Say))
		}
		for i := range full.Choices {
			if weak.Choices[i].Indoors < full.Choices[i].Indoors || weak.Choices[i].Outdoors < full.Choices[i].Outdoors {
				t.Fatalf("%s at %s improves with less force: %s", full.Choices[i].Control, site, said(weak.Choices[i].Say...))
			}
		}
	}
}
