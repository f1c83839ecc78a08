package engine_test

import (
	"slices"
	"strings"
	"testing"

	"doorsill/internal/engine"
	"doorsill/internal/message"
	"doorsill/internal/model"
)

// TestDoesNotApplyIsNoWayAroundAQuestion: where the set-up or a needed place says
// that an item applies, it counts as not tested.
func TestDoesNotApplyIsNoWayAroundAQuestion(t *testing.T) {
	place := func(kind string, needed bool) func(*model.Visit) {
		return func(v *model.Visit) {
			v.Places = []model.Place{{PlaceMeasured: model.PlaceMeasured{Place: "p", Kind: kind, Name: "a place", NotNeeded: !needed}}}
		}
	}
	// drive moves everything that was found to another site.
	drive := func(site string) func(*model.Visit) {
		return func(v *model.Visit) {
			v.Setup.Site = site
			for i := range v.Readings {
				v.Readings[i].Site = site
			}
		}
	}
	class := func(class string) func(*model.Visit) {
		return func(v *model.Visit) { v.Setup.Class = class }
	}
	for _, c := range []struct {
		name, item string
		change     func(*model.Visit)
		applies    bool
	}{
		{"a stick is graded", "ctl-grade", class("small"), true},
		{"a switch is not", "ctl-grade", class("switched"), false},
		{"a finger is of a limb", "pos-limb", drive("index-left"), true},
		{"a foot too", "pos-limb", drive("foot-left"), true},
		{"the chin is not", "pos-limb", drive("chin"), false},
		{"at the chin something is near the face", "mnt-urgent", drive("chin"), true},
		{"behind the head not", "mnt-urgent", drive("head-back"), false},
		{"by a hand not", "mnt-urgent", drive("hand-left"), false},
		{"a room to turn in", "ind-round", place("turn-on-spot", true), true},
		{"a half turn", "ind-round", place("half-turn", true), true},
		{"nobody needs it", "ind-round", place("half-turn", false), false},
		{"a door", "ind-round", place("door", true), false},
		{"a ramp up", "out-up", place("ramp", true), true},
		{"and down", "out-down", place("ramp", true), true},
		{"a sideways slope is no ramp", "out-camber", place("ramp", true), false},
	} {
		b := newBest()
		b.answers[c.item] = model.AnswerGiven{Item: c.item, State: model.StateNotApplicable, Reason: "not with this person"}
		v := b.visit()
		c.change(&v)
		result, err := engine.New(b.list).Score(&v)
		if err != nil {
			t.Fatal(c.name, err)
		}
		at := slices.IndexFunc(result.Items, func(i model.ItemResult) bool { return i.ID == c.item })
		said := slices.ContainsFunc(result.Notes, func(m message.Message) bool { return m.Code == "readiness.applies" })
		if open := result.Items[at].State == model.StateNotTested; open != c.applies || said != c.applies {
			t.Errorf("%s: %s is %s, said %v", c.name, c.item, result.Items[at].State, said)
		}
	}
}

// TestNotesStandInOneOrder: two answers that the set-up contradicts are noted in
// one order, whatever the order in which they were given.
func TestNotesStandInOneOrder(t *testing.T) {
	b := newBest()
	for _, item := range []string{"ind-round", "pos-limb"} {
		b.answers[item] = model.AnswerGiven{Item: item, State: model.StateNotApplicable, Reason: "not with this person"}
	}
	v := b.visit()
	v.Places = []model.Place{{PlaceMeasured: model.PlaceMeasured{Place: "p", Kind: "half-turn", Name: "a place"}}}
	for _, direction := range []int{1, -1} {
		slices.SortFunc(v.Answers, func(a, b model.Answer) int { return direction * strings.Compare(a.Item, b.Item) })
		result, err := engine.New(b.list).Score(&v)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, note := range result.Notes {
			if note.Code == "readiness.applies" {
				got = append(got, note.Arg("item").Word)
			}
		}
		if want := []string{"ind-round", "pos-limb"}; !slices.Equal(got, want) {
			t.Errorf("noted of %q, want %q", got, want)
		}
	}
}
