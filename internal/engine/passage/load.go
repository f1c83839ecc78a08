package passage

import (
	"math"

	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// Load is what a lift, ramp, floor or hoist must carry.
type Load struct {
	// What it is, an entry "carrier." of the catalogue such as "lift"; "" is
	// any surface.
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
	Say             message.Message
	Assumes         []message.Message
	provenance.Provenance
}

// LoadOn adds up a load:
//
//	total = chair + person + carried + helper, left = rating − total
//
// in kg, 1 decimal. Not feasible below zero; without a rating unknown, with
// the total said. It refuses a missing chair or person. By definition.
func LoadOn(l Load) (*Burden, error) {
	still := message.New("passage.still-rating")
	err := provenance.First(
		provenance.AboveZero("chair-mass", l.ChairKG, 500, "kg", still),
		provenance.AboveZero("person-mass", l.PersonKG, 350, "kg", still),
		provenance.Between("carried-mass", l.CarriedKG, 0, 200, "kg", still),
		provenance.Between("helper-mass", l.HelperKG, 0, 350, "kg", still),
		optional(l.RatingKG, provenance.AboveZero("rating", l.RatingKG, 100000, "kg", message.New("passage.still-total"))),
	)
	if err != nil {
		return nil, err
	}
	total := l.ChairKG + l.PersonKG + l.CarriedKG + l.HelperKG
	b := &Burden{TotalKG: provenance.Round(total, 1), Verdict: Unknown, RatingKnown: !math.IsNaN(l.RatingKG),
		Assumes:    []message.Message{message.New("passage.assumes-masses-at-rest")},
		Provenance: provenance.Of("formula.load", "source.rated-load", provenance.Derived)}
	what, sum := message.Word("what", l.what()), message.Number("total", total)
	if !b.RatingKnown {
		b.Say = message.New("passage.load-rating-unknown", sum, what)
		return b, nil
	}
	b.LeftKG = provenance.Round(l.RatingKG-total, 1)
	rating := message.Number("rating", l.RatingKG)
	if total > l.RatingKG {
		b.Verdict, b.Say = NotFeasible, message.New("passage.load-over", sum, what, rating, message.Number("over", total-l.RatingKG),
			message.Count("places", provenance.Apart(total, 0, l.RatingKG)))
		return b, nil
	}
	b.Verdict, b.Say = Feasible, message.New("passage.load-within", sum, what, rating, message.Number("left", l.RatingKG-total))
	return b, nil
}

func (l Load) what() string {
	if l.What == "" {
		return "surface"
	}
	return l.What
}
