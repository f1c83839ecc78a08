package access_test

import (
	"testing"

	"doorsill/internal/decimal"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
	"doorsill/internal/model"
)

// The bounds below are those of TRADE.md, section 4.3, by the number of the
// rule. A value between two printed ranges counts as the worse (section 3.1).

// step is the smallest difference of two values: they have six decimals.
const step = 0.000001

// around is what a rule says just below a bound, at it, and just above.
type around struct {
	bound            float64
	below, at, above access.Verdict
}

const (
	good = access.Feasible
	fair = access.Marginal
	bad  = access.NotFeasible
)

// try judges with a value below, at and above each bound.
func (a around) try(t *testing.T, rule string, judge func(float64) access.Verdict) {
	t.Helper()
	for i, want := range []access.Verdict{a.below, a.at, a.above} {
		value := a.bound + float64(i-1)*step
		if got := judge(value); got != want {
			t.Errorf("%s at %.6f: %v, want %v", rule, value, got, want)
		}
	}
}

// answerText is an answer as a failing test prints it.
func answerText(answer *bool) string {
	switch {
	case answer == nil:
		return "not asked"
	case *answer:
		return "yes"
	}
	return "no"
}

// content is an input that every rule is content with.
func content() access.Input {
	setup := &strength.Setup{Class: "small", Site: "hand-right", StartGF: 20, OperateGF: 50, TravelMM: 5}
	return access.Input{Setup: setup, PainAsked: true, Rough: worth(0), Analysis: &strength.Analysis{
		Reserve: worth(4), Bound: worth(3), Travel: worth(2), Noise: worth(0.1), Release: worth(0.8), Tired: worth(0.9), Hold: worth(60),
	}}
}

func worth(x float64) quantity.Quantity {
	m, ok := decimal.Of(x)
	if !ok {
		panic(x)
	}
	return quantity.Quantity{Origin: quantity.Measured, Value: m, Say: message.New("test.measured")}
}

// found is a rule's own reason, and whether there is one.
func found(in access.Input, rule string) (access.Reason, bool) {
	for _, r := range access.Judge(in).Reasons {
		if r.Rule == rule {
			return r, true
		}
	}
	return access.Reason{}, false
}

func verdict(t *testing.T, in access.Input, rule string) access.Verdict {
	t.Helper()
	r, ok := found(in, rule)
	if !ok {
		t.Fatalf("rule %s says nothing", rule)
	}
	return r.Verdict
}

func TestBoundsOfMeasuredRules(t *testing.T) {
	for _, c := range []struct {
		rule   string
		bounds []around
		set    func(*access.Input, quantity.Quantity)
	}{
		{"force", []around{{3, fair, good, good}, {2, bad, fair, fair}}, func(in *access.Input, q quantity.Quantity) { in.Analysis.Reserve = q }},       // 1
		{"travel", []around{{1.25, fair, good, good}, {1, bad, fair, fair}}, func(in *access.Input, q quantity.Quantity) { in.Analysis.Travel = q }},    // 2
		{"noise", []around{{0.5, good, good, fair}, {0.99, fair, fair, bad}}, func(in *access.Input, q quantity.Quantity) { in.Analysis.Noise = q }},    // 3
		{"release", []around{{1.5, good, good, fair}, {2.5, fair, fair, bad}}, func(in *access.Input, q quantity.Quantity) { in.Analysis.Release = q }}, // 4
		{"pain", []around{{3, good, good, fair}, {6, fair, fair, bad}}, func(in *access.Input, q quantity.Quantity) { in.Pain = q.Value }},              // 5
		{"fading", []around{{0.85, fair, good, good}, {0.5, fair, fair, fair}}, func(in *access.Input, q quantity.Quantity) { in.Analysis.Tired = q }},  // 11
		{"hold", []around{{30, fair, good, good}, {10, fair, fair, fair}}, func(in *access.Input, q quantity.Quantity) { in.Analysis.Hold = q }},        // 12
	} {
		for _, bound := range c.bounds {
			bound.try(t, c.rule, func(value float64) access.Verdict {
				in := content()
				c.set(&in, worth(value))
				r := access.Judge(in)
				own := verdict(t, in, c.rule)
				counts := own
				if c.rule == "fading" {
					counts = good // force is judged by the tired reading already
				}
				if r.Indoors != counts || r.Outdoors != counts {
					t.Errorf("%s at %.6f is %v, and the verdict %v indoors, %v outdoors", c.rule, value, own, r.Indoors, r.Outdoors)
				}
				return own
			})
		}
	}
}

// TestFadingAndHoldAtTheirSecondBound: below it another advice stands, and the
// control carries practice only where the hold is too brief (rules 11 and 12).
func TestFadingAndHoldAtTheirSecondBound(t *testing.T) {
	for _, c := range []struct {
		rule   string
		bound  float64
		set    func(*access.Input, quantity.Quantity)
		change [3]string
	}{
		{"fading", 0.5, func(in *access.Input, q quantity.Quantity) { in.Analysis.Tired = q }, [3]string{"access.fading-mend", "access.fading-improve", "access.fading-improve"}},
		{"hold", 10, func(in *access.Input, q quantity.Quantity) { in.Analysis.Hold = q }, [3]string{"access.hold-mend", "access.hold-improve", "access.hold-improve"}},
	} {
		for i, want := range c.change {
			in := content()
			c.set(&in, worth(c.bound+float64(i-1)*step))
			r, _ := found(in, c.rule)
			if r.Change.Code != want {
				t.Errorf("%s, %d from %v: %s, want %s", c.rule, i-1, c.bound, r.Change.Code, want)
			}
			if practise := access.Judge(in).PractiseOnly; practise != (c.rule == "hold" && i == 0) {
				t.Errorf("%s, %d from %v: for practice only %v", c.rule, i-1, c.bound, practise)
			}
		}
	}
	in := content()
	in.Analysis.Hold = quantity.Quantity{}
	if access.Judge(in).PractiseOnly {
		t.Error("a hold that was not timed makes the control one for practice")
	}
}

// TestALongHoldOutdoors asks for a reserve of 7 and says so from 3 on
// (TRADE.md 4.1).
func TestALongHoldOutdoors(t *testing.T) {
	for reserve, want := range map[float64]bool{3 - step: false, 3: true, 7 - step: true, 7: false} {
		in := content()
		in.Analysis.Reserve = worth(reserve)
		noted := false
		for _, n := range access.Judge(in).Notes {
			noted = noted || n.Code == "access.long-hold-outdoors"
		}
		if noted != want {
			t.Errorf("reserve %v: said %v, want %v", reserve, noted, want)
		}
	}
}

// TestBoundsOfRoughGround are rules 7 and 8, by the force that starts the
// control. Above 80 gf a head-borne control needs no trial, above 15 gf one; and
// a control that 15 gf or less start stays indoors with the head, and needs a
// trial at a finger.
func TestBoundsOfRoughGround(t *testing.T) {
	at := func(site string, start, unmeant float64, tried bool) access.Verdict {
		in := content()
		in.Setup.Site, in.Setup.OperateGF, in.Setup.StartGF = site, 250, start
		in.Rough = quantity.Quantity{Say: message.New("test.not-driven")}
		if tried {
			in.Rough = worth(unmeant)
		}
		r := access.Judge(in)
		if r.Indoors != good {
			t.Errorf("%s, %v gf: rough ground makes it %v indoors", site, start, r.Indoors)
		}
		return r.Outdoors
	}
	const unknown = access.Unknown
	for _, site := range []string{"chin", "lip", "tongue", "head-back", "cheek-left"} {
		around{80, unknown, unknown, good}.try(t, site+" without a trial", func(gf float64) access.Verdict { return at(site, gf, 0, false) })
		around{15, bad, bad, unknown}.try(t, site+" without a trial", func(gf float64) access.Verdict { return at(site, gf, 0, false) })
		around{15, bad, bad, good}.try(t, site+" after a clean trial", func(gf float64) access.Verdict { return at(site, gf, 0, true) })
	}
	for _, site := range []string{"index-right", "thumb-left", "little-left"} {
		around{15, unknown, unknown, good}.try(t, site+" without a trial", func(gf float64) access.Verdict { return at(site, gf, 0, false) })
	}
	around{15, good, good, good}.try(t, "the whole hand", func(gf float64) access.Verdict { return at("hand-right", gf, 0, false) })
	for site, gf := range map[string]float64{"chin": 50, "index-right": 10} {
		for _, bound := range []around{{1, good, good, fair}, {2, fair, fair, bad}} {
			bound.try(t, site+", unmeant commands", func(unmeant float64) access.Verdict { return at(site, gf, unmeant, true) })
		}
	}
}

// TestAThinTrialOnRoughGround counts only where it is the worst already.
func TestAThinTrialOnRoughGround(t *testing.T) {
	around{2, access.Unknown, access.Unknown, bad}.try(t, "thin", func(unmeant float64) access.Verdict {
		in := content()
		in.Setup.Site = "chin"
		in.Rough = worth(unmeant)
		in.Rough.Thin = true
		return access.Judge(in).Outdoors
	})
}

// TestRoughGroundThatIsNotNeeded: where nobody drives on it, no trial is asked;
// one that was driven counts all the same. A finger that is not blocked makes
// a clean trial marginal (rule 8).
func TestRoughGroundThatIsNotNeeded(t *testing.T) {
	for _, c := range []struct {
		site    string
		gf      float64
		needed  *bool
		blocked *bool
		rough   quantity.Quantity
		want    access.Verdict
	}{
		{"chin", 50, new(false), nil, quantity.Quantity{}, good},
		{"chin", 50, new(true), nil, quantity.Quantity{}, access.Unknown},
		{"chin", 50, nil, nil, quantity.Quantity{}, access.Unknown},
		{"chin", 50, new(false), nil, worth(3), bad},
		{"index-right", 10, new(true), new(false), worth(0), fair},
		{"index-right", 10, new(true), new(true), worth(0), good},
		{"index-right", 10, new(true), nil, worth(0), good},
		{"index-right", 10, new(true), new(false), worth(3), bad},
		{"chin", 50, new(true), new(false), worth(0), good},
		{"chin", 10, new(true), nil, worth(0), bad},
		{"chin", 10, new(false), nil, quantity.Quantity{}, good},
		{"chin", 0, new(true), nil, worth(0), access.Unknown}, // what starts it is not known
		{"chin", 0, new(true), nil, worth(3), bad},
		{"index-right", 0, new(true), nil, worth(0), access.Unknown},
	} {
		in := content()
		in.Setup.Site, in.Setup.StartGF, in.Rough = c.site, c.gf, c.rough
		in.Needs.RoughGround, in.Needs.Blocked = c.needed, c.blocked
		if got := access.Judge(in).Outdoors; got != c.want {
			t.Errorf("%s, %v gf, needed %v, blocked %v, %v: %v, want %v", c.site, c.gf, answerText(c.needed), answerText(c.blocked), c.rough.Value, got, c.want)
		}
	}
}

// TestBoundsOfAHelpersHand are rule 9: above 80 gf, above 15, and up to and
// with 15.
func TestBoundsOfAHelpersHand(t *testing.T) {
	at := func(gf float64, listed bool) access.Verdict {
		in := content()
		in.Setup.OperateGF, in.Needs.HelperDrives = gf, new(true)
		in.Kit = []model.PackedControl{{ID: "k1", Class: "small", StartGF: in.Setup.StartGF, OperateGF: gf, TravelMM: in.Setup.TravelMM, Attendant: listed}}
		return verdict(t, in, "helper")
	}
	for _, bound := range []around{{80, fair, fair, good}, {15, bad, bad, fair}} {
		bound.try(t, "helper", func(gf float64) access.Verdict { return at(gf, false) })
	}
	around{15, bad, bad, good}.try(t, "helper, listed for one", func(gf float64) access.Verdict { return at(gf, true) })
	for _, answer := range []*bool{new(false), nil} {
		in := content()
		in.Needs.HelperDrives = answer
		if _, says := found(in, "helper"); says {
			t.Errorf("the rule speaks where a helper drives is answered %v", answerText(answer))
		}
	}
}

// TestBoundOfBalance is rule 10: the weakest needed direction over the
// strongest, a note below a half, and a bar where nothing can be given.
func TestBoundOfBalance(t *testing.T) {
	with := func(weak float64) access.Reason {
		in := content()
		in.Setup.Needed = []strength.Direction{strength.Forward, strength.Reverse, strength.Left, strength.Right}
		var readings []strength.Reading
		for d, gf := range map[strength.Direction]float64{strength.Forward: 400, strength.Reverse: weak, strength.Left: 300, strength.Right: 300} {
			for range 3 {
				for _, tired := range []bool{false, true} {
					readings = append(readings, strength.Reading{What: strength.Force, Site: "hand-right", Direction: d, Supported: true, Tired: tired, Value: gf})
				}
			}
		}
		analysis := strength.Analyse(readings, in.Setup)
		in.Analysis.Sites = analysis.Sites
		r, says := found(in, "balance")
		if !says {
			t.Fatal("the rule says nothing")
		}
		return r
	}
	for _, c := range []struct {
		weak     float64
		verdict  access.Verdict
		advisory bool
	}{{200, good, false}, {200.01, good, false}, {199.99, fair, true}, {1, fair, true}, {0, bad, false}, {400, good, false}} {
		if r := with(c.weak); r.Verdict != c.verdict || r.Advisory != c.advisory {
			t.Errorf("%v of 400 gf: %v, a note %v; want %v, %v", c.weak, r.Verdict, r.Advisory, c.verdict, c.advisory)
		}
	}
}

// TestBoundOfSealing is rule 6: splashing water is the second digit 4 of
// IEC 60529.
func TestBoundOfSealing(t *testing.T) {
	for how, wet := range map[string]access.Verdict{"dry": good, "damp": fair, "wet": bad} {
		for code, sealed := range map[string]bool{"": false, "IP5X": false, "IP50": false, "IPX3": false, "IP54": true, "IPX5": true, "IP69K": true} {
			in := content()
			in.Needs.Moisture = map[string]string{"lip": "wet", "hand-right": how}
			in.Kit = []model.PackedControl{{ID: "k1", Class: "small", StartGF: 20, OperateGF: 50, TravelMM: 5, Sealing: code}}
			want := wet
			if sealed {
				want = good
			}
			if got := verdict(t, in, "wet"); got != want {
				t.Errorf("%s, code %q: %v, want %v", how, code, got, want)
			}
		}
	}
}

// TestGradingAndBase are rules 13 and 14.
func TestGradingAndBase(t *testing.T) {
	for grade, want := range []access.Verdict{bad, fair, fair, good, good} {
		in := content()
		in.Grade, in.GradeAsked = grade, true
		if got := verdict(t, in, "grading"); got != want {
			t.Errorf("grading with help %d: %v, want %v", grade, got, want)
		}
	}
	for base, want := range map[string]access.Verdict{"stable": good, "adjustable": fair, "moves": access.Unknown} {
		in := content()
		in.Needs.Base = base
		if got := verdict(t, in, "base"); got != want {
			t.Errorf("a base that is %s: %v, want %v", base, got, want)
		}
	}
}

// TestPainAndSignsOfStrain is rule 5: signs that ask for a doctor refuse the
// control whatever the pain.
func TestPainAndSignsOfStrain(t *testing.T) {
	for _, c := range []struct {
		alarm, asked bool
		want         access.Verdict
		change       string
	}{{false, true, good, ""}, {true, true, bad, "access.pain-refer"}, {true, false, bad, "access.pain-refer"}, {false, false, access.Unknown, "access.pain-measure"}} {
		in := content()
		in.Alarm, in.PainAsked = c.alarm, c.asked
		r, _ := found(in, "pain")
		if r.Verdict != c.want || r.Change.Code != c.change {
			t.Errorf("alarm %v, asked %v: %v, %s", c.alarm, c.asked, r.Verdict, r.Change.Code)
		}
	}
	for missed, want := range map[int]access.Verdict{0: good, 1: bad, 2: bad} {
		in := content()
		in.Analysis.Missed = missed
		if got := verdict(t, in, "release"); got != want {
			t.Errorf("%d releases missed: %v, want %v", missed, got, want)
		}
	}
}

// TestQuantitiesThatSayNothing: thin and missing ones leave a rule unknown, one
// that nobody asks is content; fading has an assumption to stand in.
func TestQuantitiesThatSayNothing(t *testing.T) {
	thin := worth(100)
	thin.Thin = true
	for name, c := range map[string]struct {
		q    quantity.Quantity
		want access.Verdict
	}{"thin": {thin, access.Unknown}, "missing": {quantity.Quantity{}, access.Unknown}, "not asked": {quantity.Quantity{Origin: quantity.NotAsked}, good}} {
		for rule, set := range map[string]func(*access.Input){
			"force": func(in *access.Input) { in.Analysis.Reserve = c.q }, "travel": func(in *access.Input) { in.Analysis.Travel = c.q },
			"noise": func(in *access.Input) { in.Analysis.Noise = c.q }, "release": func(in *access.Input) { in.Analysis.Release = c.q },
			"hold": func(in *access.Input) { in.Analysis.Hold = c.q }, "fading": func(in *access.Input) { in.Analysis.Tired = c.q },
		} {
			in := content()
			set(&in)
			r, _ := found(in, rule)
			if r.Verdict != c.want || r.Advisory != (rule == "fading" && c.want == access.Unknown) {
				t.Errorf("%s %s: %v, a note %v", rule, name, r.Verdict, r.Advisory)
			}
		}
	}
}

// TestWhatOnlyCountsOutdoors leaves the verdict indoors alone.
func TestWhatOnlyCountsOutdoors(t *testing.T) {
	in := content()
	in.Setup.Site, in.Rough = "chin", worth(3)
	r := access.Judge(in)
	if r.Indoors != good || r.Outdoors != bad {
		t.Errorf("indoors %v, outdoors %v", r.Indoors, r.Outdoors)
	}
	if say := r.Say.String(); say != "access.verdict-because site=chin indoors=feasible outdoors=not-feasible rules=rough-head" {
		t.Error(say)
	}
}

// TestBoundOfTheReverseKey: reverse is off the needed directions from a switch
// reserve of 3 on (TRADE.md 4.5), with a jack for the key, once it was shown.
func TestBoundOfTheReverseKey(t *testing.T) {
	for _, c := range []struct {
		reserve quantity.Quantity
		shown   *bool
		jack    bool
		off     bool
	}{
		{worth(3), new(true), true, true},
		{worth(3 + step), new(true), true, true},
		{worth(3 - step), new(true), true, false},
		{quantity.Quantity{}, new(true), true, false},
		{worth(3), new(true), false, false},
		{worth(3), new(false), true, false},
		{worth(3), nil, true, false},
	} {
		in := content()
		in.Setup.Needed = []strength.Direction{strength.Forward, strength.Reverse, strength.Left}
		in.Needs.ReverseKey, in.Analysis.Own[strength.ModeSwitch] = c.shown, c.reserve
		in.Kit = []model.PackedControl{{ID: "k1", Class: "small", StartGF: 20, OperateGF: 50, TravelMM: 5, ModeJack: c.jack}}
		if got := len(in.Needed()) == 2; got != c.off {
			t.Errorf("reserve %v, shown %v, jack %v: needed %v", c.reserve.Value, answerText(c.shown), c.jack, in.Needed())
		}
	}
	// One needed direction stays, even if it is reverse.
	in := content()
	in.Setup.Needed = []strength.Direction{strength.Reverse}
	in.Needs.ReverseKey, in.Analysis.Own[strength.ModeSwitch] = new(true), worth(3)
	in.Kit = []model.PackedControl{{ID: "k1", Class: "small", StartGF: 20, OperateGF: 50, TravelMM: 5, ModeJack: true}}
	if got := in.Needed(); len(got) != 1 {
		t.Errorf("needed %v", got)
	}
}
