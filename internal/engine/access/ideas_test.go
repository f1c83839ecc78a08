package access_test

import (
	"strings"
	"testing"

	"doorsill/internal/decimal"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/strength"
	"doorsill/internal/model"
)

func roles(r access.Result) (main, fallback string) {
	for _, c := range r.Choices {
		switch c.Role {
		case "main":
			main = c.Control + "@" + c.Site
		case "fallback":
			fallback = c.Control + "@" + c.Site
		}
	}
	return main, fallback
}

// TestAKindInGeneralNeverStandsForOneThatWasRefused: the kit's small stick is
// refused, so a small stick in general is no way out; nor is it for a set-up
// that is not in the kit. Kinds of which none was measured are ideas, without a
// verdict of their own, and come behind every control that is at hand.
func TestAKindInGeneralNeverStandsForOneThatWasRefused(t *testing.T) {
	who := measured("hand-right", alike(110), alike(110)).chose("small", "hand-right", 20, 60, 4)
	who.in.Kit = []model.PackedControl{kitOf("k1", "small", 20, 60, 4), kitOf("k2", "very-light", 0, 12, 3)}
	for _, kit := range [][]model.PackedControl{who.in.Kit, nil} {
		who.in.Kit = kit
		r := who.judged()
		for _, c := range r.Choices {
			if c.Control == access.Generic+"small" {
				t.Errorf("kit %v: a small stick in general is place %d, %s: %s", kit != nil, c.Rank, c.Role, said(c.Say...))
			}
			if strings.HasPrefix(c.Control, access.Generic) && c.Indoors != access.NotFeasible && c.Indoors != access.Unknown {
				t.Errorf("%s in general is %v", c.Control, c.Indoors)
			}
		}
	}
	// The very light control has no starting force entered: known too little of
	// it, but it is at hand, so it goes before an idea.
	who = measured("hand-right", alike(900), alike(900))
	who.in.Kit = []model.PackedControl{kitOf("k2", "very-light", 0, 12, 3)}
	r := who.judged()
	if main, _ := roles(r); main != "k2@hand-right" {
		t.Errorf("main %s", main)
	}
	idea := choiceOf(t, r, access.Generic+"standard", "hand-right")
	if got := reasonOf(t, idea.Reasons, "idea"); got.Verdict != access.Unknown || !strings.Contains(said(got.Say), "An idea") {
		t.Errorf("%v: %s", got.Verdict, said(got.Say))
	}
}

// TestTheFallbackIsUsableWhereThePersonMustDrive: a light chin control is barred
// on rough ground; and one measured site has no fallback.
func TestTheFallbackIsUsableWhereThePersonMustDrive(t *testing.T) {
	who := measured("hand-right", alike(900), alike(900)).at("chin", alike(900), alike(900)).chose("small", "hand-right", 20, 50, 4)
	who.in.Kit = []model.PackedControl{kitOf("k1", "small", 20, 50, 4), kitOf("k2", "very-light", 5, 12, 3)}
	if _, fallback := roles(who.judged()); fallback != "k1@chin" {
		t.Errorf("not asked of rough ground: fallback %s", fallback)
	}
	who.in.Kit = who.in.Kit[1:]
	if _, fallback := roles(who.judged()); fallback != "k2@chin" {
		t.Errorf("not asked of rough ground, which refuses it: fallback %s", fallback)
	}
	who.in.Kit = []model.PackedControl{kitOf("k1", "small", 20, 50, 4), kitOf("k2", "very-light", 5, 12, 3)}
	who.in.Needs.RoughGround = new(true)
	who.in.Kit[0].StartGF = 12 // at the chin rough ground refuses both now
	who.setup.StartGF = 12
	r := who.judged()
	if main, fallback := roles(r); main != "k1@hand-right" || fallback != "k2@hand-right" {
		t.Errorf("rough ground needed: main %s, fallback %s", main, fallback)
	}
	who = measured("hand-right", alike(900), alike(900)).chose("small", "hand-right", 20, 50, 4)
	who.in.Kit = []model.PackedControl{kitOf("k1", "small", 20, 50, 4), kitOf("k2", "very-light", 5, 12, 3)}
	r = who.judged()
	_, fallback := roles(r)
	if say := said(choiceOf(t, r, "k1", "hand-right").Say...); fallback != "" || !strings.Contains(say, "measure a second site") {
		t.Errorf("one site: fallback %q: %s", fallback, say)
	}
}

// TestTheLightestIsNotAskedToBeLighter: neither in the order of choice nor in
// what would change a verdict.
func TestTheLightestIsNotAskedToBeLighter(t *testing.T) {
	for start, lightest := range map[float64]bool{15: true, 15.000001: false} {
		who := measured("hand-right", alike(2.5*start), alike(2.5*start)).chose("very-light", "hand-right", 5, start, 3)
		who.in.Kit = []model.PackedControl{kitOf("k1", "very-light", 5, start, 3)}
		who.in.Needs.Course, who.in.Pain = "fast", decimal.Int(5)
		for i := range who.readings {
			if who.readings[i].What == strength.Hold {
				who.readings[i].Value = 9
			}
		}
		c := choiceOf(t, who.judged(), "k1", "hand-right")
		text := said(c.Say...)
		for _, r := range c.Reasons {
			text += said(r.Change)
		}
		asked := strings.Contains(text, "a lighter kind") || strings.Contains(text, "A lighter kind")
		if asked == lightest {
			t.Errorf("%v gf: %s", start, text)
		}
	}
}

// TestAHelperWithAnOwnControl is not judged by the driver's.
func TestAHelperWithAnOwnControl(t *testing.T) {
	who := measured("hand-right", alike(100), alike(100)).chose("very-light", "hand-right", 5, 12, 3)
	who.in.Needs.HelperDrives = new(true)
	if r := reasonOf(t, who.judged().Reasons, "helper"); r.Verdict != access.NotFeasible {
		t.Errorf("with the driver's control: %v", r.Verdict)
	}
	who.in.Kit = []model.PackedControl{kitOf("h", "attendant", 60, 250, 28)}
	if r := reasonOf(t, who.judged().Reasons, "helper"); r.Verdict != access.Feasible || !strings.Contains(said(r.Say), "own control of 250 gf") {
		t.Errorf("with an own one: %v, %s", r.Verdict, said(r.Say))
	}
	who.in.Kit[0].OperateGF = 15
	if r := reasonOf(t, who.judged().Reasons, "helper"); r.Verdict != access.NotFeasible {
		t.Errorf("with one that is too light as well: %v", r.Verdict)
	}
}

// TestReadingsThatScatter: 40, 150 and 260 gf have a mean of 150, which is 3
// times 50, and are neither feasible nor steady.
func TestReadingsThatScatter(t *testing.T) {
	who := measured("hand-right", alike(160), alike(160)).chose("small", "hand-right", 20, 50, 4)
	if r := who.judged(); r.Indoors != access.Feasible {
		t.Fatalf("160 gf three times: %s", said(r.Say))
	}
	values := []float64{40, 150, 260}
	for i := range who.readings {
		if r := &who.readings[i]; r.What == strength.Force && r.Direction == strength.Left && !r.Tired {
			r.Value, values = values[0], values[1:]
		}
	}
	who.in.Kit = []model.PackedControl{kitOf("k1", "small", 20, 50, 4)}
	r := who.judged()
	force := reasonOf(t, r.Reasons, "force")
	if r.Indoors == access.Feasible || !strings.Contains(said(force.Say), "not sure enough to rely on") || !strings.Contains(said(force.Change), "left, again: 3 readings") {
		t.Errorf("%v: %s %s", r.Indoors, said(force.Say), said(force.Change))
	}
	if odd := reasonOf(t, choiceOf(t, r, "k1", "hand-right").Reasons, "odd"); !odd.Caution || !strings.Contains(said(odd.Say), "left") {
		t.Errorf("%+v", odd)
	}
}

// TestCautionsDecideBetweenEquals: fading and odd readings warn and do not bar,
// and what has fewer of them goes first.
func TestCautionsDecideBetweenEquals(t *testing.T) {
	who := measured("index-right", alike(900), alike(700)).at("hand-right", alike(900), alike(900))
	who.in.Kit = []model.PackedControl{kitOf("k1", "small", 20, 50, 4)}
	r := who.judged()
	if main, fallback := roles(r); main != "k1@hand-right" || fallback != "k1@index-right" {
		t.Errorf("main %s, fallback %s", main, fallback)
	}
	if c := choiceOf(t, r, "k1", "index-right"); c.Indoors != access.Feasible || !reasonOf(t, c.Reasons, "fading").Caution {
		t.Errorf("fading alone: %v", c.Indoors)
	}
}

// TestNoControlOfNoForceIsAskedFor: where hardly any force comes, no lighter
// stick is the way, and no figure of nothing is told.
func TestNoControlOfNoForceIsAskedFor(t *testing.T) {
	for _, c := range []struct {
		gf   float64
		want string
	}{
		{0, "No stick is light enough"}, {2.9, "No stick is light enough"}, {3, "1 gf or less would leave 3 times that"},
		{100, "33.3 gf or less would leave 3 times that"},
	} {
		who := measured("hand-right", alike(c.gf), alike(c.gf)).chose("standard", "hand-right", 20, 250, 4)
		if change := said(reasonOf(t, who.judged().Reasons, "force").Change); !strings.HasPrefix(change, c.want) {
			t.Errorf("%v gf: %q, want %q", c.gf, change, c.want)
		}
	}
}
