package intake_test

import (
	"slices"
	"testing"

	"doorsill/internal/engine/strength"
	"doorsill/internal/model"
	"doorsill/internal/record"
)

// What the tablet lets somebody type and what the server takes in must be the
// same: the engine's limits serve the first, the record's the second.
func TestTabletAndServerAgreeOnLimits(t *testing.T) {
	tests := []struct {
		what  string
		units []string
		most  float64 // in the first unit
	}{
		{model.ReadForce, []string{"gf", "N", "ozf", "lbf"}, 10_000},
		{model.ReadSwitchForce, []string{"gf", "N", "ozf", "lbf"}, 10_000},
		{model.ReadUnintended, []string{"gf", "N", "ozf", "lbf"}, 5_000},
		{model.ReadTravel, []string{"mm"}, 150},
		{model.ReadHold, []string{"s"}, 600},
		{model.ReadRelease, []string{"s"}, 20},
	}
	grams := map[string]float64{"N": 1000 / 9.80665, "ozf": 28.349523125, "lbf": 453.59237}
	for _, tt := range tests {
		for _, unit := range append(tt.units, "kg", "") {
			most := tt.most
			if g, ok := grams[unit]; ok {
				most /= g
			}
			for _, value := range []float64{-1, 0, most / 2, most * 0.999, most * 1.001, most * 2} {
				reading := model.ReadingTaken{What: tt.what, Site: "index-right", State: "rested", Value: value, Unit: unit}
				if tt.what == model.ReadForce || tt.what == model.ReadTravel {
					reading.Direction = "forward"
				}
				_, err := record.ReadBody(&model.Event{Kind: model.KindReadingTaken, Schema: 1, Body: mustJSON(reading)})
				says := strength.Plausible(tt.what, reading.Site, value, unit)
				if refuses := says.Answer == strength.PlausibleRefuse; refuses != (err != nil) {
					t.Errorf("%s of %v %q: the tablet says %s, the server %v", tt.what, value, unit, says.Answer, err)
				}
			}
		}
	}
}

// The engine and the record must know the same sites.
func TestEngineKnowsEverySite(t *testing.T) {
	for _, site := range model.Sites() {
		if strength.PartOf(site) == strength.UnknownPart || !model.KnownSite(site) {
			t.Errorf("site %s is not known everywhere", site)
		}
	}
	for _, site := range []string{"", "nose", "head", "cheek", "chin-left", "hand", "hand-back", "-left"} {
		if (strength.PartOf(site) == strength.UnknownPart) == model.KnownSite(site) {
			t.Errorf("site %q: engine and record disagree", site)
		}
	}
	for _, class := range strength.Classes() {
		if !slices.Contains(model.Classes(), class.ID) {
			t.Errorf("class %s is not known to the record", class.ID)
		}
	}
}
