package engine_test

import (
	"fmt"
	"slices"
	"testing"

	"doorsill/internal/model"
)

// TestEachSpeedHasItsWay: forwards and backwards, as each was last set in its profile,
// rounded up to decimetres. 2.5 km/h for 0.9 s are 0.625 m, 6 km/h for 0.9 s are 1.5 m.
func TestEachSpeedHasItsWay(t *testing.T) {
	set := func(ref, key, profile, value, unit string) model.Setting {
		return model.Setting{Stamp: model.Stamp{Ref: model.Ref(ref)}, SettingChanged: model.SettingChanged{Key: key, Profile: profile, Before: "1", After: value, Unit: unit, Why: "tried"}}
	}
	visit := newBest().visit()
	visit.Settings = []model.Setting{
		set("a:1", "fwd_speed_max", "", "9", "km/h"), set("a:2", "rev_speed_max", "", "2.5", "km/h"), set("a:3", "fwd_speed_max", "", "6", "km/h"),
		set("a:4", "fwd_speed_max", "out", "0", "km/h"), set("a:5", "rev_speed_max", "out", "slow", "km/h"), set("a:6", "fwd_speed_max", "in", "5", "steps"),
	}
	for i := range visit.Readings {
		if visit.Readings[i].What == model.ReadRelease {
			visit.Readings[i].Value = 0.9
		}
	}
	result := scoreOf(t, visit)
	var got []string
	for i := range result.Ways {
		w := &result.Ways[i]
		metres := "-"
		if w.Metres != nil {
			metres = w.Metres.Text()
		}
		got = append(got, fmt.Sprintf("%s %s %s %s %s", w.Setting, w.Key, metres, w.Basis, w.Message.Code))
	}
	want := []string{
		"a:2 rev_speed_max 0.7 way-before-release passage.way-before-release", "a:3 fwd_speed_max 1.5 way-before-release passage.way-before-release",
		"a:4 fwd_speed_max -  refusal.alone", "a:5 rev_speed_max -  passage.way-needs-speed", "a:6 fwd_speed_max -  passage.way-needs-speed",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
	rests := 0
	for _, p := range result.Provenance {
		if p.Quantity == "way-before-release" {
			rests++
		}
	}
	if rests != 1 {
		t.Errorf("what the way rests on stands %d times", rests)
	}
}
