package engine_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/engine"
	"doorsill/internal/model"
)

// TestWhichPlaceAnswersWhichItem: each kind its own item, from any measure on, and of
// several the worst, wherever it stands in the list.
func TestWhichPlaceAnswersWhichItem(t *testing.T) {
	ramp := func(id string, rise, run float64, notNeeded bool) model.PlaceMeasured {
		return model.PlaceMeasured{Place: id, Kind: "ramp", RiseMM: rise, RunMM: run, WidthMM: 900, LandingMM: 1500, NotNeeded: notNeeded}
	}
	for _, c := range []struct {
		name   string
		width  float64 // of the chair
		places []model.PlaceMeasured
		want   string // item=answer@place, by item
	}{
		{"a door", 650, []model.PlaceMeasured{{Place: "a", Kind: "door", WidthMM: 800}}, "hom-door=150@a"},
		{"a door beside a corridor", 650, []model.PlaceMeasured{{Place: "a", Kind: "door-off-corridor", WidthMM: 800, CorridorMM: 1200}}, "hom-door=150@a"},
		{"a door that was not measured", 650, []model.PlaceMeasured{{Place: "a", Kind: "door"}}, ""},
		{"a chair that was not measured", 0, []model.PlaceMeasured{{Place: "a", Kind: "door", WidthMM: 800}}, ""},
		{"a corridor is no door", 650, []model.PlaceMeasured{{Place: "a", Kind: "corridor", WidthMM: 800}}, ""},
		{"the narrower door first", 650, []model.PlaceMeasured{{Place: "a", Kind: "door", WidthMM: 700}, {Place: "b", Kind: "door", WidthMM: 800}}, "hom-door=50@a"},
		{"the narrower door last", 650, []model.PlaceMeasured{{Place: "a", Kind: "door", WidthMM: 800}, {Place: "b", Kind: "door", WidthMM: 700}}, "hom-door=50@b"},
		{"of two alike the first", 650, []model.PlaceMeasured{{Place: "a", Kind: "door", WidthMM: 700}, {Place: "b", Kind: "door", WidthMM: 700}}, "hom-door=50@a"},
		{"a narrower door that nobody needs", 650, []model.PlaceMeasured{{Place: "a", Kind: "door", WidthMM: 800}, {Place: "b", Kind: "door", WidthMM: 700, NotNeeded: true}}, "hom-door=150@a"},
		{"a sill", 650, []model.PlaceMeasured{{Place: "a", Kind: "threshold", HeightMM: 12}}, "hom-sill=12@a"},
		{"a sill of 1 mm", 650, []model.PlaceMeasured{{Place: "a", Kind: "threshold", HeightMM: 1}}, "hom-sill=1@a"},
		{"a sill that was not measured", 650, []model.PlaceMeasured{{Place: "a", Kind: "threshold"}}, ""},
		{"the higher sill last", 650, []model.PlaceMeasured{{Place: "a", Kind: "threshold", HeightMM: 10}, {Place: "b", Kind: "threshold", HeightMM: 12}}, "hom-sill=12@b"},
		{"the higher sill first", 650, []model.PlaceMeasured{{Place: "a", Kind: "threshold", HeightMM: 12}, {Place: "b", Kind: "threshold", HeightMM: 10}}, "hom-sill=12@a"},
		{"two sills alike", 650, []model.PlaceMeasured{{Place: "a", Kind: "threshold", HeightMM: 12}, {Place: "b", Kind: "threshold", HeightMM: 12}}, "hom-sill=12@a"},
		{"a ramp", 650, []model.PlaceMeasured{ramp("a", 100, 1200, false)}, "hom-ramp=12@a over=false"},
		{"a ramp of 1 mm", 650, []model.PlaceMeasured{ramp("a", 1, 12, false)}, "hom-ramp=12@a over=false"},
		{"a ramp of no length", 650, []model.PlaceMeasured{ramp("a", 100, 0, false)}, ""},
		{"a ramp of no height", 650, []model.PlaceMeasured{ramp("a", 0, 1200, false)}, ""},
		{"the steeper ramp last", 650, []model.PlaceMeasured{ramp("a", 100, 1600, false), ramp("b", 100, 1200, false)}, "hom-ramp=12@b over=false"},
		{"a ramp over the limit", 650, []model.PlaceMeasured{ramp("a", 100, 600, false)}, "hom-ramp=6@a over=true"}, // 9.5 degrees of 6
		{"one over the limit that nobody needs", 650, []model.PlaceMeasured{ramp("a", 100, 1200, false), ramp("b", 100, 600, true)}, "hom-ramp=12@a over=false"},
		{"a sill over the limit beside a ramp", 650, []model.PlaceMeasured{ramp("a", 100, 1200, false), {Place: "b", Kind: "threshold", HeightMM: 41}}, "hom-ramp=12@a over=false hom-sill=41@b"},
		{"a lift that carries", 650, []model.PlaceMeasured{{Place: "a", Kind: "load", LimitKG: 300}}, "hom-load=yes@a"},
		{"a lift that does not", 650, []model.PlaceMeasured{{Place: "a", Kind: "load", LimitKG: 100}}, "hom-load=no@a"},
		{"a lift of which the limit is not known", 650, []model.PlaceMeasured{{Place: "a", Kind: "load"}}, "hom-load=no@a"},
		{"a lift that carries and one that does not", 650, []model.PlaceMeasured{{Place: "a", Kind: "load", LimitKG: 300}, {Place: "b", Kind: "load", LimitKG: 100}}, "hom-load=no@b"},
		{"room to turn", 650, []model.PlaceMeasured{{Place: "a", Kind: "turn-on-spot", WidthMM: 2500}}, "hom-turn=3@a"},
		{"no room to turn", 650, []model.PlaceMeasured{{Place: "a", Kind: "turn-on-spot", WidthMM: 900}}, "hom-turn=0@a"},
		{"room here and none there", 650, []model.PlaceMeasured{{Place: "a", Kind: "turn-on-spot", WidthMM: 2500}, {Place: "b", Kind: "turn-on-spot", WidthMM: 900}}, "hom-turn=0@b"},
		{"none here and room there", 650, []model.PlaceMeasured{{Place: "a", Kind: "turn-on-spot", WidthMM: 900}, {Place: "b", Kind: "turn-on-spot", WidthMM: 2500}}, "hom-turn=0@a"},
		{"room that was not measured", 650, []model.PlaceMeasured{{Place: "a", Kind: "turn-on-spot"}}, ""},
	} {
		visit := atHome(t, c.places...)
		if c.width == 0 {
			visit.Chair = nil
		}
		found, err := engine.New(authoring.StandardVersion(visit.Checklist.Hash)).MeasuredAnswers(&visit)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		var list []string
		for _, one := range found.Items {
			answer := one.Level
			if one.Number != nil {
				answer = fmt.Sprint(*one.Number)
			}
			text := one.Item + "=" + answer + "@" + one.Place
			for _, fact := range slices.Sorted(maps.Keys(one.Facts)) {
				text += fmt.Sprintf(" over=%v", one.Facts[fact])
			}
			list = append(list, text)
		}
		slices.Sort(list)
		if got := strings.Join(list, " "); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
