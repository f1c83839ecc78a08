package access_test

import (
	"strings"
	"testing"

	"doorsill/internal/decimal"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
	"doorsill/internal/phrase"
)

// said words sentences as a reader of English gets them.
func said(sentences ...message.Message) string {
	w := phrase.NewWriter(phrase.English(), nil)
	texts := make([]string, 0, len(sentences))
	for i := range sentences {
		texts = append(texts, w.Text(&sentences[i]))
	}
	return strings.Join(texts, " ")
}

// fits is an input with which every rule is content; cases change one thing.
func fits() access.Input {
	setup := &strength.Setup{Class: "standard", Site: "hand-right", StartGF: 20, OperateGF: 250, TravelMM: 5}
	return access.Input{Setup: setup, PainAsked: true, Rough: of(0), Analysis: &strength.Analysis{
		Reserve: of(4), Bound: of(3), Travel: of(2), Noise: of(0.1), Release: of(0.8), Tired: of(0.9), Hold: of(60),
	}}
}

func of(x float64) quantity.Quantity {
	m, _ := decimal.Of(x)
	return quantity.Quantity{Origin: quantity.Measured, Value: m, Say: message.New("test.measured")}
}

func missing() quantity.Quantity { return quantity.Quantity{Say: message.New("test.not-measured")} }

func TestRules(t *testing.T) {
	for _, c := range []struct {
		name              string
		change            func(*access.Input)
		indoors, outdoors string
	}{
		{"all content", func(*access.Input) {}, "feasible", "feasible"},
		{"force 3", func(in *access.Input) { in.Analysis.Reserve = of(3) }, "feasible", "feasible"},
		{"force 2.99", func(in *access.Input) { in.Analysis.Reserve = of(2.99) }, "marginal", "marginal"},
		{"force 1.99", func(in *access.Input) { in.Analysis.Reserve = of(1.99) }, "not-feasible", "not-feasible"},
		{"force missing", func(in *access.Input) { in.Analysis.Reserve = missing() }, "unknown", "unknown"},
		{"travel 1.24", func(in *access.Input) { in.Analysis.Travel = of(1.24) }, "marginal", "marginal"},
		{"travel 0.99", func(in *access.Input) { in.Analysis.Travel = of(0.99) }, "not-feasible", "not-feasible"},
		{"no travel asked", func(in *access.Input) { in.Analysis.Travel = quantity.Quantity{Origin: quantity.NotAsked} }, "feasible", "feasible"},
		{"noise 0.51", func(in *access.Input) { in.Analysis.Noise = of(0.51) }, "marginal", "marginal"},
		{"noise 0.995", func(in *access.Input) { in.Analysis.Noise = of(0.995) }, "not-feasible", "not-feasible"},
		{"release 1.6", func(in *access.Input) { in.Analysis.Release = of(1.6) }, "marginal", "marginal"},
		{"release 2.6", func(in *access.Input) { in.Analysis.Release = of(2.6) }, "not-feasible", "not-feasible"},
		{"a release missed", func(in *access.Input) { in.Analysis.Missed = 1 }, "not-feasible", "not-feasible"},
		{"pain 3", func(in *access.Input) { in.Pain = decimal.Int(3) }, "feasible", "feasible"},
		{"pain 4", func(in *access.Input) { in.Pain = decimal.Int(4) }, "marginal", "marginal"},
		{"pain 7", func(in *access.Input) { in.Pain = decimal.Int(7) }, "not-feasible", "not-feasible"},
		{"pain not asked", func(in *access.Input) { in.PainAsked = false }, "unknown", "unknown"},
		{"numbness", func(in *access.Input) { in.Alarm = true }, "not-feasible", "not-feasible"},
		{"fading 0.84 is a caution", func(in *access.Input) { in.Analysis.Tired = of(0.84) }, "feasible", "feasible"},
		{"fading 0.4 asks for company, not another control", func(in *access.Input) { in.Analysis.Tired = of(0.4) }, "feasible", "feasible"},
		{"the bound at 2", func(in *access.Input) { in.Analysis.Bound = of(2) }, "feasible", "feasible"},
		{"the bound below 2: measured too thinly", func(in *access.Input) { in.Analysis.Bound = of(1.999999) }, "marginal", "marginal"},
		{"one reading has no bound", func(in *access.Input) { in.Analysis.Bound = missing() }, "marginal", "marginal"},
		{"the bound says nothing of a reserve below 3", func(in *access.Input) { in.Analysis.Reserve, in.Analysis.Bound = of(2.5), of(2.4) }, "marginal", "marginal"},
		{"no tired reading: the assumed factor stands in", func(in *access.Input) { in.Analysis.Tired = missing() }, "feasible", "feasible"},
		{"hold 29", func(in *access.Input) { in.Analysis.Hold = of(29) }, "marginal", "marginal"},
		{"hold 9: practice only", func(in *access.Input) { in.Analysis.Hold = of(9) }, "marginal", "marginal"},
		{"chin 50 gf, rough trial clean", head(50, of(1)), "feasible", "feasible"},
		{"chin 50 gf, two unmeant", head(50, of(2)), "feasible", "marginal"},
		{"chin 50 gf, three unmeant", head(50, of(3)), "feasible", "not-feasible"},
		{"chin 50 gf, no rough trial", head(50, missing()), "feasible", "unknown"},
		{"chin 16 gf, no rough trial", head(16, missing()), "feasible", "unknown"},
		{"chin 15 gf", head(15, of(0)), "feasible", "not-feasible"},
		{"chin 80 gf, no rough trial", head(80, missing()), "feasible", "unknown"},
		{"chin 81 gf, no rough trial", head(81, missing()), "feasible", "feasible"},
		{"finger 10 gf, two unmeant", finger(10, of(2)), "feasible", "marginal"},
		{"finger 10 gf, no rough trial", finger(10, missing()), "feasible", "unknown"},
		{"finger 16 gf, no rough trial", finger(16, missing()), "feasible", "feasible"},
		{"nothing chosen", func(in *access.Input) { in.Setup = nil }, "unknown", "unknown"},
	} {
		in := fits()
		c.change(&in)
		r := access.Judge(in)
		if r.Indoors.String() != c.indoors || r.Outdoors.String() != c.outdoors {
			t.Errorf("%s: indoors %v, outdoors %v; want %s, %s: %s", c.name, r.Indoors, r.Outdoors, c.indoors, c.outdoors, said(r.Say))
		}
		for _, reason := range r.Reasons {
			if (reason.Verdict == access.Feasible) != reason.Change.Empty() {
				t.Errorf("%s: rule %s is %v and says to change %q", c.name, reason.Rule, reason.Verdict, said(reason.Change))
			}
		}
	}
}

func head(start float64, rough quantity.Quantity) func(*access.Input) {
	return func(in *access.Input) { in.Setup.Site, in.Setup.StartGF, in.Rough = "chin", start, rough }
}

func finger(start float64, rough quantity.Quantity) func(*access.Input) {
	return func(in *access.Input) { in.Setup.Site, in.Setup.StartGF, in.Rough = "index-right", start, rough }
}

func TestShortHoldIsForPracticeOnly(t *testing.T) {
	in := fits()
	in.Analysis.Hold = of(9)
	if r := access.Judge(in); !r.PractiseOnly {
		t.Error("a hold of 9 s carries more than practice")
	}
}

// TestSixtyGramsAtAFinger: refused the standard control, given the very light
// one, and told what would have to change.
func TestSixtyGramsAtAFinger(t *testing.T) {
	var readings []strength.Reading
	for d := strength.Forward; d <= strength.Right; d++ {
		for range 3 {
			readings = append(readings, strength.Reading{What: strength.Force, Site: "index-right", Direction: d, Value: 60})
		}
	}
	setup := &strength.Setup{Class: "standard", Site: "index-right", StartGF: 100, OperateGF: 250, TravelMM: 28,
		Needed: []strength.Direction{strength.Forward, strength.Reverse, strength.Left, strength.Right}}
	analysis := strength.Analyse(readings, setup)
	r := access.Judge(access.Input{Setup: setup, Analysis: &analysis})
	if r.Indoors != access.NotFeasible || r.Reasons[0].Verdict != access.NotFeasible {
		t.Errorf("60 gf against 250 gf is %v: %s", r.Indoors, said(r.Reasons[0].Say))
	}
	for _, want := range []string{"60 gf rested", "42 gf for 250 gf asked", "0.16 times (too tight)"} {
		if got := said(r.Reasons[0].Say); !strings.Contains(got, want) {
			t.Errorf("no %q in %q", want, got)
		}
	}
	if got := said(r.Reasons[0].Change); !strings.Contains(got, "14 gf or less") {
		t.Errorf("what would change it: %q", got)
	}
	for i, want := range []access.Verdict{access.NotFeasible, access.NotFeasible, access.Unknown} { // kinds in general are ideas
		if c := r.Classes[i]; c.Verdict != want {
			t.Errorf("%s: %v, want %v: %s", c.ID, c.Verdict, want, said(c.Say))
		}
	}
}

func TestNoStickFitsIsNotTheEnd(t *testing.T) {
	setup := &strength.Setup{Class: "very-light", Site: "index-right", StartGF: 4, OperateGF: 10, TravelMM: 3, Needed: []strength.Direction{strength.Forward}}
	analysis := strength.Analyse([]strength.Reading{{What: strength.Force, Site: "index-right", Direction: strength.Forward, Value: 5}}, setup)
	notes := said(access.Judge(access.Input{Setup: setup, Analysis: &analysis}).Notes...)
	for _, want := range []string{"switches", "head pads", "breath control", "attendant control", "list what was tried"} {
		if !strings.Contains(notes, want) {
			t.Errorf("no %q in %q", want, notes)
		}
	}
}
