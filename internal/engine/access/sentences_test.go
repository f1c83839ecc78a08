package access_test

import (
	"slices"
	"testing"

	"doorsill/internal/decimal"
	"doorsill/internal/engine/access"
	"doorsill/internal/message"
	"doorsill/internal/model"
)

// hand is somebody whom a 50 gf stick suits at the right hand, and who has a
// 48 gf one in the kit.
func hand() *client {
	who := measured("hand-right", alike(210), alike(200)).chose("small", "hand-right", 20, 50, 4)
	who.in.Kit = []model.PackedControl{kitOf("k1", "small", 20, 48, 4)}
	return who
}

func TestAUsualKindIsSaidWithWhatCountsAndWhatIsOpen(t *testing.T) {
	who := hand()
	who.in.Pain = decimal.Int(5)
	r := who.judged()
	for i, want := range []string{
		"Standard stick, taken as 250 gf and 28 mm (common practice): 0.8 times what it asks (too tight), travel: does not work, pain: only just works; does not work.",
		"Small stick, taken as 50 gf (common practice): 4 times what it asks (enough), pain: only just works; not judged: travel (read it off the actual control); not known yet.",
		"Very light stick, taken as 10 gf and 3 mm (common practice): 20 times what it asks (plenty), pain: only just works; not known yet.",
	} {
		if got := said(r.Classes[i].Say); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
	if got, want := codes(r.Classes[0].Say.Arg("found").Messages[0].Arg("found").Messages), []string{"access.class-reserve", "access.class-rule", "access.class-rule"}; !slices.Equal(got, want) {
		t.Errorf("found %v, want %v", got, want)
	}
}

func codes(list []message.Message) []string {
	var all []string
	for i := range list {
		all = append(all, list[i].Code)
	}
	return all
}

func TestAControlIsSaidWithItsPlaceAndWhatKeepsItBack(t *testing.T) {
	for _, c := range []struct {
		name          string
		change        func(*client)
		control, site string
		want          []string
	}{
		{"the first", func(*client) {}, "k1", "hand-right", []string{"access.verdict", "access.first-choice", "access.second-site"}},
		{"a later one", func(*client) {}, "class:very-light", "hand-right", []string{"access.verdict-because", "access.place"}},
		{"the fallback", func(c *client) { c.at("index-right", alike(210), alike(200)) }, "k1", "index-right", []string{"access.verdict", "access.place", "access.fallback"}},
		{"refused", func(*client) {}, "class:standard", "hand-right", []string{"access.verdict-because"}},
		{"open indoors", func(c *client) { c.in.PainAsked = false }, "k1", "hand-right", []string{"access.verdict-because", "access.first-to-measure", "access.second-site"}},
		{"open outdoors alone", func(c *client) {
			c.at("chin", alike(210), alike(200)).chose("small", "chin", 20, 50, 4)
			c.in.Needs.Rejected = map[string]string{"hand-right": "The arm rests there. "}
		}, "k1", "chin", []string{"access.verdict-because", "access.first-choice", "access.second-site"}},
		{"ruled out", func(c *client) {
			c.in.Needs.Rejected = map[string]string{"hand-right": "The arm rests there. "}
		}, "k1", "hand-right", []string{"access.verdict", "access.ruled-out"}},
		{"no jacks", func(c *client) {
			c.pressing(300, 60)
			c.in.Kit[0].PowerJack, c.in.Kit[0].ModeJack = false, false
		}, "k1", "hand-right", []string{"access.verdict", "access.no-jacks", "access.first-choice", "access.second-site"}},
	} {
		who := hand()
		c.change(who)
		choice := choiceOf(t, who.judged(), c.control, c.site)
		if got := codes(choice.Say); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v: %s", c.name, got, c.want, said(choice.Say...))
		}
	}
}

func TestWhatIsLeftNamesTriedAndRuledOutSites(t *testing.T) {
	arm := map[string]string{"hand-right": "The arm rests there. "}
	for _, c := range []struct {
		name     string
		who      *client
		ruledOut map[string]string
		want     string
	}{
		{"a stick fits", hand(), nil, ""},
		{"it fits where it is ruled out", hand(), arm, "Every site that was measured is ruled out. Ruled out: the right hand (The arm rests there)."},
		{"none fits elsewhere", hand().at("chin", alike(12), alike(12)), arm,
			"No stick works at any site that was measured. Tried: at the chin 48 gf, 250 gf, 10 gf. Ruled out: the right hand (The arm rests there)."},
		{"as heavy a control twice", measured("chin", alike(12), alike(12)), nil,
			"No stick works at any site that was measured. Tried: at the chin 50 gf, 250 gf, 10 gf."},
	} {
		c.who.in.Needs.Rejected = c.ruledOut
		if len(c.who.in.Kit) == 0 {
			c.who.in.Kit = []model.PackedControl{kitOf("k2", "small", 20, 50, 4)}
		}
		got := ""
		if r := c.who.judged(); r.Left != nil {
			got = said(r.Left.Say)
		}
		if got != c.want {
			t.Errorf("%s: got %q, want %q", c.name, got, c.want)
		}
	}
}

func TestRoughGround(t *testing.T) {
	for _, c := range []struct {
		name    string
		change  func(*access.Input)
		rule    string
		verdict access.Verdict
		say     string
	}{
		{"too light for the head", head(15, of(0)), "rough-head", access.NotFeasible, "A control that starts at 15 gf, worked with the head on rough ground: bumps push harder than the control asks, so it is not for outdoors; indoors is judged alone."},
		{"just heavy enough", head(16, of(0)), "rough-head", access.Feasible, "A control that starts at 16 gf, worked with the head on rough ground: test.measured"},
		{"heavy", head(81, missing()), "rough-head", access.Feasible, "A control that starts at 81 gf, worked with the head on rough ground: heavier than 80 gf, so nothing stands against it."},
		{"none on a route", func(in *access.Input) { head(50, missing())(in); in.Needs.RoughGround = new(false) }, "rough-head", access.Feasible, "A control that starts at 50 gf, worked with the head on rough ground: none on a needed route."},
		{"a light one at a finger", finger(15, of(1)), "rough-finger", access.Feasible, "A control that starts at 15 gf, at a finger or thumb on rough ground: test.measured"},
		{"not blocked", func(in *access.Input) { finger(15, of(1))(in); in.Needs.Blocked = new(false) }, "rough-finger", access.Marginal, "A control that starts at 15 gf, at a finger or thumb on rough ground: test.measured Hand and forearm are not blocked."},
		{"not blocked, too many", func(in *access.Input) { finger(15, of(2))(in); in.Needs.Blocked = new(false) }, "rough-finger", access.Marginal, "A control that starts at 15 gf, at a finger or thumb on rough ground: test.measured"},
	} {
		in := fits()
		c.change(&in)
		if r := reasonOf(t, access.Judge(in).Reasons, c.rule); r.Verdict != c.verdict || said(r.Say) != c.say {
			t.Errorf("%s: %v, %q; want %v, %q", c.name, r.Verdict, said(r.Say), c.verdict, c.say)
		}
	}
}

func TestAKeyForReverseIsOnlyProposedWhereItCanBePluggedIn(t *testing.T) {
	for jack, want := range map[bool]string{
		true:  "A note only. A shorter way to full command reverse (the same force), a shifted mount, or reverse by a key that is shown to work with 3 times the force that it asks.",
		false: "A note only. A shorter way to full command reverse (the same force), a shifted mount.",
	} {
		uneven := [4]float64{400, 170, 300, 300}
		who := measured("hand-right", uneven, uneven).chose("small", "hand-right", 20, 50, 4)
		k := kitOf("k1", "small", 20, 50, 4)
		k.ModeJack = jack
		who.in.Kit = []model.PackedControl{k}
		if got := said(reasonOf(t, who.judged().Reasons, "balance").Change); got != want {
			t.Errorf("with a jack %v: got %q, want %q", jack, got, want)
		}
	}
}
