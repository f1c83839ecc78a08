package engine_test

import (
	"slices"
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/model"
	"doorsill/internal/phrase"
)

// TestTheWayBeforeTheHandLetsGo: release time by set speed, beside the setting.
func TestTheWayBeforeTheHandLetsGo(t *testing.T) {
	speed := func(ref, key, value, unit string) model.Setting {
		return model.Setting{Stamp: model.Stamp{Ref: model.Ref(ref)}, SettingChanged: model.SettingChanged{Key: key, Before: "1", After: value, Unit: unit, Why: "tried"}}
	}
	inProfile := func(profile string, set model.Setting) model.Setting {
		set.Profile = profile
		return set
	}
	for name, c := range map[string]struct {
		releases []float64
		missed   bool
		set      []model.Setting
		want     []string
		metres   string
	}{
		"the last of two speeds": {[]float64{0.9, 1.2, 1, 1, 1}, false, []model.Setting{speed("a:1", "fwd_speed_max", "9", "km/h"), speed("a:2", "fwd_speed_max", "6", "km/h")},
			[]string{"At 6 km/h the chair goes 2 m before the hand lets go (slowest release 1.2 s); braking comes on top."}, "2"},
		"a speed of each profile": {[]float64{1.2, 1.2, 1.2, 1.2, 1.2}, false,
			[]model.Setting{inProfile("indoors", speed("a:1", "fwd_speed_max", "3", "km/h")), inProfile("outdoors", speed("a:2", "fwd_speed_max", "6", "km/h"))},
			[]string{
				"At 3 km/h the chair goes 1 m before the hand lets go (slowest release 1.2 s); braking comes on top.",
				"At 6 km/h the chair goes 2 m before the hand lets go (slowest release 1.2 s); braking comes on top.",
			}, "2"},
		"no release": {nil, false, []model.Setting{speed("a:1", "rev_speed_max", "3", "km/h")}, []string{"How far the chair goes before the hand lets go needs timed releases: time five from the word “stop”."}, ""},
		"one that never came": {[]float64{1, 1, 1, 1, 0}, true, []model.Setting{speed("a:1", "fwd_speed_max", "6", "km/h")},
			[]string{"A release did not come, so the chair does not stop by letting go at any speed."}, ""},
		"in percent":   {[]float64{1, 1, 1, 1, 1}, false, []model.Setting{speed("a:1", "fwd_speed_max", "60", "%")}, []string{"How far the chair goes before the hand lets go needs the speed in km/h; it is set as 60 %."}, ""},
		"no speed set": {[]float64{1, 1, 1, 1, 1}, false, []model.Setting{speed("a:1", "attendant_speed", "6", "km/h")}, nil, ""},
	} {
		visit := newBest().visit()
		visit.Settings = c.set
		visit.Readings = slices.DeleteFunc(visit.Readings, func(r model.Reading) bool { return r.What == model.ReadRelease })
		for i, s := range c.releases {
			r := reading(model.ReadRelease, "", "rested", s, "s")
			r.Site, r.Missed = visit.Setup.Site, c.missed && i == len(c.releases)-1
			visit.Readings = append(visit.Readings, r)
		}
		result := scoreOf(t, visit)
		words := phrase.NewWriter(phrase.English(), authoring.Standard())
		var said []string
		metres := ""
		for i := range result.Ways {
			said = append(said, words.Text(&result.Ways[i].Message))
			if m := result.Ways[i].Metres; m != nil {
				metres = m.Text()
			}
		}
		if !slices.Equal(said, c.want) || metres != c.metres {
			t.Errorf("%s: %q, %q m; want %q, %q", name, said, metres, c.want, c.metres)
		}
	}
}

// TestTheSideThatIsNotNoticedIsNamed, in the answer and in what it forbids.
func TestTheSideThatIsNotNoticedIsNamed(t *testing.T) {
	visit := newBest().visit()
	left, right := 1.0, 5.0
	visit.Answers = slices.DeleteFunc(visit.Answers, func(a model.Answer) bool { return a.Item == "per-sides" })
	visit.Answers = append(visit.Answers, model.Answer{Item: "per-sides", Heads: []model.Given{{AnswerGiven: model.AnswerGiven{
		Item: "per-sides", State: model.StateAnswered, Left: &left, Right: &right}}}})
	got := line(t, &visit, "effect\tlimit:accompanied\tper-sides")
	if want := "effect\tlimit:accompanied\tper-sides\tNoticing both sides: 6 of 10 (left: 1 of 5). The level is not above Accompanied while this stands."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got, want := line(t, &visit, "item\tper-sides"), "item\tper-sides\tanswered\t6 of 10 (left: 1 of 5)\t4\t0\t0\t0"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// TestNothingCountedIsNoAnswerToWhatDoesNotApply: no switch, so no press that was
// not meant; but a press that was counted counts.
func TestNothingCountedIsNoAnswerToWhatDoesNotApply(t *testing.T) {
	for presses, want := range map[int]string{0: "item\tmnt-swmiss\tnot-applicable", 2: "item\tmnt-swmiss\tanswered"} {
		visit := newBest().visit()
		for i := range visit.Runs {
			visit.Runs[i].Presses = 0
		}
		visit.Runs[0].Presses = presses
		visit.Answers = slices.DeleteFunc(visit.Answers, func(a model.Answer) bool { return a.Item == "mnt-swmiss" })
		visit.Answers = append(visit.Answers, model.Answer{Item: "mnt-swmiss", Heads: []model.Given{{AnswerGiven: model.AnswerGiven{
			Item: "mnt-swmiss", State: model.StateNotApplicable, Reason: "no switch"}}}})
		line(t, &visit, want)
	}
}
