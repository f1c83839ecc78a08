package engine_test

import (
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/engine"
	"doorsill/internal/engine/passage"
	"doorsill/internal/model"
)

// TestMeasuredElsewhere: the worst needed place answers for the item, rounded to the
// worse side, and a place that is not needed answers for nothing.
func TestMeasuredElsewhere(t *testing.T) {
	place := func(id, kind string, change func(*model.PlaceMeasured)) model.Place {
		p := model.Place{PlaceMeasured: model.PlaceMeasured{Place: id, Name: id, Kind: kind}}
		change(&p.PlaceMeasured)
		return p
	}
	b := newBest()
	visit := b.visit()
	visit.Chair = &model.Chair{ChairMeasured: model.ChairMeasured{LengthMM: 1120, WidthMM: 640.5, Drive: "mid", ClearanceMM: 25, SlopeDeg: 3}}
	visit.Places = []model.Place{
		place("wide", passage.KindDoor, func(p *model.PlaceMeasured) { p.WidthMM = 900 }),
		place("narrow", passage.KindDoor, func(p *model.PlaceMeasured) { p.WidthMM = 760 }),
		place("cellar", passage.KindDoor, func(p *model.PlaceMeasured) { p.WidthMM, p.NotNeeded = 600, true }),
		place("sill", passage.KindThreshold, func(p *model.PlaceMeasured) { p.HeightMM = 14.2 }),
		place("ramp", passage.KindRamp, func(p *model.PlaceMeasured) { p.RiseMM, p.RunMM = 110, 1400 }),
	}
	visit.Mount = &model.Mount{MountNoted: model.MountNoted{Kind: "fixed", FixedTo: "armrest", ClearS: 6.5}}
	found, err := engine.New(authoring.Standard()).MeasuredAnswers(&visit)
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]struct {
		number float64
		place  string
	}{"hom-door": {119, "narrow"}, "hom-sill": {15, "sill"}, "hom-ramp": {12.7, "ramp"}, "mnt-clear": {6.5, ""}}
	for _, one := range found.Items {
		w, ok := want[one.Item]
		if !ok || one.Number == nil || *one.Number != w.number || one.Place != w.place || one.Message.Empty() {
			t.Errorf("%+v, want %+v", one, w)
		}
		if over, asked := one.Facts["ramp-over-limit"]; one.Item == "hom-ramp" && (!asked || !over) {
			t.Errorf("a ramp of 4.5 degrees for a chair of 3: %v", one.Facts)
		}
		delete(want, one.Item)
	}
	for id := range want {
		t.Errorf("%s was measured and is not told", id)
	}

	// Without the chair's limit nobody knows; within it the question is answered no.
	visit.Chair.SlopeDeg = 0
	if facts := factsOfRamp(t, &visit); facts != nil {
		t.Errorf("no limit is known, and the question is answered: %v", facts)
	}
	visit.Chair.SlopeDeg = 9
	if over, asked := factsOfRamp(t, &visit)["ramp-over-limit"]; !asked || over {
		t.Error("a ramp within the limit is not told to be so")
	}
}

func factsOfRamp(t *testing.T, visit *model.Visit) map[string]bool {
	t.Helper()
	found, err := engine.New(authoring.Standard()).MeasuredAnswers(visit)
	if err != nil {
		t.Fatal(err)
	}
	for _, one := range found.Items {
		if one.Item == "hom-ramp" {
			return one.Facts
		}
	}
	t.Fatal("the ramp is not told")
	return nil
}
