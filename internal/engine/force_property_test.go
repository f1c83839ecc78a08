package engine_test

import (
	"math/rand/v2"
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/engine"
	"doorsill/internal/model"
)

// forceVisit is a visit of visitFor with other forces: each direction has a
// strength of its own, three readings that scatter, and mostly tired ones.
func forceVisit(seed uint64) model.Visit {
	visit := visitFor(seed)
	if visit.Setup == nil || visit.Setup.OperateGF == 0 {
		return visit
	}
	d := dice{Rand: rand.New(rand.NewPCG(seed, 17))}
	strength := map[string]float64{}
	for i := range visit.Readings {
		r := &visit.Readings[i]
		if r.What != model.ReadForce || r.Site != visit.Setup.Site {
			continue
		}
		if strength[r.Direction] == 0 {
			strength[r.Direction] = visit.Setup.OperateGF * (1.5 + 6*d.Float64())
		}
		r.Value, r.Unit = strength[r.Direction]*(0.9+0.2*d.Float64()), "gf"
		if r.State == model.FatigueTired {
			r.Value *= 0.6 + 0.4*d.Float64()
		}
	}
	return visit
}

// withForces is the visit with only the force readings at the chosen site that
// are kept, which may be changed.
func withForces(visit model.Visit, keep func(*model.Reading) bool) model.Visit {
	var kept []model.Reading
	for _, r := range visit.Readings {
		if r.What != model.ReadForce || r.Site != visit.Setup.Site || keep(&r) {
			kept = append(kept, r)
		}
	}
	visit.Readings = kept
	return visit
}

// TestForceNeverRaisesALevelByLess: all forces of a direction scaled down, every
// tired reading left out, or a direction left out never raises a level. Where
// what is left out is what refused the control, nobody knows of it any more: then
// the level stays at most Accompanied.
func TestForceNeverRaisesALevelByLess(t *testing.T) {
	scorer := engine.New(authoring.Standard())
	reached := map[string]int{}
	for seed := range uint64(propertyVisits) {
		visit := forceVisit(seed)
		if visit.Setup == nil || visit.Setup.OperateGF == 0 {
			continue
		}
		before := levelOf(t, scorer, &visit)
		reached[before]++
		d := dice{Rand: rand.New(rand.NewPCG(seed, 19))}
		direction, scale := d.word(model.Directions()), 0.1+0.9*d.Float64()
		for name, keep := range map[string]func(*model.Reading) bool{
			"scaled down": func(r *model.Reading) bool {
				if r.Direction == direction {
					r.Value *= scale
				}
				return true
			},
			"tired left out":     func(r *model.Reading) bool { return r.State != model.FatigueTired },
			"direction left out": func(r *model.Reading) bool { return r.Direction != direction },
		} {
			less := withForces(visit, keep)
			after := levelOf(t, scorer, &less)
			most := rank(before)
			if name != "scaled down" && most <= rank("practise") {
				most = rank("accompanied")
			}
			if rank(after) > most {
				t.Fatalf("seed %d: %s, %s: %s, before %s", seed, direction, name, after, before)
			}
		}
	}
	for _, level := range []string{"pause", "accompanied", "wider-ground"} {
		if reached[level] == 0 {
			t.Errorf("no visit reached %s: %v", level, reached)
		}
	}
}
