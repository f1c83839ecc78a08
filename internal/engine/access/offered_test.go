package access_test

import (
	"slices"
	"testing"

	"doorsill/internal/engine/access"
	"doorsill/internal/engine/strength"
	"doorsill/internal/model"
)

// offered lists the controls that are judged at a site, in order.
func offered(r access.Result, site string) []string {
	var list []string
	for _, c := range r.Choices {
		if c.Site == site {
			list = append(list, c.Control)
		}
	}
	return list
}

// TestWhatIsJudgedWhere: breath and no touch at the head alone, a helper's control
// nowhere, and the usual kinds of which none was measured.
func TestWhatIsJudgedWhere(t *testing.T) {
	who := measured("hand-right", alike(400), alike(400)).at("chin", alike(400), alike(400))
	who.in.Kit = []model.PackedControl{
		kitOf("helper", "attendant", 60, 250, 28), kitOf("breath", "breath", 0, 0, 0), kitOf("near", "non-contact", 0, 0, 0), kitOf("stick", "small", 20, 50, 4),
	}
	r := who.judged()
	if got, want := offered(r, "hand-right"), []string{"stick", "class:standard", "class:very-light"}; !slices.Equal(got, want) {
		t.Errorf("at the hand %v, want %v", got, want)
	}
	if got, want := offered(r, "chin"), []string{"breath", "near", "stick", "class:standard", "class:very-light"}; !slices.Equal(got, want) {
		t.Errorf("at the chin %v, want %v", got, want)
	}
}

// TestAKindOfWhichOneWasMeasured is not judged in general: of one whose force is not
// known nothing was measured yet.
func TestAKindOfWhichOneWasMeasured(t *testing.T) {
	for _, c := range []struct {
		name       string
		kit, setup float64
		want       bool
	}{
		{"none", 0, 0, true}, {"one of 1 gf in the kit", 1, 0, false}, {"one of 1 gf chosen", 0, 1, false}, {"the usual one chosen", 0, 50, true},
	} {
		who := measured("hand-right", alike(400), alike(400)).chose("small", "hand-right", 0, c.setup, 0)
		who.in.Kit = []model.PackedControl{kitOf("k1", "small", 0, c.kit, 0)}
		if got := slices.Contains(offered(who.judged(), "hand-right"), "class:small"); got != c.want {
			t.Errorf("%s: small sticks in general judged %v, want %v", c.name, got, c.want)
		}
	}
}

// TestTheChosenControlIsJudgedAsItIsSet, in the kit or as a usual kind; another one is
// judged with the whole way to full command, and as nobody set it.
func TestTheChosenControlIsJudgedAsItIsSet(t *testing.T) {
	who := measured("hand-right", alike(400), alike(400)).at("index-right", alike(400), alike(400)).chose("small", "hand-right", 20, 50, 12)
	who.in.Kit = []model.PackedControl{kitOf("k1", "small", 20, 50, 12), kitOf("k2", "small", 20, 48, 12)}
	// 10 mm of way are usable: enough for the 8 mm that two thirds of 12 mm come to.
	for d := range who.setup.Throw {
		who.setup.Throw[d] = 200.0 / 3
	}
	r := who.judged()
	for _, c := range []struct {
		control, site string
		want          access.Verdict
	}{{"k1", "hand-right", good}, {"k2", "hand-right", bad}, {"k1", "index-right", bad}} {
		if got := reasonOf(t, choiceOf(t, r, c.control, c.site).Reasons, "travel").Verdict; got != c.want {
			t.Errorf("travel of %s at %s: %v, want %v", c.control, c.site, got, c.want)
		}
	}
	who = measured("hand-right", alike(400), alike(400)).at("index-right", alike(400), alike(400)).chose("small", "hand-right", 20, 50, 4)
	who.in.Kit = []model.PackedControl{kitOf("k1", "small", 20, 50, 4), kitOf("k2", "small", 20, 48, 4)}
	who.setup.Mode = model.DriveLatched
	r = who.judged()
	for _, c := range []struct {
		control, site string
		want          bool
	}{{"k1", "hand-right", true}, {"k2", "hand-right", false}, {"k1", "index-right", false}} {
		if got := slices.Contains(rulesOf(choiceOf(t, r, c.control, c.site).Reasons), "latched"); got != c.want {
			t.Errorf("%s at %s: latched %v, want %v", c.control, c.site, got, c.want)
		}
	}
	who.setup.SeparateStop = true
	if got := reasonOf(t, choiceOf(t, who.judged(), "k1", "hand-right").Reasons, "latched").Verdict; got != good {
		t.Errorf("latched, with a stop: %v", got)
	}
	// A way of exactly 10 mm for 8 mm is 1.25 times.
	who = measured("hand-right", alike(400), alike(400)).chose("standard", "hand-right", 20, 48, 4)
	who.in.Kit = []model.PackedControl{kitOf("k2", "standard", 20, 250, 8)}
	if got := reasonOf(t, choiceOf(t, who.judged(), "k2", "hand-right").Reasons, "travel").Verdict; got != good {
		t.Errorf("10 mm for 8 mm: %v", got)
	}
}

// TestAUsualKindThatWasChosen has what was entered of it: what starts it, and the
// breath that it asks.
func TestAUsualKindThatWasChosen(t *testing.T) {
	for start, want := range map[float64]access.Verdict{0: access.Unknown, 20: good} { // 1 gf unmeant against 20 gf
		who := measured("hand-right", alike(400), alike(400)).chose("small", "hand-right", start, 50, 0)
		if got := reasonOf(t, choiceOf(t, who.judged(), "class:small", "hand-right").Reasons, "noise").Verdict; got != want {
			t.Errorf("started by %v gf: %v, want %v", start, got, want)
		}
	}
	who := measured("chin", alike(400), alike(400)).chose("breath", "chin", 0, 0, 0)
	who.setup.BreathKPa = 2
	who.in.Needs.BreathLeak, who.in.Needs.Tracheostomy = new(false), new(false)
	who.in.Kit = []model.PackedControl{kitOf("k1", "breath", 0, 0, 0)}
	who.readings = append(who.readings, strength.Reading{What: strength.Breath, Site: "chin", Tired: true, Value: 6})
	if got := reasonOf(t, choiceOf(t, who.judged(), "k1", "chin").Reasons, "breath").Verdict; got != good {
		t.Errorf("6 kPa for 2: %v", got)
	}
}

// TestTheNameOfTheChosenControl is that of what was found with it: a stop by another
// does not show that this one is let go of.
func TestTheNameOfTheChosenControl(t *testing.T) {
	for name, want := range map[string]access.Verdict{"Grey stick": bad, "Blue stick": good} {
		who := measured("hand-right", alike(400), alike(400)).chose("small", "hand-right", 20, 50, 4)
		who.setup.Control = "Grey stick"
		k := kitOf("k1", "small", 20, 50, 4)
		who.in.Kit = []model.PackedControl{k}
		who.readings = append(who.readings, strength.Reading{What: strength.Release, Site: "hand-right", Class: "small", Control: name, Value: 4})
		if got := reasonOf(t, choiceOf(t, who.judged(), "k1", "hand-right").Reasons, "release").Verdict; got != want {
			t.Errorf("let go of the %s after 4 s: %v, want %v", name, got, want)
		}
	}
}

// TestWhatTheClientWishes is noted on the control and on the site, and on nothing else.
func TestWhatTheClientWishes(t *testing.T) {
	who := measured("hand-right", alike(400), alike(400)).at("index-right", alike(400), alike(400)).chose("small", "hand-right", 20, 50, 4)
	who.in.Kit = []model.PackedControl{kitOf("k1", "small", 20, 50, 4), kitOf("k2", "small", 20, 48, 4)}
	who.in.Needs.WishControl, who.in.Needs.WishSite = "k2", "index-right"
	for _, c := range who.judged().Choices {
		if want := c.Control == "k2" || c.Site == "index-right"; c.Wished != want {
			t.Errorf("%s at %s: wished %v", c.Control, c.Site, c.Wished)
		}
	}
}

// TestOneSwitchWithoutAJack: what is known of one switch alone asks for its jack alone.
func TestOneSwitchWithoutAJack(t *testing.T) {
	for at, want := range map[int]string{strength.PowerSwitch: "access.no-power-jack", strength.ModeSwitch: "access.no-mode-jack"} {
		who := hand()
		who.setup.OwnPressGF[at] = 60
		who.in.Kit[0].PowerJack, who.in.Kit[0].ModeJack = false, false
		choice := choiceOf(t, who.judged(), "k1", "hand-right")
		for _, code := range []string{"access.no-jacks", "access.no-power-jack", "access.no-mode-jack"} {
			if got := says(choice, code); got != (code == want) {
				t.Errorf("switch %d: %s said %v", at, code, got)
			}
		}
	}
	who := hand()
	who.setup.SwitchPressGF = 60
	if c := choiceOf(t, who.judged(), "class:standard", "hand-right"); says(c, "access.no-jacks") || says(c, "access.no-power-jack") || says(c, "access.no-mode-jack") {
		t.Errorf("whether a kind in general has a jack depends on the make: %s", said(c.Say...))
	}
}

// TestReasonsAreInTheOrderOfTheirWeight: what counts by verdict, then notes, then what
// is well; what weighs the same stays in the order of the rules.
func TestReasonsAreInTheOrderOfTheirWeight(t *testing.T) {
	who := measured("hand-right", alike(400), alike(160)).chose("small", "hand-right", 20, 50, 4) // 0.4 times what it was rested
	who.in.Kit = []model.PackedControl{kitOf("k1", "small", 0, 50, 50)}
	who.in.Pain, who.in.Grade = 5_000_000, 2
	who.in.Needs.Base = "stable"
	want := []string{
		"travel",          // 10 mm for 50: refused
		"noise",           // what starts it is not known
		"pain", "grading", // 5 of 10, with words
		"fading", "wet", // notes
		"force", "release", "hold", "balance", "base",
	}
	if got := rulesOf(choiceOf(t, who.judged(), "k1", "hand-right").Reasons); !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}
