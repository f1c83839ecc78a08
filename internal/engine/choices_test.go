package engine_test

import (
	"slices"
	"strings"
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/model"
)

// line returns the first line of a visit's result that begins with the fields.
func line(t *testing.T, visit *model.Visit, start string) string {
	t.Helper()
	result := resultText(t, authoring.Standard(), visit)
	for row := range strings.Lines(result) {
		if strings.HasPrefix(row, start) {
			return strings.TrimSuffix(row, "\n")
		}
	}
	t.Fatalf("no line %q in\n%s", start, result)
	return ""
}

// withSmall is a visit with a small stick in its kit and these readings.
func withSmall(readings ...model.Reading) *model.Visit {
	return &model.Visit{Readings: readings, Kit: []model.PackedControl{
		{ID: "k1", Name: "Invented", Class: "small", StartGF: 20, OperateGF: 50, TravelMM: 4, PowerJack: true, ModeJack: true},
	}}
}

func reading(what, direction, state string, value float64, unit string) model.Reading {
	return model.Reading{ReadingTaken: model.ReadingTaken{
		What: what, Site: "hand-right", Direction: direction, State: state, Supported: true, Value: value, Unit: unit,
	}}
}

// forcesOf is the same force in every direction.
func forcesOf(value float64, unit string, states ...string) []model.Reading {
	var list []model.Reading
	for _, direction := range model.Directions() {
		for _, state := range states {
			list = append(list, reading(model.ReadForce, direction, state, value, unit))
		}
	}
	return list
}

// TestVerdictsDoNotDependOnTheUnit: the same force in another unit gives the
// same verdict.
func TestVerdictsDoNotDependOnTheUnit(t *testing.T) {
	const gfPerN, gfPerOZF = 101.97162129779282, 28.349523125
	for _, gf := range []float64{20, 99, 101, 149, 151, 400} {
		want := ""
		for unit, size := range map[string]float64{"gf": 1, "N": gfPerN, "ozf": gfPerOZF, "lbf": 16 * gfPerOZF} {
			got := line(t, withSmall(forcesOf(gf/size, unit, "rested", "tired")...), "why\tk1\thand-right\tforce")
			if want == "" {
				want = got
			}
			if got != want {
				t.Errorf("%v gf in %s: %s, else %s", gf, unit, got, want)
			}
		}
	}
}

// TestPoorReadingsSayWhatIsMissing: each says what can be said and what not.
func TestPoorReadingsSayWhatIsMissing(t *testing.T) {
	tired200 := forcesOf(200, "gf", "tired")
	forceless := withSmall(tired200...)
	forceless.Kit[0].StartGF, forceless.Kit[0].OperateGF, forceless.Kit[0].TravelMM = 0, 0, 0
	for _, c := range []struct {
		name        string
		visit       *model.Visit
		start, want string
	}{
		{"nothing came", withSmall(forcesOf(0, "gf", "tired")...), "why\tk1\thand-right\tforce\tboth\tnot-feasible", "0 gf usable for 50 gf asked"},
		{"one reading", withSmall(tired200...), "verdict\tk1\thand-right\tunknown", "travel"},
		{"no tired reading", withSmall(forcesOf(200, "gf", "rested")...), "why\tk1\thand-right\tforce\tboth\tmarginal", "no tired reading, so 0.7 of it counts (assumed)"},
		{"fading without a tired reading", withSmall(forcesOf(300, "gf", "rested")...), "why\tk1\thand-right\tfading\tboth\tunknown", "rested and tired"},
		{"one direction only", withSmall(reading(model.ReadForce, "left", "tired", 200, "gf")), "why\tk1\thand-right\tforce\tboth\tunknown", "No force reading at the right hand for: forward, reverse, right."},
		{"one direction that is too weak", withSmall(reading(model.ReadForce, "left", "tired", 20, "gf")), "why\tk1\thand-right\tforce\tboth\tnot-feasible", "asked: 0.4 times"},
		{"more travel than the control has", withSmall(slices.Concat(tired200, []model.Reading{reading(model.ReadTravel, "forward", "rested", 90, "mm")})...),
			"why\tk1\thand-right\ttravel\tboth\tunknown", "No travel reading at the right hand for: reverse, left, right."},
		{"a control without its force", forceless, "why\tk1\thand-right\tforce\tboth\tunknown", "is not entered"},
	} {
		if got := line(t, c.visit, c.start); !strings.Contains(got, c.want) {
			t.Errorf("%s: %s, want %q", c.name, got, c.want)
		}
	}
}
