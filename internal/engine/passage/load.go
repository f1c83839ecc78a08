package passage

import (
	"math"

	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// Load is what a lift, floor or hoist must carry.
type Load struct {
	// RatingKG is read on its plate, above 0; provenance.NotMeasured() where there
	// is none to read.
	RatingKG float64
	// ChairKG and PersonKG are above 0.
	ChairKG, PersonKG float64
}

// Burden is the judgement of a load.
type Burden struct {
	Verdict string
	Say     message.Message
	Assumes []message.Message
	provenance.Provenance
}

// LoadOn adds up a load:
//
//	total = chair + person, left = rating − total
//
// in kg. Not feasible below zero; without a rating unknown, with
// the total said. It refuses a missing chair or person. By definition.
func LoadOn(l Load) (*Burden, error) {
	still := message.New("passage.still-rating")
	err := provenance.First(
		provenance.AboveZero("chair-mass", l.ChairKG, 500, "kg", still),
		provenance.AboveZero("person-mass", l.PersonKG, 350, "kg", still),
		optional(l.RatingKG, provenance.AboveZero("rating", l.RatingKG, 100000, "kg", message.New("passage.still-total"))),
	)
	if err != nil {
		return nil, err
	}
	total := l.ChairKG + l.PersonKG
	b := &Burden{Verdict: Unknown,
		Assumes:    []message.Message{message.New("passage.assumes-masses-at-rest")},
		Provenance: provenance.Of("formula.load", "source.rated-load", provenance.Derived)}
	what, sum := message.Word("what", "lift-floor-hoist"), message.Number("total", total)
	if math.IsNaN(l.RatingKG) {
		b.Say = message.New("passage.load-rating-unknown", sum, what)
		return b, nil
	}
	rating := message.Number("rating", l.RatingKG)
	if total > l.RatingKG {
		b.Verdict, b.Say = NotFeasible, message.New("passage.load-over", sum, what, rating,
			message.Count("places", provenance.Apart(total, 0, l.RatingKG)))
		return b, nil
	}
	b.Verdict, b.Say = Feasible, message.New("passage.load-within", sum, what, rating)
	return b, nil
}
