package engine_test

import (
	"testing"

	"doorsill/internal/engine"
	"doorsill/internal/model"
)

// TestDoesNotApplyIsContradictedOnce, also where two people gave it; where one of them
// answered, the item waits for a choice already and nothing is noted.
func TestDoesNotApplyIsContradictedOnce(t *testing.T) {
	not := model.Given{AnswerGiven: model.AnswerGiven{Item: "pos-limb", State: model.StateNotApplicable, Reason: "not with this person"}}
	well := model.Given{AnswerGiven: newBest().answers["pos-limb"]}
	for _, c := range []struct {
		name  string
		heads []model.Given
		noted int
	}{
		{"one", []model.Given{not}, 1}, {"two", []model.Given{not, not}, 1},
		{"two who differ", []model.Given{not, well}, 0}, {"and the other way round", []model.Given{well, not}, 0}, {"one who answered", []model.Given{well}, 0},
	} {
		b := newBest()
		v := b.visit()
		for i := range v.Answers {
			if v.Answers[i].Item == "pos-limb" {
				v.Answers[i].Heads = c.heads
			}
		}
		result, err := engine.New(b.list).Score(&v)
		if err != nil {
			t.Fatal(c.name, err)
		}
		noted := 0
		for _, n := range result.Notes {
			if n.Code == "readiness.applies" {
				noted++
				if n.Arg("item").Word != "pos-limb" {
					t.Errorf("%s: %s", c.name, n.String())
				}
			}
		}
		if noted != c.noted {
			t.Errorf("%s: noted %d times, want %d", c.name, noted, c.noted)
		}
	}
}

// TestWithoutAControlNothingContradictsWhatDoesNotApply to a site or to a stick.
func TestWithoutAControlNothingContradictsWhatDoesNotApply(t *testing.T) {
	b := newBest()
	items := []string{"ctl-grade", "pos-limb", "mnt-urgent"}
	for _, item := range items {
		b.answers[item] = model.AnswerGiven{Item: item, State: model.StateNotApplicable, Reason: "not with this person"}
	}
	v := b.visit()
	v.Setup = nil
	result, err := engine.New(b.list).Score(&v)
	if err != nil {
		t.Fatal(err)
	}
	if hasCode(&result, "readiness.applies") {
		t.Error("something applies before a control is chosen")
	}
	for _, item := range items {
		for _, one := range result.Items {
			if one.ID == item && one.State != model.StateNotApplicable {
				t.Errorf("%s is %s", item, one.State)
			}
		}
	}
}

// TestTheFirstNeededPlaceIsNamed of those that an item applies to.
func TestTheFirstNeededPlaceIsNamed(t *testing.T) {
	b := newBest()
	b.answers["out-up"] = model.AnswerGiven{Item: "out-up", State: model.StateNotApplicable, Reason: "not with this person"}
	v := b.visit()
	for _, p := range []model.PlaceMeasured{{Place: "a", Kind: "door", Name: "the door"}, {Place: "b", Kind: "ramp", Name: "of the neighbour", NotNeeded: true},
		{Place: "c", Kind: "ramp", Name: "the first"}, {Place: "d", Kind: "ramp", Name: "the second"}} {
		v.Places = append(v.Places, model.Place{PlaceMeasured: p})
	}
	result, err := engine.New(b.list).Score(&v)
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range result.Notes {
		if n.Code == "readiness.applies" {
			if want := "readiness.applies item=out-up why=[readiness.applies-place place=[passage.place name=\"the first\"]]"; n.String() != want {
				t.Errorf("%s, want %s", n.String(), want)
			}
			return
		}
	}
	t.Error("nothing is noted")
}
