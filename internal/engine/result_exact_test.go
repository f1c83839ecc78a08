package engine_test

import (
	"slices"
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/engine"
	"doorsill/internal/model"
)

// restsOn are the names of what a result says the provenance of.
func restsOn(r *model.Result) []string {
	var names []string
	for _, p := range r.Provenance {
		names = append(names, p.Quantity)
	}
	return names
}

// TestAQuantityNamesWhatItRestsOn, once each, and one without a value rests on nothing.
func TestAQuantityNamesWhatItRestsOn(t *testing.T) {
	result := scoreOf(t, usualDay("index-right", 48))
	names := restsOn(&result)
	if unique := slices.Compact(slices.Sorted(slices.Values(names))); len(unique) != len(names) {
		t.Errorf("said twice: %q", names)
	}
	based := map[string]string{}
	for i := range result.Quantities {
		q := &result.Quantities[i]
		if q.Basis != "" {
			based[q.Name] = q.Basis
			if q.Value == nil || !slices.Contains(names, q.Basis) {
				t.Errorf("%s has the value %s and rests on %s", q.Name, figure(q.Value), q.Basis)
			}
		}
	}
	for name, want := range map[string]string{"reserve": "reserve", "reserve-bound": "reserve", "mean-rested": "mean", "noise": "noise", "contacts": "contacts", "prompts": "prompts"} {
		if based[name] != want {
			t.Errorf("%s rests on %q, want %q", name, based[name], want)
		}
	}
	empty := scoreOf(t, model.Visit{Checklist: newBest().visit().Checklist, Unit: "gf"})
	for i := range empty.Quantities {
		if q := &empty.Quantities[i]; q.Basis != "" || q.Value != nil {
			t.Errorf("of an empty visit %s rests on %q", q.Name, q.Basis)
		}
	}
}

// TestAUsualKindHasAReserveWhereForceWasMeasured, and else none.
func TestAUsualKindHasAReserveWhereForceWasMeasured(t *testing.T) {
	for _, measured := range []bool{true, false} {
		result := scoreOf(t, usualDay("index-right", 48, func(v *model.Visit) {
			if !measured {
				v.Readings = slices.DeleteFunc(v.Readings, func(r model.Reading) bool { return r.What == model.ReadForce })
			}
		}))
		if len(result.Classes) == 0 {
			t.Fatal("no usual kinds")
		}
		for _, c := range result.Classes {
			if (c.Reserve != nil) != measured {
				t.Errorf("measured %v: %s has the reserve %s", measured, c.ID, figure(c.Reserve))
			}
		}
	}
}

// TestAPlaceThatIsNotMeasuredRestsOnNothing.
func TestAPlaceThatIsNotMeasuredRestsOnNothing(t *testing.T) {
	for width, want := range map[float64]string{0: "", 900: "passage-door"} {
		result := scoreOf(t, atHome(t, model.PlaceMeasured{Kind: "door", WidthMM: width}))
		if p := result.Passages; len(p) != 1 || p[0].Basis != want || slices.Contains(restsOn(&result), "passage-door") != (want != "") {
			t.Errorf("%v mm: %+v", width, p)
		}
	}
}

// TestAChoiceHasItsReserve rounded down: 233.3 of 50 gf are 4.666. One of which the
// force is not entered has none.
func TestAChoiceHasItsReserve(t *testing.T) {
	for asks, want := range map[float64]string{50: "4.66", 0: "-"} {
		v := withSmall(forcesOf(233.3, "gf", "tired")...)
		v.Kit[0].OperateGF, v.Kit[0].StartGF = asks, 0
		result, err := engine.New(authoring.Standard()).Score(v)
		if err != nil {
			t.Fatal(err)
		}
		at := slices.IndexFunc(result.Choices, func(c model.Choice) bool { return c.Control == "k1" })
		if at < 0 || figure(result.Choices[at].Reserve) != want {
			t.Errorf("%v gf: %+v, want a reserve of %s", asks, result.Choices, want)
		}
	}
}

// TestControlsAreCalledByTheirNames: one of the kit by the team's own, a usual kind by
// its kind, and the chosen one as such.
func TestControlsAreCalledByTheirNames(t *testing.T) {
	v := withSmall(forcesOf(233, "gf", "tired")...)
	v.Kit = append(v.Kit, model.PackedControl{ID: "k2", Name: "Second", Class: "small", StartGF: 20, OperateGF: 60, TravelMM: 4, PowerJack: true, ModeJack: true})
	v.Setup = &model.Setup{SetupChosen: model.SetupChosen{Class: "small", Site: "hand-right", StartGF: 20, OperateGF: 55, TravelMM: 4}}
	result, err := engine.New(authoring.Standard()).Score(v)
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]string{}
	for i := range result.Choices {
		got[result.Choices[i].Control] = result.Choices[i].Subject.String()
	}
	for i := range result.Loads {
		if l := &result.Loads[i]; l.Control == "setup" {
			got[l.Control] = l.Subject.String()
		}
	}
	for control, want := range map[string]string{
		"k1": "subject.kit name=Invented site=hand-right", "k2": "subject.kit name=Second site=hand-right",
		"class:standard": "subject.class class=standard site=hand-right", "setup": "subject.chosen site=hand-right",
	} {
		if got[control] != want {
			t.Errorf("%s is called %q, want %q", control, got[control], want)
		}
	}
}
