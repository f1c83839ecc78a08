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

// answeredAtHome is the visit at home with another answer to one item.
func answeredAtHome(t *testing.T, item string, given model.AnswerGiven, places ...model.PlaceMeasured) model.Visit {
	t.Helper()
	visit := atHome(t, places...)
	visit.Answers = slices.DeleteFunc(visit.Answers, func(a model.Answer) bool { return a.Item == item })
	given.Item = item
	visit.Answers = append(visit.Answers, model.Answer{Item: item, Heads: []model.Given{{AnswerGiven: given}}})
	return visit
}

// noted are the notes of a result with a code.
func noted(r *model.Result, code string) (list []string) {
	for i := range r.Notes {
		if r.Notes[i].Code == code {
			list = append(list, r.Notes[i].String())
		}
	}
	return list
}

// TestTheQuestionBesideTheRamp: answered no where a needed ramp is over the chair's limit
// it counts as yes, and the visit itself stays as it was.
func TestTheQuestionBesideTheRamp(t *testing.T) {
	steep := model.PlaceMeasured{Kind: "ramp", RiseMM: 100, RunMM: 600, WidthMM: 900, LandingMM: 1500} // 9.5 degrees of 6
	unneeded, gentle := steep, steep
	unneeded.NotNeeded, gentle.RunMM = true, 1200
	sill := model.PlaceMeasured{Place: "sill", Kind: "threshold", HeightMM: 41}
	for _, c := range []struct {
		name   string
		facts  map[string]bool
		places []model.PlaceMeasured
		want   bool
	}{
		{"no, and over the limit", map[string]bool{"ramp-over-limit": false}, []model.PlaceMeasured{steep}, true},
		{"yes, and over the limit", map[string]bool{"ramp-over-limit": true}, []model.PlaceMeasured{steep}, false},
		{"not asked, and over the limit", nil, []model.PlaceMeasured{steep}, false},
		{"no, and within the limit", map[string]bool{"ramp-over-limit": false}, []model.PlaceMeasured{gentle}, false},
		{"no, and over the limit where nobody needs it", map[string]bool{"ramp-over-limit": false}, []model.PlaceMeasured{unneeded}, false},
		{"no, and a sill over the limit", map[string]bool{"ramp-over-limit": false}, []model.PlaceMeasured{gentle, sill}, false},
	} {
		visit := answeredAtHome(t, "hom-ramp", model.AnswerGiven{State: model.StateAnswered, Number: new(5.0), Facts: c.facts}, c.places...)
		result := scoreOf(t, visit)
		if got := len(noted(&result, "passage.conflict-limit")) == 1; got != c.want {
			t.Errorf("%s: said %v, want %v", c.name, got, c.want)
		}
		if c.facts["ramp-over-limit"] != (c.name == "yes, and over the limit") {
			t.Errorf("%s: the answer of the visit was changed", c.name)
		}
	}
	door := answeredAtHome(t, "hom-door", model.AnswerGiven{State: model.StateAnswered, Number: new(200.0), Facts: map[string]bool{"ramp-over-limit": false}}, steep)
	if result, err := engine.New(authoring.StandardVersion(door.Checklist.Hash)).Score(&door); err == nil && len(noted(&result, "passage.conflict-limit")) > 0 {
		t.Error("the question stands beside the ramp alone")
	}
}

// TestAPlaceIsSaidAsItIs: shut where nobody may drive, and else not driven alone; an item
// that nobody tested is not answered by it.
func TestAPlaceIsSaidAsItIs(t *testing.T) {
	for _, c := range []struct {
		place         model.PlaceMeasured
		answer, limit string
	}{
		{model.PlaceMeasured{Kind: "ramp", RiseMM: 100, RunMM: 1600, WidthMM: 640, LandingMM: 1500}, "passage.answer", "passage.limits"},
		{model.PlaceMeasured{Kind: "threshold", HeightMM: 41}, "passage.answer-barred", "passage.limits-barred"},
	} {
		result := scoreOf(t, atHome(t, c.place))
		at := slices.IndexFunc(result.Effects, func(f model.RaisedEffect) bool { return f.Place == "p" })
		if at < 0 || result.Effects[at].Message.Code != c.limit || !strings.Contains(result.Headline.String(), "["+c.answer+" place") {
			t.Errorf("%s: %+v, %s; want %s, %s", c.place.Kind, result.Effects, result.Headline.String(), c.limit, c.answer)
		}
	}
	visit := answeredAtHome(t, "hom-door", model.AnswerGiven{State: model.StateNotTested}, model.PlaceMeasured{Kind: "door", WidthMM: 690})
	result := scoreOf(t, visit)
	at := slices.IndexFunc(result.Items, func(i model.ItemResult) bool { return i.ID == "hom-door" })
	if result.Items[at].State != "not-tested" || len(noted(&result, "passage.conflict")) > 0 {
		t.Errorf("not tested: %+v, %v", result.Items[at], noted(&result, "passage.conflict"))
	}
}
