package access_test

import (
	"slices"
	"testing"

	"doorsill/internal/decimal"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/strength"
	"doorsill/internal/model"
)

// rulesOf lists the rules that say something.
func rulesOf(list []access.Reason) []string {
	var rules []string
	for i := range list {
		rules = append(rules, list[i].Rule)
	}
	return rules
}

// TestWhatWasFoundWithAControlBefore counts for it, and where nothing was, what the
// chosen one shows at the same site stands in; nothing of it is carried to another
// site or to another control.
func TestWhatWasFoundWithAControlBefore(t *testing.T) {
	const unknown = access.Unknown
	use := model.InUse{Class: "small", Control: "Blue stick", Site: "hand-right"}
	for _, c := range []struct {
		name          string
		site          string
		change        func(*access.Input, *access.Found)
		pain, grading access.Verdict
	}{
		{"pain", "hand-right", func(_ *access.Input, f *access.Found) { f.Pain, f.PainAsked = decimal.Int(5), true }, fair, good},
		{"numbness, and nobody asked for pain", "hand-right", func(_ *access.Input, f *access.Found) { f.Alarm = true }, bad, good},
		{"grading", "hand-right", func(_ *access.Input, f *access.Found) { f.Grade, f.GradeAsked = 0, true }, good, bad},
		{"nothing, beside pain with the chosen one", "hand-right", func(in *access.Input, _ *access.Found) { in.Pain = decimal.Int(5) }, fair, good},
		{"nothing, beside numbness with the chosen one", "hand-right", func(in *access.Input, _ *access.Found) { in.Alarm = true }, bad, good},
		{"nothing, beside the chosen one's grading", "hand-right", func(in *access.Input, _ *access.Found) { in.Grade = 0 }, good, bad},
		{"the class is not said", "hand-right", func(_ *access.Input, f *access.Found) { f.Use.Class, f.Pain, f.PainAsked = "", decimal.Int(5), true }, good, good},
		{"the site is not said", "hand-right", func(_ *access.Input, f *access.Found) { f.Use.Site, f.Pain, f.PainAsked = "", decimal.Int(5), true }, good, good},
		{"the name is not said", "hand-right", func(_ *access.Input, f *access.Found) { f.Use.Control, f.Pain, f.PainAsked = "", decimal.Int(5), true }, good, good},
		{"another control's pain", "hand-right", func(_ *access.Input, f *access.Found) {
			f.Use.Control, f.Pain, f.PainAsked = "Red stick", decimal.Int(5), true
		}, good, good},
		{"pain elsewhere", "index-right", func(_ *access.Input, f *access.Found) {
			f.Use.Site, f.Pain, f.PainAsked = "index-right", decimal.Int(5), true
		}, fair, access.NotFeasible + 1},
		{"numbness elsewhere", "index-right", func(_ *access.Input, f *access.Found) { f.Use.Site, f.Alarm = "index-right", true }, bad, access.NotFeasible + 1},
		{"grading elsewhere", "index-right", func(_ *access.Input, f *access.Found) { f.Use.Site, f.Grade, f.GradeAsked = "index-right", 2, true }, unknown, fair},
		{"nothing elsewhere", "index-right", func(in *access.Input, _ *access.Found) { in.Grade, in.Pain = 0, decimal.Int(5) }, unknown, access.NotFeasible + 1},
	} {
		who := measured("hand-right", alike(400), alike(400)).at("index-right", alike(400), alike(400)).chose("small", "hand-right", 20, 50, 4)
		who.setup.Control = "Grey stick"
		grey, blue := kitOf("grey", "small", 20, 50, 4), kitOf("blue", "small", 20, 48, 4)
		grey.Name, blue.Name = "Grey stick", "Blue stick"
		who.in.Kit = []model.PackedControl{grey, blue}
		found := access.Found{Use: use}
		c.change(&who.in, &found)
		who.in.Others = []access.Found{found}
		list := choiceOf(t, who.judged(), "blue", c.site).Reasons
		if got := reasonOf(t, list, "pain").Verdict; got != c.pain {
			t.Errorf("%s: pain is %v, want %v", c.name, got, c.pain)
		}
		at := slices.Index(rulesOf(list), "grading")
		switch {
		case c.grading > access.NotFeasible:
			if at >= 0 {
				t.Errorf("%s: grading is %v, and was not tried there", c.name, list[at].Verdict)
			}
		case at < 0 || list[at].Verdict != c.grading:
			t.Errorf("%s: grading in %v, want %v", c.name, list, c.grading)
		}
	}
}

// TestWhatNobodyAskedIsNotSaidOfTheChosenControl: neither how wet the hand gets nor
// grading; and what does not count decides nothing.
func TestWhatNobodyAskedIsNotSaidOfTheChosenControl(t *testing.T) {
	measured := []string{"force", "travel", "noise", "release", "pain", "fading", "hold"}
	in := content()
	if got := rulesOf(access.Judge(in).Reasons); !slices.Equal(got, measured) {
		t.Errorf("%v, want %v", got, measured)
	}
	in.Analysis.Tired.Origin = 0 // nobody measured tired: that is said, for a reading is to be had
	if got := rulesOf(access.Judge(in).Reasons); !slices.Equal(got, measured) {
		t.Errorf("without a tired reading: %v, want %v", got, measured)
	}
	in.PainAsked = false
	said := access.Judge(in).Say
	if got, want := said.String(), "access.verdict-because site=hand-right indoors=unknown outdoors=unknown rules=pain"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// TestWhatDecidesIsNamed: what is as bad as the verdict indoors or outdoors, and
// nothing that is less bad.
func TestWhatDecidesIsNamed(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*access.Input)
		want   string
	}{
		{"pain, and too little force", func(in *access.Input) { in.Pain, in.Analysis.Reserve = decimal.Int(4), worth(1) }, "indoors=not-feasible outdoors=not-feasible rules=force"},
		{"pain, and rough ground that refuses", func(in *access.Input) { in.Setup.Site, in.Pain, in.Rough = "chin", decimal.Int(4), worth(3) }, "indoors=marginal outdoors=not-feasible rules=pain,rough-head"},
		{"a brief hold, and rough ground that refuses", func(in *access.Input) { in.Setup.Site, in.Analysis.Hold, in.Rough = "chin", worth(20), worth(3) }, "indoors=marginal outdoors=not-feasible rules=hold,rough-head"},
	} {
		in := content()
		c.change(&in)
		said := access.Judge(in).Say
		if got, want := said.String(), "access.verdict-because site="+in.Setup.Site+" "+c.want; got != want {
			t.Errorf("%s: %s, want %s", c.name, got, want)
		}
	}
}

// TestFurtherCautions: a long hold outdoors is not asked about where outdoors is
// refused; that no usual stick works is said where all were judged and refused.
func TestFurtherCautions(t *testing.T) {
	notes := func(in access.Input) []string {
		var list []string
		said := access.Judge(in).Notes
		for i := range said {
			list = append(list, said[i].String())
		}
		return list
	}
	in := content()
	in.Analysis.Reserve = worth(5)
	if got := notes(in); !slices.Equal(got, []string{"access.long-hold-outdoors asked=7 reserve=5"}) {
		t.Errorf("a reserve of 5: %v", got)
	}
	in.Setup.Site, in.Rough = "chin", worth(3)
	if got := notes(in); len(got) != 0 {
		t.Errorf("a reserve of 5 where rough ground refuses the control: %v", got)
	}
	// 12 gf are less than twice the lightest usual kind's 10 gf.
	for gf, want := range map[float64][]string{12: {"access.no-usual-stick"}, 900: nil} {
		who := measured("hand-right", alike(gf), alike(gf)).chose("small", "hand-right", 2, 1, 4)
		if got := notes(who.input()); !slices.Equal(got, want) {
			t.Errorf("%v gf: %v, want %v", gf, got, want)
		}
		who.in.Needs.Base = "moves"
		if got := notes(who.input()); slices.Contains(got, "access.no-usual-stick") {
			t.Errorf("%v gf on a base that moves: %v", gf, got)
		}
	}
}

// input is what the rules look at.
func (c *client) input() access.Input {
	analysis := strength.Analyse(c.readings, c.setup)
	c.in.Setup, c.in.Analysis = c.setup, &analysis
	return c.in
}
