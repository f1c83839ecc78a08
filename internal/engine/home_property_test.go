package engine_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/engine"
	"doorsill/internal/model"
)

// homeVisits is how many visits a worse place is tried on.
const homeVisits = 1500

// homeVisit is a visit of visitFor with a chair whose limits are known, and a
// needed door, ramp, threshold or lift as the last place. The other places of a
// random home stand before it; two of three homes have none.
func homeVisit(seed uint64) (model.Visit, *model.PlaceMeasured) {
	visit := visitFor(seed)
	d := dice{Rand: rand.New(rand.NewPCG(seed, 23))}
	if visit.Chair == nil || d.chance(70) {
		visit.Chair = &model.Chair{ChairMeasured: model.ChairMeasured{LengthMM: d.between(900, 1300, 0), WidthMM: d.between(550, 700, 0),
			Drive: d.word(model.Drives()), ClearanceMM: d.between(0, 60, 0), SlopeDeg: d.between(3, 12, 0), StepMM: d.between(10, 80, 0),
			ChairKG: d.between(90, 200, 0), PersonKG: d.between(20, 120, 0)}}
	}
	if d.chance(67) {
		visit.Places = nil
	}
	place := model.PlaceMeasured{Place: "needed", Name: "invented", Kind: d.word([]string{"door", "door-off-corridor", "ramp", "threshold", "load"}),
		CorridorMM: d.between(900, 2200, 0)}
	switch place.Kind {
	case "ramp":
		place.RiseMM, place.LandingMM, place.WidthMM = d.between(20, 300, 0), d.between(900, 1800, 0), d.between(600, 1100, 0)
		place.RunMM = float64(int(place.RiseMM * d.between(4, 24, 1)))
	case "threshold":
		place.HeightMM = d.between(5, 90, 0)
	case "load":
		place.LimitKG = d.between(100, 450, 0)
	default:
		place.WidthMM = d.between(560, 1000, 0)
	}
	visit.Places = append(slices.Clone(visit.Places), model.Place{PlaceMeasured: place})
	return visit, &visit.Places[len(visit.Places)-1].PlaceMeasured
}

// worsePlace narrows a door, steepens a ramp, raises a threshold or lowers what a
// lift carries, within what can be typed.
func (d dice) worsePlace(p *model.PlaceMeasured) {
	share := d.between(0.4, 0.99, 2)
	switch p.Kind {
	case "ramp":
		p.RunMM = max(2.2*p.RiseMM, p.RunMM*share)
	case "threshold":
		p.HeightMM = min(300, p.HeightMM/share)
	case "load":
		p.LimitKG *= share
	default:
		p.WidthMM = max(400, p.WidthMM*share)
	}
}

// TestNoPlaceMadeWorseRaisesALevel: a needed door narrowed, a ramp made steeper, a
// threshold made higher or a lift's rating lowered never raises the level, nor
// opens a way that was barred.
func TestNoPlaceMadeWorseRaisesALevel(t *testing.T) {
	scorer := engine.New(authoring.Standard())
	score := func(visit *model.Visit) model.Result {
		t.Helper()
		result, err := scorer.Score(visit)
		if err != nil {
			t.Fatal(err)
		}
		return result
	}
	lowered, barred := map[string]int{}, map[string]int{}
	for seed := range uint64(homeVisits) {
		visit, place := homeVisit(seed)
		if bad := place.Check(); bad != nil {
			t.Fatalf("seed %d: %v", seed, bad)
		}
		before, was := score(&visit), *place
		dice{Rand: rand.New(rand.NewPCG(seed, 29))}.worsePlace(place)
		if bad := place.Check(); bad != nil {
			t.Fatalf("seed %d: %v", seed, bad)
		}
		after := score(&visit)
		at := len(visit.Places) - 1
		if rank(after.Level) > rank(before.Level) || before.Passages[at].Barred && !after.Passages[at].Barred {
			t.Fatalf("seed %d: %+v made %+v: the level was %s and is %s; %+v became %+v", seed, was, *place, before.Level, after.Level,
				before.Passages[at], after.Passages[at])
		}
		if rank(after.Level) < rank(before.Level) {
			lowered[place.Kind]++
		}
		if after.Passages[at].Barred && !before.Passages[at].Barred {
			barred[place.Kind]++
		}
	}
	for _, kind := range []string{"door", "door-off-corridor", "ramp", "threshold", "load"} {
		if lowered[kind] < 5 {
			t.Errorf("only %d visits lost a level by a worse place of kind %s", lowered[kind], kind)
		}
	}
	for _, kind := range []string{"ramp", "threshold", "load"} {
		if barred[kind] < 5 {
			t.Errorf("only %d ways of kind %s were barred by being made worse", barred[kind], kind)
		}
	}
	t.Logf("lowered %v, barred %v", lowered, barred)
}
