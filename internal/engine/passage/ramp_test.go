package passage_test

import (
	"math"
	"strings"
	"testing"

	"doorsill/internal/engine/passage"
	"doorsill/internal/engine/provenance"
)

func TestTheChairsLimitGoesFirst(t *testing.T) {
	c := chair(t)
	plain := passage.Ramp{RiseMM: 150, RunMM: 1800, WidthMM: 915, LandingTopMM: 1525, LandingBottomMM: 1525, ChairLimitDegrees: 8}
	for _, c2 := range []struct {
		name    string
		change  func(*passage.Ramp)
		verdict string
		words   string
	}{
		{"1 in 12", func(*passage.Ramp) {}, passage.Feasible, "gentle"},
		{"1 in 10", func(r *passage.Ramp) { r.RunMM = 1500 }, passage.Marginal, ": steep."},
		{"1 in 9", func(r *passage.Ramp) { r.RunMM = 1350 }, passage.Marginal, ": very steep."},
		{"1 in 7.9", func(r *passage.Ramp) { r.RunMM = 1180 }, passage.Marginal, ": too steep for most."},
		{"1 in 6", func(r *passage.Ramp) { r.RunMM = 900 }, passage.NotFeasible, "9.5 degrees): too steep for most. That is steeper than the 8 degrees that the chair's manual allows: this way is shut."},
		{"gentle, but the chair allows less", func(r *passage.Ramp) { r.ChairLimitDegrees = 4 }, passage.NotFeasible, "steeper than the 4 degrees that the chair's manual allows"},
		{"limit not known", func(r *passage.Ramp) { r.ChairLimitDegrees = none }, passage.Unknown, "read its manual"},
		{"narrow", func(r *passage.Ramp) { r.WidthMM = 640 }, passage.NotFeasible, "width of 640 mm is less than the chair's 650 mm"},
		{"short landing", func(r *passage.Ramp) { r.LandingTopMM = 900 }, passage.Marginal, "landing at the top"},
		{"landing not measured", func(r *passage.Ramp) { r.LandingTopMM = none }, passage.Unknown, "Not measured: landing at the top"},
		{"width not measured", func(r *passage.Ramp) { r.WidthMM = none }, passage.Unknown, "Not measured: width"},
		{"narrow, and the limit is not known", func(r *passage.Ramp) { r.WidthMM, r.ChairLimitDegrees = 640, none }, passage.NotFeasible, "640 mm"},
		{"hardly steeper than 1 in 12", func(r *passage.Ramp) { r.RunMM = 1799.9 }, passage.Marginal, "1 in 11.999 (8.334 %, 4.764 degrees): steep."},
		{"hardly above the limit", func(r *passage.Ramp) { r.ChairLimitDegrees = 4.75 }, passage.NotFeasible, "4.76 degrees): gentle. That is steeper than the 4.75 degrees"},
	} {
		ramp := plain
		c2.change(&ramp)
		got := must[*passage.Slope](t)(c.RampFor(ramp))
		if got.Verdict != c2.verdict || !strings.Contains(say(got.Say), c2.words) {
			t.Errorf("%s: %s, %q; want %s, words %q", c2.name, got.Verdict, say(got.Say), c2.verdict, c2.words)
		}
		for _, row := range got.Compared {
			if text := say(row.Say); !strings.Contains(text, "heck your local code") || !strings.Contains(text, "405.") {
				t.Errorf("%s: %q names no section, or no local code", c2.name, text)
			}
		}
	}
}

func TestARampRefusesWhatCannotBe(t *testing.T) {
	c := chair(t)
	good := passage.Ramp{RiseMM: 150, RunMM: 1800, WidthMM: none, LandingTopMM: none, LandingBottomMM: none, ChairLimitDegrees: none}
	for field, change := range map[string]func(*passage.Ramp){
		"rise":                      func(r *passage.Ramp) { r.RiseMM = 0 },
		"run":                       func(r *passage.Ramp) { r.RunMM = 0 },
		"ramp-width":                func(r *passage.Ramp) { r.WidthMM = -1 },
		"landing-bottom":            func(r *passage.Ramp) { r.LandingBottomMM = math.Inf(1) },
		"slope-limit":               func(r *passage.Ramp) { r.ChairLimitDegrees = 0 },
		"run, when nothing is said": func(r *passage.Ramp) { r.RunMM = none },
	} {
		ramp := good
		change(&ramp)
		_, err := c.RampFor(ramp)
		name, _, _ := strings.Cut(field, ",")
		refused(t, field, err, name)
	}
}

func TestThresholds(t *testing.T) {
	for _, c := range []struct {
		height, limit float64
		verdict, word string
	}{
		{10, 50, passage.Feasible, "low"}, {13, none, passage.Unknown, "low"}, {18, 50, passage.Marginal, "bump"},
		{18, none, passage.Unknown, "bump"}, {50, none, passage.Unknown, "wedge"}, {100, none, passage.NotFeasible, "ramp"}, {400, none, passage.NotFeasible, "ramp"}, {40, 50, passage.Marginal, "wedge"},
		{60, 75, passage.Marginal, "ramp"}, {60, 50, passage.NotFeasible, "ramp"}, {10, 8, passage.NotFeasible, "low"},
	} {
		got := must[*passage.DoorThresholdResult](t)(passage.DoorThresholdFor(passage.DoorThreshold{HeightMM: c.height, ChairLimitMM: c.limit}))
		if got.Verdict != c.verdict || got.Word != c.word {
			t.Errorf("%v mm with a limit of %v: %s, %s; want %s, %s", c.height, c.limit, got.Verdict, got.Word, c.verdict, c.word)
		}
		if !hasWords("threshold", got.Word) {
			t.Errorf("the threshold %q has no words", got.Word)
		}
	}
}

func TestLoads(t *testing.T) {
	load := passage.Load{RatingKG: 300, ChairKG: 160, PersonKG: 75}
	for _, c := range []struct {
		rating  float64
		verdict string
		words   string
	}{
		{300, passage.Feasible, "Chair and person together 235 kg; the lift, floor or hoist is rated for 300 kg."},
		{210, passage.NotFeasible, "together 235 kg; the lift, floor or hoist is rated for only 210 kg: this way is shut."},
		{235, passage.Feasible, "together 235 kg; the lift, floor or hoist is rated for 235 kg."},
		{none, passage.Unknown, "together 235 kg; the rating"},
	} {
		load.RatingKG = c.rating
		if got := must[*passage.Burden](t)(passage.LoadOn(load)); got.Verdict != c.verdict || !strings.Contains(say(got.Say), c.words) {
			t.Errorf("rated for %v kg: %s, %q; want %s, %q", c.rating, got.Verdict, say(got.Say), c.verdict, c.words)
		}
	}
}

// TestAFigureThatMissesIsNotPrintedAsTheStandard: at most 12.7 mm is not met by
// 13 mm, and not by 12.71 mm either.
func TestAFigureThatMissesIsNotPrintedAsTheStandard(t *testing.T) {
	for _, c := range []struct {
		id    string
		yours float64
		want  string
	}{
		{"door-threshold", 13, "at most 12.7 mm; 13 mm does not meet it"},
		{"door-threshold", 12.71, "at most 12.7 mm; 12.71 mm does not meet it"},
		{"door-threshold", 20, "at most 13 mm; 20 mm does not meet it"},
		{"door-clear", 812.5, "at least 812.8 mm; 812.5 mm does not meet it"},
		{"ramp-slope", 11.98, "not steeper than 1 in 12; 1 in 11.98 does not meet it"},
		{"ramp-slope", 12, "not steeper than 1 in 12; 1 in 12 meets it"},
	} {
		row := must[passage.Compared](t)(passage.Compare(c.id, c.yours))
		if text := say(row.Say); !strings.Contains(text, c.want) {
			t.Errorf("%s: %q, want %q", c.id, text, c.want)
		}
	}
	over := must[*passage.Burden](t)(passage.LoadOn(passage.Load{RatingKG: 300, ChairKG: 200.3, PersonKG: 100}))
	if text := say(over.Say); over.Verdict != passage.NotFeasible || !strings.Contains(text, "together 300.3 kg; the lift, floor or hoist is rated for only 300 kg") {
		t.Errorf("%q", text)
	}
}

func TestEveryThresholdSaysWhereItComesFrom(t *testing.T) {
	seen := map[string]bool{}
	passage.EachThreshold(func(th *provenance.Threshold) {
		if th.ID == "" || seen[th.ID] || th.Value == 0 || th.Source.Empty() || th.Status == "" {
			t.Errorf("threshold %+v is incomplete or doubled", th)
		}
		seen[th.ID] = true
	})
}
