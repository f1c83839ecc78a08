package passage

import (
	"math"

	"doorsill/internal/engine/provenance"
)

// Load is what a lift, ramp, floor or hoist must carry.
type Load struct {
	// What names it, such as "lift".
	What string
	// RatingKG is read on its plate, above 0; provenance.NotMeasured() where there
	// is none to read.
	RatingKG float64
	// ChairKG and PersonKG are above 0; CarriedKG (bags, ventilator) and
	// HelperKG (a person who rides along) may be 0.
	ChairKG, PersonKG, CarriedKG, HelperKG float64
}

// Burden is the judgement of a load.
type Burden struct {
	Verdict string
	// TotalKG is the sum, LeftKG the rating less the sum, 1 decimal. LeftKG
	// has a meaning when RatingKnown.
	TotalKG, LeftKG float64
	RatingKnown     bool
	Say             string
	Assumes         []string
	provenance.Provenance
}

// LoadOn adds up a load:
//
//	total = chair + person + carried + helper, left = rating − total
//
// in kg, 1 decimal. Not feasible below zero; without a rating marginal, with
// the total said. It refuses a missing chair or person. By definition.
func LoadOn(l Load) (*Burden, error) {
	const still = "The rating itself can still be written down."
	err := provenance.First(
		provenance.Above("mass of the chair", l.ChairKG, 500, "kg", still),
		provenance.Above("mass of the person", l.PersonKG, 350, "kg", still),
		provenance.Within("mass of what is carried", l.CarriedKG, 0, 200, "kg", still),
		provenance.Within("mass of the helper", l.HelperKG, 0, 350, "kg", still),
		optional(l.RatingKG, provenance.Above("rating", l.RatingKG, 100000, "kg", "The total can still be given: leave the rating out.")),
	)
	if err != nil {
		return nil, err
	}
	total := l.ChairKG + l.PersonKG + l.CarriedKG + l.HelperKG
	b := &Burden{TotalKG: provenance.Round(total, 1), Verdict: Marginal, RatingKnown: !math.IsNaN(l.RatingKG),
		Assumes:    []string{"Masses stand still; the plate's own rule for moving and point loads outranks this sum."},
		Provenance: provenance.Provenance{Formula: "left = rating − (chair + person + carried + helper)", Source: "definition of a rated load", Status: provenance.Derived}}
	text := "Together " + provenance.Text(total, 0) + " kg"
	if !b.RatingKnown {
		b.Say = text + "; the rating of the " + l.name() + " is not known: read the plate or ask the owner before using it."
		return b, nil
	}
	b.LeftKG = provenance.Round(l.RatingKG-total, 1)
	text += " on a " + l.name() + " rated for " + provenance.Text(l.RatingKG, 0) + " kg: "
	if b.LeftKG < 0 {
		b.Verdict, b.Say = NotFeasible, text+provenance.Text(-b.LeftKG, 0)+" kg too much."
		return b, nil
	}
	b.Verdict, b.Say = Feasible, text+provenance.Text(b.LeftKG, 0)+" kg are left."
	return b, nil
}

func (l Load) name() string {
	if l.What == "" {
		return "surface"
	}
	return l.What
}
