package model_test

import (
	"math"
	"testing"

	"doorsill/internal/model"
)

// TestForces holds the units to NIST SP 811, 2008, App. B.8, which gives them in
// newton to seven digits: kilogram-force 9.80665, ounce-force 0.2780139, pound-force
// 4.448222.
func TestForces(t *testing.T) {
	newton := map[string]float64{"gf": 9.80665e-3, "N": 1, "ozf": 0.2780139, "lbf": 4.448222}
	for _, unit := range model.ForceUnits() {
		gf, known := model.ToGF(1, unit)
		if got := gf * 9.80665e-3; !known || math.Abs(got/newton[unit]-1) > 2e-7 {
			t.Errorf("1 %s is %v N, want %v", unit, got, newton[unit])
		}
		if back, known := model.FromGF(gf, unit); !known || math.Abs(back-1) > 1e-15 {
			t.Errorf("1 %s comes back as %v", unit, back)
		}
	}
	if gf, known := model.ToGF(1, "kg"); known || gf != 0 {
		t.Errorf("1 kg is %v gf", gf)
	}
	if value, known := model.FromGF(1, ""); known || value != 0 {
		t.Errorf("1 gf is %v of no unit", value)
	}
}
