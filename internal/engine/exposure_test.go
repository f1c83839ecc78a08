package engine_test

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"doorsill/internal/engine"
	"doorsill/internal/model"
)

// TestARaisedExposureIsLookedAtEarly: one line of the card is enough, none is not, and a
// limit that was passed before stays passed.
func TestARaisedExposureIsLookedAtEarly(t *testing.T) {
	for _, c := range []struct {
		name           string
		hours, perMin  float64
		strength, pain float64
		want           bool
	}{
		{"60 commands a day", 1, 1, 20, 1, false},
		{"1200 commands a day", 10, 2, 20, 1, true},
		{"a force that is a third of the strength", 1, 1, 1, 1, true},
	} {
		v := readVector(t, filepath.Join(vectorDir, "chin-exposure.json"))
		for i := range v.Visit.Readings {
			if r := &v.Visit.Readings[i]; r.What == model.ReadForce {
				r.Value *= c.strength
			}
		}
		if c.strength == 1 {
			v.Visit.Setup.OperateGF = 70
		}
		answered(&v.Visit, "ctl-pain", model.AnswerGiven{Number: new(c.pain)})
		answered(&v.Visit, "ctl-strain", model.AnswerGiven{Level: "3"})
		v.Visit.Needs.HoursDriving, v.Visit.Needs.CommandsPerMin, v.Visit.Needs.SecondsPerCommand = &c.hours, &c.perMin, new(1.0)
		v.Visit.Needs.Course = "fast" // four weeks, as for what is raised
		result, err := engine.New(v.list(t)).Score(&v.Visit)
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Contains(result.Recheck.Message.String(), "endurance.recheck-raised"); got != c.want {
			t.Errorf("%s: raised %v, want %v: %s", c.name, got, c.want, result.Recheck.Message.String())
		}
	}
}

// TestTheCardOfADriverByChin has its figures to four decimals, and says why where it
// cannot be made.
func TestTheCardOfADriverByChin(t *testing.T) {
	card := func(change func(*model.Visit)) model.Result {
		v := readVector(t, filepath.Join(vectorDir, "chin-exposure.json"))
		change(&v.Visit)
		result, err := engine.New(v.list(t)).Score(&v.Visit)
		if err != nil {
			t.Fatal(err)
		}
		return result
	}
	result := card(func(v *model.Visit) { v.Needs.HoursDriving = new(0.0) })
	if say := result.Exposure.Message.String(); !strings.Contains(say, "refusal.") || slices.ContainsFunc(result.Limits, func(q model.Quantity) bool { return strings.HasPrefix(q.Name, "exposure-") }) {
		t.Errorf("no hours: %s", say)
	}
	result = card(func(*model.Visit) {})
	if say := result.Exposure.Message.String(); strings.Contains(say, "refusal.") || !slices.ContainsFunc(result.Limits, func(q model.Quantity) bool { return q.Name == "exposure-share-of-strength" }) {
		t.Errorf("%s", say)
	}
}

// TestPainBringsTheNextLookForward from 4 of 10 on, and so does pain that nobody asked
// about (TRADE.md 4.6).
func TestPainBringsTheNextLookForward(t *testing.T) {
	for _, c := range []struct {
		pain []model.AnswerGiven
		want string
	}{
		{[]model.AnswerGiven{{Number: new(3.0)}}, ""},
		{[]model.AnswerGiven{{Number: new(4.0)}}, "endurance.recheck-pain "},
		{nil, "endurance.recheck-pain-unasked"},
	} {
		result := scoredAfter(t, func(v *model.Visit) {
			answered(v, "ctl-pain", c.pain...)
			v.Needs = &model.Needs{NeedsNoted: model.NeedsNoted{Course: "fast"}}
		})
		got := ""
		for _, code := range []string{"endurance.recheck-pain ", "endurance.recheck-pain-unasked"} {
			if strings.Contains(result.Recheck.Message.String()+" ", code) {
				got = code
			}
		}
		if got != c.want {
			t.Errorf("%+v: %q, want %q: %s", c.pain, got, c.want, result.Recheck.Message.String())
		}
	}
}

// TestLoadsOfOtherControls: of the first choice and of what the client wishes, in the
// weakest needed direction, unless they ask no force that is known.
func TestLoadsOfOtherControls(t *testing.T) {
	loads := func(change func(*model.Visit)) (list []string) {
		result := scoredAfter(t, func(v *model.Visit) {
			v.Kit = append(v.Kit, model.PackedControl{ID: "kit-one", Name: "One", Class: "small", StartGF: 4, OperateGF: 11, TravelMM: 3},
				model.PackedControl{ID: "kit-none", Name: "None", Class: "small"})
			change(v)
		})
		for _, l := range result.Loads {
			if l.Control != "setup" {
				list = append(list, l.Control+" "+l.Direction)
			}
		}
		return list
	}
	weakest := func(direction string) func(*model.Visit) {
		return func(v *model.Visit) {
			for i := range v.Readings {
				if r := &v.Readings[i]; r.What == model.ReadForce && r.Direction == direction {
					r.Value *= 0.5
				}
			}
			v.Needs = &model.Needs{NeedsNoted: model.NeedsNoted{WishControl: "kit-one"}}
		}
	}
	for _, direction := range []string{"left", "right"} {
		if got := loads(weakest(direction)); !slices.Contains(got, "kit-one "+direction) {
			t.Errorf("weakest %s: %v", direction, got)
		}
	}
	if got := loads(func(v *model.Visit) { v.Needs = &model.Needs{NeedsNoted: model.NeedsNoted{WishControl: "kit-none"}} }); slices.ContainsFunc(got, func(l string) bool { return strings.HasPrefix(l, "kit-none") }) {
		t.Errorf("of unknown force: %v", got)
	}
}

// TestTheCardPutsNothingOff: an hour without a break at 8 % of the strength stays a
// reason to look again where no line of the card is one. Commands are whole: 1.5 hours
// of 1.11 a minute are 99.9, so 100.
func TestTheCardPutsNothingOff(t *testing.T) {
	hours := func(h float64) func(*model.Visit) { return func(v *model.Visit) { v.Needs.HoursDriving = &h } }
	for _, c := range []struct {
		visit    model.Visit
		raised   bool
		commands string
	}{
		{usualDay("chin", 32, commands(1, 60), hours(1)), true, "60"},
		{usualDay("chin", 31, commands(1, 60), hours(1)), false, "60"},
		{usualDay("chin", 31, commands(1.11, 1), hours(1.5)), false, "100"},
	} {
		result := scoreOf(t, c.visit)
		if got := raisedOf(&result); got != c.raised {
			t.Errorf("raised %v, want %v: %s", got, c.raised, result.Recheck.Message.String())
		}
		if got := limitsOf(&result, "exposure-commands-a-day"); !slices.Equal(got, []string{"exposure-commands-a-day: " + c.commands}) {
			t.Errorf("%q, want %s", got, c.commands)
		}
		if strings.Contains(result.Exposure.Message.String(), "endurance.raised") {
			t.Errorf("the card is raised: %s", result.Exposure.Message.String())
		}
	}
}

// TestAControlOfUnknownForceIsLookedAtEarly: what it asks was not entered, so that
// nobody knows whether there is enough.
func TestAControlOfUnknownForceIsLookedAtEarly(t *testing.T) {
	for asks, want := range map[float64]bool{0: true, 50: false} {
		result := scoreOf(t, usualDay("hand-right", asks, func(v *model.Visit) { v.Setup.StartGF = 0 }))
		if got := strings.Contains(result.Recheck.Message.String(), "endurance.recheck-force-open"); got != want {
			t.Errorf("%v gf: %v, want %v: %s", asks, got, want, result.Recheck.Message.String())
		}
	}
}
