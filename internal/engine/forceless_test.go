package engine_test

import (
	"testing"

	"doorsill/internal/engine"
	"doorsill/internal/model"
)

// forceless is the best visit with a control that asks no force, no travel and no
// holding: what has no meaning for it is not there.
func forceless(class, mode string) *best {
	b := newBest()
	b.setup = model.SetupChosen{Class: class, Site: bestSite, Needed: model.Directions(), DriveMode: mode, SwitchPressGF: 30, StopPressGF: 30}
	b.without = []string{model.ReadForce, model.ReadTravel, model.ReadUnintended}
	if mode == model.DriveMomentary {
		b.without = append(b.without, model.ReadHold)
	}
	return b
}

// tries are ten commands and ten stops that came, and ten minutes in which nothing
// came that nobody asked.
func tries() []model.Reading {
	var list []model.Reading
	add := func(what, unit string, value float64) {
		list = append(list, model.Reading{ReadingTaken: model.ReadingTaken{What: what, Site: bestSite, State: "tired", Value: value, Unit: unit}})
	}
	for range 10 {
		add(model.ReadCommand, "s", 1)
		add(model.ReadStopCommand, "s", 1)
	}
	add(model.ReadUnasked, "per-10-min", 0)
	return list
}

// TestWhatAControlDoesNotAskDoesNotHoldItBack: force, travel, unintended force and
// holding have no meaning for a pad without touch or a switch, so they are not
// open questions. What stands in for them must be known.
func TestWhatAControlDoesNotAskDoesNotHoldItBack(t *testing.T) {
	for _, c := range []struct {
		name, class, mode, without, level string
	}{
		{"switch", "switched", model.DriveMomentary, "", "wider-ground"},
		{"switch that is held", "switched", model.DriveHeld, "", "wider-ground"},
		{"commands not tried", "switched", model.DriveMomentary, model.ReadCommand, "practise"},
		{"nobody asked not counted", "switched", model.DriveMomentary, model.ReadUnasked, "practise"},
		{"without touch", "non-contact", "", "", "wider-ground"},
		{"without touch, nobody asked not counted", "non-contact", "", model.ReadUnasked, "practise"},
		{"without touch, hold not timed", "non-contact", "", model.ReadHold, "practise"},
	} {
		v := forceless(c.class, c.mode).visit()
		v.Readings = append(v.Readings, tries()...)
		kept := v.Readings[:0]
		for i := range v.Readings {
			if v.Readings[i].What != c.without {
				kept = append(kept, v.Readings[i])
			}
		}
		v.Readings = kept
		result, err := engine.New(newBest().list).Score(&v)
		if err != nil {
			t.Fatal(c.name, err)
		}
		if result.Level != c.level {
			t.Errorf("%s: level %s, want %s: %v", c.name, result.Level, c.level, unmet(&result))
		}
	}
}

// unmet is the code of the first gate that is not met.
func unmet(r *model.Result) string {
	for i := range r.Gates {
		if !r.Gates[i].Met {
			return r.Gates[i].Code
		}
	}
	return ""
}
