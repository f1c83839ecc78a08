package engine_test

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/checklist/authoring"
	"doorsill/internal/engine"
	"doorsill/internal/model"
	"doorsill/internal/phrase"
)

// measuredBy lists what was measured elsewhere, as "item answer place".
func measuredBy(t *testing.T, list *checklist.Definition, visit *model.Visit) []string {
	t.Helper()
	found, err := engine.New(list).MeasuredAnswers(visit)
	if err != nil {
		t.Fatal(err)
	}
	got := []string{}
	for _, one := range found.Items {
		is := one.Level
		if one.Number != nil {
			is += strconv.FormatFloat(*one.Number, 'f', -1, 64)
		}
		got = append(got, fmt.Sprint(one.Item, " ", is, " ", one.Place))
	}
	return got
}

// TestEachKindOfPlaceAnswersItsItem: a room by its level, a lift by yes or no, the rest
// by numbers that can be typed, towards the worse side. 760 less 640.5 mm are 119.5,
// 1400/110 is 12.727.
func TestEachKindOfPlaceAnswersItsItem(t *testing.T) {
	place := func(p model.PlaceMeasured) model.PlaceMeasured {
		p.Place = p.Kind
		return p
	}
	visit := atHome(t, place(model.PlaceMeasured{Kind: "door", WidthMM: 760}), place(model.PlaceMeasured{Kind: "threshold", HeightMM: 14.2}),
		place(model.PlaceMeasured{Kind: "ramp", RiseMM: 110, RunMM: 1400}), place(model.PlaceMeasured{Kind: "load", LimitKG: 400}),
		place(model.PlaceMeasured{Kind: "turn-on-spot", CorridorMM: 2000, WidthMM: 2000}))
	visit.Chair.WidthMM = 640.5
	visit.Mount = &model.Mount{MountNoted: model.MountNoted{Kind: "fixed", FixedTo: "armrest", ClearS: 1}}
	list := authoring.Standard()
	want := []string{"hom-door 119 door", "hom-turn 3 turn-on-spot", "hom-sill 15 threshold", "hom-ramp 12.7 ramp", "hom-load yes load", "mnt-clear 1 "}
	if got := measuredBy(t, list, &visit); !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}

	// Nobody took the time.
	visit.Mount.ClearS = 0
	if got := measuredBy(t, list, &visit); !slices.Equal(got, want[:5]) {
		t.Errorf("no time: %q, want %q", got, want[:5])
	}
	visit.Mount, visit.Places = nil, nil
	if got := measuredBy(t, list, &visit); len(got) != 0 {
		t.Errorf("nothing measured: %q", got)
	}
}

// TestMeasuredAnswersAreSaid with the figure or the level, and the place.
func TestMeasuredAnswersAreSaid(t *testing.T) {
	visit := atHome(t, model.PlaceMeasured{Place: "a", Name: "front", Kind: "door", WidthMM: 769}, model.PlaceMeasured{Place: "b", Name: "lift", Kind: "load"})
	visit.Mount = &model.Mount{MountNoted: model.MountNoted{Kind: "fixed", FixedTo: "armrest", ClearS: 6}}
	list := authoring.Standard()
	found, err := engine.New(list).MeasuredAnswers(&visit)
	if err != nil {
		t.Fatal(err)
	}
	words := phrase.NewWriter(phrase.English(), list)
	var got []string
	for i := range found.Items {
		got = append(got, words.Text(&found.Items[i].Message))
	}
	if want := []string{"Front was measured: 119 mm", "Lift was measured: no", "timed at the mounting: 6 s"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// TestMeasuredAnswersAreOfTheChecklist: one that does not ask for it, or asks in another
// way than the standard one does, gets none.
func TestMeasuredAnswersAreOfTheChecklist(t *testing.T) {
	for _, item := range []string{"sit-still", "hom-load"} { // a level, where the standard one asks for yes or no
		v := readVector(t, "../../testdata/vectors/own-checklist.json")
		v.Checklist.Definition = bytes.ReplaceAll(v.Checklist.Definition, []byte("sit-still"), []byte(item))
		list := v.list(t)
		if list.Item(item) == nil || list.Item("mnt-clear") != nil || list.Item("hom-sill") != nil || list.Item("hom-turn") != nil {
			t.Fatal("the checklist does not ask for what this is about")
		}
		visit := atHome(t, model.PlaceMeasured{Place: "a", Kind: "threshold", HeightMM: 10}, model.PlaceMeasured{Place: "b", Kind: "turn-on-spot", WidthMM: 2000, CorridorMM: 2000},
			model.PlaceMeasured{Place: "c", Kind: "load"})
		visit.Answers, visit.Mount = nil, &model.Mount{MountNoted: model.MountNoted{Kind: "fixed", FixedTo: "armrest", ClearS: 6}}
		if got := measuredBy(t, list, &visit); len(got) != 0 {
			t.Errorf("%q", got)
		}
	}
}

// TestAVisitThatCannotBeHasNoMeasuredAnswers.
func TestAVisitThatCannotBeHasNoMeasuredAnswers(t *testing.T) {
	visit := atHome(t)
	visit.Chair.WidthMM = 1
	if _, err := engine.New(authoring.Standard()).MeasuredAnswers(&visit); err == nil {
		t.Error("a chair of 1 mm is taken")
	}
}

// TestPlacesContradictOnlyTheirOwnItems: not the first of a checklist that does not
// ask for theirs.
func TestPlacesContradictOnlyTheirOwnItems(t *testing.T) {
	for _, item := range []string{"sit-still", "hom-load"} {
		v := readVector(t, "../../testdata/vectors/own-checklist.json")
		v.Checklist.Definition = bytes.ReplaceAll(v.Checklist.Definition, []byte("sit-still"), []byte(item))
		list := v.list(t)
		visit := atHome(t, model.PlaceMeasured{Place: "a", Kind: "turn-on-spot", WidthMM: 700, CorridorMM: 700}, model.PlaceMeasured{Place: "b", Kind: "load"})
		visit.Checklist = v.Visit.Checklist
		visit.Answers = []model.Answer{{Item: item, Heads: []model.Given{{AnswerGiven: model.AnswerGiven{Item: item, State: model.StateAnswered, Level: "3"}}}}}
		result, err := engine.New(list).Score(&visit)
		if err != nil {
			t.Fatal(err)
		}
		if hasCode(&result, "passage.conflict") || result.Items[0].ID != item || result.Items[0].Level != "3" {
			t.Errorf("%s: %+v, notes %v", item, result.Items[0], result.Notes)
		}
	}
}
