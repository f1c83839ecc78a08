package access_test

import (
	"slices"
	"strings"
	"testing"

	"doorsill/internal/decimal"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
	"doorsill/internal/model"
)

// TestWhichRulesSpeak of a stick at a hand, of a pad at the head and of a control of
// which nothing is entered: no other says anything.
func TestWhichRulesSpeak(t *testing.T) {
	stick := []string{"force", "travel", "noise", "release", "pain", "fading", "hold", "balance", "grading"}
	pads := []string{"force", "travel", "noise", "release", "pain", "fading", "hold", "hits", "unasked"}
	for _, c := range []struct {
		name string
		who  *client
		want []string
	}{
		{"stick", measured("hand-right", alike(400), alike(400)).chose("small", "hand-right", 20, 50, 4), stick},
		{"pad, steps counted", pad("switched", "momentary"), append(slices.Clone(pads), "steps")},
		{"pad, steps not counted", pad("switched", "momentary").without(strength.Steps), pads},
		{"pad that goes on", func() *client {
			c := pad("switched", model.DriveLatched)
			c.setup.SeparateStop = true
			return c
		}(), append(slices.Insert(slices.Clone(pads), 7, "latched"), "steps")},
		{"stick of no known force at the chin", measured("chin", alike(400), alike(400)).chose("small", "chin", 0, 0, 4), []string{"force", "travel", "noise", "release", "pain", "fading", "hold", "grading"}},
		{"stick of 1 gf at the chin", measured("chin", alike(400), alike(400)).chose("small", "chin", 1, 1, 4), []string{"force", "travel", "noise", "release", "pain", "fading", "hold", "rough-head", "balance", "grading"}},
	} {
		if got := rulesOf(c.who.judged().Reasons); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	graded := pad("switched", "momentary")
	graded.in.GradeAsked = true
	if got := rulesOf(graded.judged().Reasons); slices.Contains(got, "grading") {
		t.Errorf("a pad answers to how far it is moved: %v", got)
	}
	latched := pad("switched", model.DriveLatched)
	latched.setup.SeparateStop = true
	if got := reasonOf(t, latched.judged().Reasons, "latched").Say.Code; got != "access.latched-stop" {
		t.Errorf("latched, with a stop: %q", got)
	}
	// The directions: right is one of those that a stick is asked.
	who := measured("hand-right", alike(400), alike(400)).chose("small", "hand-right", 20, 50, 4)
	who.setup.Needed = four[:3]
	r := reasonOf(t, who.judged().Reasons, "every-way")
	if r.Say.String() != "access.way-left-out directions=right" || r.Change.String() != "access.way-left-out-mend proven=3" {
		t.Errorf("without right: %s, %s", r.Say.String(), r.Change.String())
	}
}

// TestWhatWouldChangeAVerdict is asked for by the rule that gives it.
func TestWhatWouldChangeAVerdict(t *testing.T) {
	unknown := missing()
	for _, c := range []struct {
		name, rule string
		change     func(*access.Input)
		want       string
	}{
		{"too little force", "force", func(in *access.Input) { in.Analysis.Reserve = worth(0.3) }, "access.force-improve reserve=3 operate=5"}, // 0.3 x 50 gf / 3
		{"too little force for the lightest", "force", func(in *access.Input) { in.Analysis.Reserve, in.Setup.OperateGF = worth(1), 15 }, "access.force-improve-lightest reserve=3 operate=5"},
		{"force not measured", "force", func(in *access.Input) { in.Analysis.Reserve = unknown }, "access.force-measure"},
		{"force by too few readings", "force", func(in *access.Input) { in.Analysis.Bound.Value, in.Analysis.Bound.Direction = 1, "left" }, "access.force-thin-measure direction=left site=hand-right wanted=3"},
		{"force by one reading", "force", func(in *access.Input) { in.Analysis.Bound, in.Analysis.Reserve.Direction = unknown, "right" }, "access.force-thin-measure direction=right site=hand-right wanted=3"},
		{"travel not measured", "travel", func(in *access.Input) { in.Analysis.Travel = unknown }, "access.travel-measure"},
		{"travel not measured, of a way of 1 mm", "travel", func(in *access.Input) { in.Analysis.Travel, in.Setup.TravelMM = unknown, 1 }, "access.travel-measure"},
		{"the way is not entered", "travel", func(in *access.Input) { in.Analysis.Travel, in.Setup.TravelMM = unknown, 0 }, "access.travel-measure-control"},
		{"noise not measured", "noise", func(in *access.Input) { in.Analysis.Noise = unknown }, "access.noise-measure"},
		{"the start is not entered", "noise", func(in *access.Input) { in.Analysis.Noise, in.Setup.StartGF = unknown, 0 }, "access.noise-measure-start"},
		{"noise", "noise", func(in *access.Input) { in.Analysis.Noise = worth(1) }, "access.noise-improve"},
		{"no noise, and no start", "noise", func(in *access.Input) {
			in.Analysis.Noise, in.Setup.StartGF = quantity.Quantity{Origin: quantity.NotAsked}, 0
		}, ""},
		{"release not timed", "release", func(in *access.Input) { in.Analysis.Release = unknown }, "access.release-measure"},
		{"a slow release", "release", func(in *access.Input) { in.Analysis.Release = worth(2) }, "access.release-improve"},
		{"stops not tried", "release", func(in *access.Input) { in.Analysis.Release, in.Setup.Class = unknown, "switched" }, "access.stops-measure wanted=10"},
		{"a slow stop", "release", func(in *access.Input) { in.Analysis.Release, in.Setup.Class = worth(2), "switched" }, "access.stops-improve wanted=10"},
		{"a prompt stop", "release", func(in *access.Input) { in.Setup.Class = "switched" }, ""},
		{"a brief hold", "hold", func(in *access.Input) { in.Analysis.Hold = worth(20) }, "access.hold-improve"},
		{"a brief hold of what has no known force", "hold", func(in *access.Input) { in.Analysis.Hold, in.Setup.OperateGF = worth(20), 0 }, "access.hold-improve"},
		{"a brief hold of 1 gf", "hold", func(in *access.Input) { in.Analysis.Hold, in.Setup.OperateGF = worth(20), 1 }, "access.hold-improve-lightest"},
		{"a hold of no length", "hold", func(in *access.Input) { in.Analysis.Hold, in.Setup.OperateGF = worth(5), 15 }, "access.hold-mend-lightest"},
		{"a long hold of the lightest", "hold", func(in *access.Input) { in.Setup.OperateGF = 15 }, ""},
		{"the lightest, and no hold", "hold", func(in *access.Input) { in.Analysis.Hold, in.Setup.OperateGF = unknown, 15 }, "access.hold-measure"},
		{"pain with the lightest", "pain", func(in *access.Input) { in.Pain, in.Setup.OperateGF = decimal.Int(5), 15 }, "access.pain-improve-lightest"},
	} {
		in := content()
		c.change(&in)
		r, _ := found(in, c.rule)
		if got := r.Change.String(); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// TestOnlyWhatWarnsIsACaution: fading, once it was measured, and readings that lie far
// from the others; nothing that counts is one as well.
func TestOnlyWhatWarnsIsACaution(t *testing.T) {
	for _, c := range []struct {
		name, rule        string
		change            func(*access.Input)
		advisory, caution bool
	}{
		{"little fading", "fading", func(*access.Input) {}, false, false},
		{"fading", "fading", func(in *access.Input) { in.Analysis.Tired = worth(0.6) }, true, true},
		{"much fading", "fading", func(in *access.Input) { in.Analysis.Tired = worth(0.3) }, true, true},
		{"fading not measured", "fading", func(in *access.Input) { in.Analysis.Tired = missing() }, true, false},
		{"a force that just does", "force", func(in *access.Input) { in.Analysis.Reserve = worth(2) }, false, false},
		{"force not measured", "force", func(in *access.Input) { in.Analysis.Reserve = missing() }, false, false},
	} {
		in := content()
		c.change(&in)
		if r, _ := found(in, c.rule); r.Advisory != c.advisory || r.Caution != c.caution {
			t.Errorf("%s: a note %v, a caution %v; want %v, %v", c.name, r.Advisory, r.Caution, c.advisory, c.caution)
		}
	}
	who := measured("hand-right", alike(400), alike(400)).chose("small", "hand-right", 20, 50, 4)
	who.readings = append(who.readings, strength.Reading{What: strength.Force, Site: "hand-right", Direction: strength.Left, Value: 2000})
	if r := reasonOf(t, who.judged().Reasons, "odd"); r.Verdict != fair || !r.Advisory || !r.Caution || r.Say.String() != "access.odd site=hand-right directions=left" {
		t.Errorf("an odd reading: %v, a note %v, a caution %v, %s", r.Verdict, r.Advisory, r.Caution, r.Say.String())
	}
	in := content()
	in.Analysis.Bound = worth(1)
	if r, _ := found(in, "force"); r.Say.Arg("asked").Number != decimal.Int(2) {
		t.Errorf("the bound is asked to be %v", r.Say.Arg("asked").Number)
	}
}

// TestTravelOfAKindAndOfAControl: a kind in general has none that counts; of a control
// of the kit it has to be read off.
func TestTravelOfAKindAndOfAControl(t *testing.T) {
	who := measured("hand-right", alike(400), alike(400))
	who.in.Kit = []model.PackedControl{kitOf("k1", "very-light", 5, 10, 0)}
	r := who.judged()
	for control, advisory := range map[string]bool{"class:small": true, "k1": false} {
		got := reasonOf(t, choiceOf(t, r, control, "hand-right").Reasons, "travel")
		if got.Verdict != access.Unknown || got.Advisory != advisory || got.Change.Code != "access.travel-measure-control" {
			t.Errorf("%s: %v, a note %v, %s", control, got.Verdict, got.Advisory, got.Change.String())
		}
	}
	// 10 mm for 50 mm of way: a fifth of it at 1.25 times is 16 %, and 20 % can be set (TRADE.md 4.3, 2).
	for way, want := range map[float64]string{
		50: "access.travel-too-long shortest=20", 40: "access.travel-shorter direction=forward,reverse,left,right throw=20", 40.01: "access.travel-too-long shortest=20",
	} {
		who = measured("hand-right", alike(400), alike(400)).chose("small", "hand-right", 20, 50, way)
		if got := reasonOf(t, who.judged().Reasons, "travel").Change; got.String() != want {
			t.Errorf("%v mm: %s, want %s", way, got.String(), want)
		}
	}
}

// TestAShorterWayIsNamedForEachDirectionThatNeedsIt, one that does for all of them: what
// a direction reaches over 1.25 times the whole way of 8 mm.
func TestAShorterWayIsNamedForEachDirectionThatNeedsIt(t *testing.T) {
	for _, c := range []struct {
		name        string
		left, right float64 // mm
		throw       [2]float64
		want        string
	}{
		{"left", 4, 10, [2]float64{100, 100}, "access.travel-shorter direction=left throw=40"},
		{"right", 10, 5, [2]float64{100, 100}, "access.travel-shorter direction=right throw=50"},
		{"both, left the worst", 4, 5, [2]float64{100, 100}, "access.travel-shorter direction=left,right throw=40"},
		{"both, and right already shorter", 7.2, 4, [2]float64{100, 50}, "access.travel-shorter direction=left,right throw=40"},
		{"left, of a way that is no whole part", 7, 10, [2]float64{100, 100}, "access.travel-shorter direction=left throw=70"},
		{"left, and right was not measured", 4, -1, [2]float64{100, 100}, "access.travel-shorter direction=left throw=40"},
		{"left, set shorter already", 4, 10, [2]float64{50, 100}, "access.travel-shorter direction=left throw=40"},
	} {
		who := measured("hand-right", alike(400), alike(400)).chose("small", "hand-right", 20, 50, 8)
		for i := range who.readings {
			if r := &who.readings[i]; r.What == strength.Travel && r.Direction == strength.Left {
				r.Value = c.left
			} else if r.What == strength.Travel && r.Direction == strength.Right {
				r.Value = c.right
			}
		}
		who.readings = slices.DeleteFunc(who.readings, func(r strength.Reading) bool { return r.Value < 0 })
		who.setup.Throw[strength.Left], who.setup.Throw[strength.Right] = c.throw[0], c.throw[1]
		got := reasonOf(t, who.judged().Reasons, "travel").Change
		if got.String() != c.want {
			t.Errorf("%s: %s, want %s", c.name, got.String(), c.want)
		}
		if direction := got.Arg("direction"); (direction.Kind == message.KindWord) == strings.Contains(c.want, ",") {
			t.Errorf("%s: one direction is a word, several are a list: %v", c.name, direction)
		}
	}
}

// TestAnUnmeantForceIsSaidWithItsFigures, from one reading on.
func TestAnUnmeantForceIsSaidWithItsFigures(t *testing.T) {
	who := measured("hand-right", alike(400), alike(400))
	who.set(strength.Unintended, "hand-right", 12)
	r := reasonOf(t, choiceOf(t, who.judged(), "class:very-light", "hand-right").Reasons, "noise")
	if r.Verdict != bad || r.Say.String() != "access.noise-full-command unmeant=12 operate=10" || r.Change.Code != "access.noise-improve" {
		t.Errorf("%v, %s, %s", r.Verdict, r.Say.String(), r.Change.String())
	}
}

// TestHowOftenCommandsComeUnasked and how many presses one takes, at each bound.
func TestHowOftenCommandsComeUnasked(t *testing.T) {
	for n, want := range map[float64]access.Verdict{1: good, 1.5: fair, 2: fair, 3: fair, 3.5: bad} {
		if got := reasonOf(t, pad("switched", "momentary").counted(strength.Unasked, n).judged().Reasons, "unasked").Verdict; got != want {
			t.Errorf("%v in 10 min: %v, want %v", n, got, want)
		}
	}
	for n, want := range map[float64]string{2: "", 3: "access.steps-improve", 4: "access.steps-improve", 5: "access.steps-mend"} {
		r := reasonOf(t, pad("scanning", "momentary").counted(strength.Steps, n).judged().Reasons, "steps")
		if r.Change.String() != want {
			t.Errorf("%v steps: %q, want %q", n, r.Change.String(), want)
		}
	}
}

// TestWhatElseBreathingAsks: the worst of several counts, and of two alike the first.
func TestWhatElseBreathingAsks(t *testing.T) {
	const unknown = access.Unknown
	for _, c := range []struct {
		name           string
		kPa            float64
		leak, throat   *bool
		want           access.Verdict
		change, saying string
	}{
		{"enough", 6, new(false), new(false), good, "", "strength.breath"},
		{"enough, through the throat", 6, new(false), new(true), fair, "access.breath-team", "access.breath-also"},
		{"enough, and air escapes", 6, new(true), new(false), fair, "access.breath-seal", "access.breath-also"},
		{"enough, and both", 6, new(true), new(true), fair, "access.breath-team", "access.breath-also"},
		{"just enough, and air escapes", 4, new(true), new(false), fair, "access.breath-improve", "access.breath-also"},
		{"too little, through the throat", 3, new(false), new(true), bad, "access.breath-improve", "access.breath-also"},
		{"nobody asked whether air escapes", 6, nil, new(false), unknown, "access.breath-ask", "access.breath-also"},
		{"nobody asked how", 6, new(false), nil, unknown, "access.breath-ask", "access.breath-also"},
		{"air escapes, and nobody asked how", 6, new(true), nil, unknown, "access.breath-ask", "access.breath-also"},
	} {
		who := pad("breath", "momentary").counted(strength.Breath, c.kPa)
		who.setup.BreathKPa, who.in.Needs.BreathLeak, who.in.Needs.Tracheostomy = 2, c.leak, c.throat
		r := reasonOf(t, who.judged().Reasons, "breath")
		if r.Verdict != c.want || r.Change.Code != c.change || r.Say.Code != c.saying {
			t.Errorf("%s: %v, %s, %s; want %v, %s, %s", c.name, r.Verdict, r.Change.Code, r.Say.Code, c.want, c.change, c.saying)
		}
	}
}

// TestAHelpersHandAndAStickOfUnknownForce: not known; and a helper's own control suits a
// hand above 15 gf.
func TestAHelpersHandAndAStickOfUnknownForce(t *testing.T) {
	who := measured("hand-right", alike(400), alike(400)).chose("small", "hand-right", 0, 0, 4)
	who.in.Needs.HelperDrives = new(true)
	if r := reasonOf(t, who.judged().Reasons, "helper"); r.Verdict != access.Unknown || r.Change.Code != "access.helper-measure" {
		t.Errorf("%v, %s", r.Verdict, r.Change.String())
	}
	who.setup.OperateGF = 1
	if r := reasonOf(t, who.judged().Reasons, "helper"); r.Verdict != bad || r.Say.Code != "access.helper-too-light" {
		t.Errorf("1 gf: %v, %s", r.Verdict, r.Say.String())
	}
	for gf, want := range map[float64]access.Verdict{15: bad, 15 + step: good} {
		who.in.Kit = []model.PackedControl{kitOf("h", "attendant", 5, gf, 28)}
		if r := reasonOf(t, who.judged().Reasons, "helper"); r.Verdict != want {
			t.Errorf("an own control of %v gf: %v, want %v", gf, r.Verdict, want)
		}
	}
	who = hand()
	who.in.Needs.Moisture = map[string]string{"hand-right": "wet"}
	who.in.Kit[0].Sealing = "IP54"
	r := reasonOf(t, choiceOf(t, who.judged(), "k1", "hand-right").Reasons, "wet")
	if r.Say.String() != "access.wet-sealed how=wet site=hand-right seal=4 asked=4" {
		t.Error(r.Say.String())
	}
}

// TestTheChosenKindIsNoIdea: it is what the driver has.
func TestTheChosenKindIsNoIdea(t *testing.T) {
	who := measured("hand-right", alike(900), alike(900)).at("hand-left", alike(900), alike(900)).chose("small", "hand-right", 20, 50, 0)
	r := who.judged()
	for _, c := range []struct {
		control, site string
		want          bool
	}{{"class:small", "hand-right", false}, {"class:small", "hand-left", false}, {"class:very-light", "hand-right", true}} {
		if got := slices.Contains(rulesOf(choiceOf(t, r, c.control, c.site).Reasons), "idea"); got != c.want {
			t.Errorf("%s at %s: an idea %v, want %v", c.control, c.site, got, c.want)
		}
	}
}

// TestWhatStartsAControlOnRoughGround: never more than what full command asks.
func TestWhatStartsAControlOnRoughGround(t *testing.T) {
	for _, c := range []struct {
		site           string
		start, operate float64
		rough          quantity.Quantity
		want           access.Verdict
		say, change    string
	}{
		{"chin", 1, 250, of(0), bad, "access.rough-head", "access.rough-heavier"},
		{"chin", 0, 15, of(0), bad, "access.rough-head-unknown", "access.rough-heavier"},
		{"chin", 0, 15 + step, of(0), access.Unknown, "access.rough-head-unknown", "access.noise-measure-start"},
		{"chin", 0, 250, of(2), access.Unknown, "access.rough-head-unknown", "access.noise-measure-start"},
		{"chin", 0, 250, of(2 + step), bad, "access.rough-head-unknown", "access.rough-improve"},
		{"chin", 0, 250, missing(), access.Unknown, "access.rough-head-unknown", "access.noise-measure-start"},
		{"chin", 20, 250, missing(), access.Unknown, "access.rough-head", "access.rough-measure"},
		{"index-right", 0, 15, of(0), good, "access.rough-finger-unknown", ""},
		{"index-right", 1, 15, of(0), good, "access.rough-finger", ""},
		{"index-right", 0, 15 + step, of(0), access.Unknown, "access.rough-finger-unknown", "access.noise-measure-start"},
	} {
		in := fits()
		in.Setup.Site, in.Setup.StartGF, in.Setup.OperateGF, in.Rough = c.site, c.start, c.operate, c.rough
		rule := "rough-head"
		if strings.HasPrefix(c.site, "index") {
			rule = "rough-finger"
		}
		r := reasonOf(t, access.Judge(in).Reasons, rule)
		if r.Verdict != c.want || r.Say.Code != c.say || r.Change.Code != c.change {
			t.Errorf("%s, %v gf of %v, %v unmeant: %v, %s, %q; want %v, %s, %q", c.site, c.start, c.operate, c.rough.Value.Text(), r.Verdict, r.Say.Code, r.Change.Code, c.want, c.say, c.change)
		}
	}
}

// TestAKeyForReverseOfOneControl is none for another without a jack; and before the
// switch was measured that is what is said.
func TestAKeyForReverseOfOneControl(t *testing.T) {
	weak := [4]float64{400, 40, 400, 400}
	who := measured("hand-right", weak, weak).chose("small", "hand-right", 20, 50, 4)
	jack, none := kitOf("jack", "small", 20, 50, 4), kitOf("none", "small", 20, 48, 4)
	none.ModeJack = false
	who.in.Kit = []model.PackedControl{jack, none}
	who.pressing(180, 60).in.Needs.ReverseKey = new(true)
	r := who.judged()
	for control, want := range map[string]access.Verdict{"jack": good, "none": bad} {
		if got := choiceOf(t, r, control, "hand-right").Indoors; got != want {
			t.Errorf("%s: %v, want %v", control, got, want)
		}
	}
	who = measured("hand-right", alike(400), alike(400)).chose("small", "hand-right", 20, 50, 4)
	who.in.Needs.ReverseKey = new(true)
	say := reasonOf(t, who.judged().Reasons, "balance").Say
	if key := say.Arg("key"); key == nil || key.Messages[0].Code != "access.reverse-not-measured" {
		t.Errorf("%s", say.String())
	}
}

// TestHoursAreOfTheWorstDirection, and of none where a state was not measured, the base
// moves, or another rule is as bad in both.
func TestHoursAreOfTheWorstDirection(t *testing.T) {
	rested, tired := [4]float64{400, 160, 500, 300}, [4]float64{400, 145, 500, 300} // 3.2 and 2.9 times 50 gf in reverse
	who := func() *client { return measured("hand-right", rested, tired).chose("small", "hand-right", 20, 50, 4) }
	var got []string
	for _, w := range who().judged().Windows {
		got = append(got, w.Say.String())
	}
	if want := []string{"access.rested reserve=3.2 verdict=feasible", "access.tired reserve=2.9 verdict=marginal"}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	for name, change := range map[string]func(*client){
		"no rested reading": func(c *client) {
			c.readings = slices.DeleteFunc(c.readings, func(r strength.Reading) bool { return r.What == strength.Force && !r.Tired })
		},
		"no tired reading": func(c *client) {
			c.readings = slices.DeleteFunc(c.readings, func(r strength.Reading) bool { return r.What == strength.Force && r.Tired })
		},
		"a base that moves": func(c *client) { c.in.Needs.Base = "moves" },
		"a base that moves, and too little force when tired": func(c *client) {
			c.in.Needs.Base = "moves"
			c.scale("hand-right", true, 0.4)
		},
		"pain of 4": func(c *client) { c.in.Pain = decimal.Int(4) },
	} {
		who := who()
		change(who)
		if got := who.judged().Windows; len(got) != 0 {
			t.Errorf("%s: %+v", name, got)
		}
	}
}
