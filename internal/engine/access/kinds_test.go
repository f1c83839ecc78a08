package access_test

import (
	"slices"
	"strings"
	"testing"

	"doorsill/internal/decimal"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
	"doorsill/internal/model"
)

// kindOf is what is said of a usual kind at the chosen site.
func kindOf(t *testing.T, r access.Result, id string) (access.ClassVerdict, message.Message) {
	t.Helper()
	for _, c := range r.Classes {
		if found := c.Say.Arg("found"); c.ID == id && found != nil {
			return c, found.Messages[0]
		}
	}
	t.Fatalf("nothing is said of %s", id)
	return access.ClassVerdict{}, message.Message{}
}

// TestAUsualKindWithoutForceReadings is not judged, and what is missing is said.
func TestAUsualKindWithoutForceReadings(t *testing.T) {
	who := measured("hand-right", alike(400), alike(400)).chose("small", "hand-right", 20, 50, 4)
	who.readings = slices.DeleteFunc(who.readings, func(r strength.Reading) bool { return r.What == strength.Force })
	c, say := kindOf(t, who.judged(), "very-light")
	if c.Verdict != access.Unknown || c.HasReserve || !strings.Contains(said(say), "No force reading at the right hand for: forward, reverse, left, right") {
		t.Errorf("%v, a reserve %v: %s", c.Verdict, c.HasReserve, said(c.Say))
	}
}

// TestWhatElseCountsForAUsualKind: what refuses the chosen control by pain or by a slow
// release refuses each, what is open is named, and so is an unmeant force that drives
// it, from one reading.
func TestWhatElseCountsForAUsualKind(t *testing.T) {
	for _, c := range []struct {
		name       string
		change     func(*client)
		want       access.Verdict
		worse      []string
		unmeasured string
	}{
		{"nothing", func(*client) {}, access.Unknown, nil, ""},
		{"pain of 7", func(c *client) { c.in.Pain = decimal.Int(7) }, bad, []string{"access.class-rule"}, ""},
		{"pain not asked", func(c *client) { c.in.PainAsked = false }, access.Unknown, nil, "pain"},
		{"a slow release with another control", func(c *client) {
			c.readings = slices.DeleteFunc(c.readings, func(r strength.Reading) bool { return r.What == strength.Release })
			for i := range c.readings {
				if c.readings[i].What == strength.Hold || c.readings[i].What == strength.Unintended {
					c.readings[i].Class, c.readings[i].Control = "small", "Grey stick"
				}
			}
			c.setup.Control = "Grey stick"
			c.readings = append(c.readings, strength.Reading{What: strength.Release, Site: "hand-right", Class: "small", Control: "Grey stick", Value: 4})
		}, bad, []string{"access.class-rule"}, ""},
		{"10 gf unmeant", func(c *client) {
			for i := range c.readings {
				if c.readings[i].What == strength.Unintended {
					c.readings[i].Value = 10
				}
			}
		}, bad, []string{"access.class-driven-unmeant"}, ""},
	} {
		who := measured("hand-right", alike(400), alike(400)).chose("small", "hand-right", 20, 50, 4)
		c.change(who)
		got, say := kindOf(t, who.judged(), "very-light")
		var worse []string
		if list := say.Arg("found"); list != nil {
			worse = codes(list.Messages)[1:] // behind the reserve
		}
		unmeasured := ""
		if list := say.Arg("unmeasured"); list != nil {
			unmeasured = strings.Join(list.Words, " ")
		}
		if got.Verdict != c.want || !slices.Equal(worse, c.worse) || unmeasured != c.unmeasured {
			t.Errorf("%s: %v, worse %v, open %q; want %v, %v, %q", c.name, got.Verdict, worse, unmeasured, c.want, c.worse, c.unmeasured)
		}
	}
}

// TestWhatWasFoundWithAnyControlCountsForAKind: with another name, and where nothing was
// found with one of the kind, with another kind.
func TestWhatWasFoundWithAnyControlCountsForAKind(t *testing.T) {
	for _, c := range []struct {
		name        string
		class, with string
		unmeant     float64
		kind        string
		want        access.Verdict
	}{
		{"60 gf unmeant with another small stick", "small", "Blue stick", 60, "small", bad},
		{"49 gf unmeant with another small stick", "small", "Blue stick", 49, "small", access.Unknown},
		{"12 gf unmeant with the chosen small stick", "small", "Grey stick", 12, "very-light", bad},
		{"9 gf unmeant with the chosen small stick", "small", "Grey stick", 9, "very-light", access.Unknown},
	} {
		who := measured("hand-right", alike(400), alike(400)).chose("small", "hand-right", 20, 50, 4)
		who.setup.Control = "Grey stick"
		for i := range who.readings {
			who.readings[i].Class, who.readings[i].Control = "small", "Grey stick"
		}
		who.readings = append(who.readings, strength.Reading{What: strength.Unintended, Site: "hand-right", Class: c.class, Control: c.with, Value: c.unmeant})
		if got, _ := kindOf(t, who.judged(), c.kind); got.Verdict != c.want {
			t.Errorf("%s: %s is %v, want %v", c.name, c.kind, got.Verdict, c.want)
		}
	}
}

// TestWhichControlOfTheKitIsMeant: one with another way to full command is another
// control, and one without a name is any of its figures.
func TestWhichControlOfTheKitIsMeant(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*model.PackedControl)
		want   access.Verdict
	}{
		{"the very one", func(*model.PackedControl) {}, good},
		{"without a name", func(k *model.PackedControl) { k.Name = "" }, good},
		{"of another name", func(k *model.PackedControl) { k.Name = "Blue stick" }, bad},
		{"with another way", func(k *model.PackedControl) { k.TravelMM = 5 }, bad},
		{"with another force", func(k *model.PackedControl) { k.OperateGF = 51 }, bad},
		{"with another start", func(k *model.PackedControl) { k.StartGF = 21 }, bad},
	} {
		who := measured("hand-right", alike(400), alike(400)).chose("small", "hand-right", 20, 50, 4)
		who.setup.Control = "Grey stick"
		k := kitOf("k1", "small", 20, 50, 4)
		k.Name, k.Sealing = "Grey stick", "IP54"
		c.change(&k)
		who.in.Kit = []model.PackedControl{k}
		who.in.Needs.Moisture = map[string]string{"hand-right": "wet"}
		if got := reasonOf(t, who.judged().Reasons, "wet").Verdict; got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// TestOfTwoThatMayBeMeantBothMustHaveIt: the jack for a key of reverse, what a helper
// may work, and a known seal against water.
func TestOfTwoThatMayBeMeantBothMustHaveIt(t *testing.T) {
	for _, c := range []struct {
		name           string
		one, other     model.PackedControl
		jack, attended bool
		seal           string
	}{
		{"both", model.PackedControl{ModeJack: true, Attendant: true, Sealing: "IP54"}, model.PackedControl{ModeJack: true, Attendant: true, Sealing: "IP55"}, true, true, "access.wet-sealed"},
		{"the first", model.PackedControl{ModeJack: true, Attendant: true, Sealing: "IP55"}, model.PackedControl{Sealing: "IP53"}, false, false, "access.wet-not-sealed"},
		{"the second", model.PackedControl{Sealing: "IP53"}, model.PackedControl{ModeJack: true, Attendant: true, Sealing: "IP55"}, false, false, "access.wet-not-sealed"},
		{"none", model.PackedControl{Sealing: "IP50"}, model.PackedControl{}, false, false, "access.wet-seal-unknown"},
	} {
		who := measured("hand-right", alike(400), alike(400)).chose("small", "hand-right", 20, 50, 4)
		for i, k := range []model.PackedControl{c.one, c.other} {
			k.ID, k.Class, k.StartGF, k.OperateGF, k.TravelMM = string(rune('a'+i)), "small", 20, 50, 4
			who.in.Kit = append(who.in.Kit, k)
		}
		who.in.Needs.Moisture, who.in.Needs.HelperDrives = map[string]string{"hand-right": "wet"}, new(true)
		who.pressing(180, 60).in.Needs.ReverseKey = new(true)
		r := who.judged()
		if got := len(who.setup.Needed) == 3; got != c.jack {
			t.Errorf("%s: reverse by a key %v, want %v", c.name, got, c.jack)
		}
		if got := reasonOf(t, r.Reasons, "helper").Verdict == good; got != c.attended {
			t.Errorf("%s: fit for a helper %v, want %v", c.name, got, c.attended)
		}
		if got := reasonOf(t, r.Reasons, "wet").Say.Code; got != c.seal {
			t.Errorf("%s: %s, want %s", c.name, got, c.seal)
		}
	}
}

// TestWhatIsLeftBesideSticks: a switch that works is no stick that does, and one as
// heavy as a stick is not taken for it; without a reading nothing was tried.
func TestWhatIsLeftBesideSticks(t *testing.T) {
	who := measured("chin", alike(12), alike(12))
	who.in.Kit = []model.PackedControl{
		kitOf("sw", "switched", 0, 5, 2), kitOf("heavy-sw", "switched", 100, 150, 2), kitOf("k1", "small", 20, 48, 4),
		kitOf("k2", "standard", 20, 48, 5), kitOf("k3", "very-light", 20, 150, 4),
	}
	r := who.judged()
	if r.Left == nil || r.Left.Verdict != bad {
		t.Fatalf("%+v", r.Left)
	}
	if got, want := said(r.Left.Say), "No stick works at any site that was measured. Tried: at the chin 48 gf, 150 gf."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	who.in.Kit = []model.PackedControl{kitOf("k1", "small", 20, 48, 4), kitOf("k2", "standard", 20, 48, 5), kitOf("k3", "very-light", 20, 48, 4)}
	if r := who.judged(); r.Left == nil || said(r.Left.Say) != "No stick works at any site that was measured. Tried: at the chin 48 gf." {
		t.Errorf("three as heavy: %+v", r.Left)
	}
	who.in.Kit = []model.PackedControl{kitOf("sw", "switched", 0, 5, 2), kitOf("k1", "small", 20, 48, 4)}
	if r := who.judged(); r.Left == nil || !slices.Contains(r.Left.Change.Arg("open").Words, "head-pads") {
		t.Errorf("a switch that is not refused is still to try: %+v", r.Left)
	}
	var in access.Input
	in.Analysis = new(strength.Analysis)
	in.Needs.Rejected = map[string]string{"chin": "sore"}
	if r := access.Judge(in); r.Left != nil {
		t.Errorf("nothing was measured: %s", said(r.Left.Say))
	}
}
