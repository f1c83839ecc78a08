package passage

import (
	"math"

	"doorsill/internal/engine/basis"
)

// Load is what a lift, ramp, floor or hoist must carry.
type Load struct {
	// What names it, such as "lift".
	What string
	// RatingKG is read on its plate, above 0; basis.NotMeasured() where there
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
	basis.Basis
}

// LoadOn adds up a load:
//
//	total = chair + person + carried + helper, left = rating − total
//
// in kg, 1 decimal. Not feasible below zero; without a rating marginal, with
// the total said. It refuses a missing chair or person. By definition.
func LoadOn(l Load) (Burden, error) {
	const still = "The rating itself can still be written down."
	err := basis.First(
		basis.Above("mass of the chair", l.ChairKG, 500, "kg", still),
		basis.Above("mass of the person", l.PersonKG, 350, "kg", still),
		basis.Within("mass of what is carried", l.CarriedKG, 0, 200, "kg", still),
		basis.Within("mass of the helper", l.HelperKG, 0, 350, "kg", still),
		optional(l.RatingKG, basis.Above("rating", l.RatingKG, 100000, "kg", "The total can still be given: leave the rating out.")),
	)
	if err != nil {
		return Burden{}, err
	}
	total := l.ChairKG + l.PersonKG + l.CarriedKG + l.HelperKG
	b := Burden{TotalKG: basis.Round(total, 1), Verdict: Marginal, RatingKnown: !math.IsNaN(l.RatingKG),
		Assumes: []string{"Masses stand still; the plate's own rule for moving and point loads outranks this sum."},
		Basis:   basis.Basis{Formula: "left = rating − (chair + person + carried + helper)", Source: "definition of a rated load", Status: basis.Derived}}
	text := "Together " + basis.Text(total, 0) + " kg"
	if !b.RatingKnown {
		b.Say = text + "; the rating of the " + l.name() + " is not known: read the plate or ask the owner before using it."
		return b, nil
	}
	b.LeftKG = basis.Round(l.RatingKG-total, 1)
	text += " on a " + l.name() + " rated for " + basis.Text(l.RatingKG, 0) + " kg: "
	if b.LeftKG < 0 {
		b.Verdict, b.Say = NotFeasible, text+basis.Text(-b.LeftKG, 0)+" kg too much."
		return b, nil
	}
	b.Verdict, b.Say = Feasible, text+basis.Text(b.LeftKG, 0)+" kg are left."
	return b, nil
}

func (l Load) name() string {
	if l.What == "" {
		return "surface"
	}
	return l.What
}

// Platform judges whether the chair stands on a lift platform or landing of a
// width and depth, driven on straight:
//
//	left = less of width − widest point and depth − length
//
// in mm, 1 decimal. Feasible with the wanted clearance on each side, marginal
// with less. It refuses missing sizes. Plane geometry.
func (c Chair) Platform(room Room) (Result, error) {
	const still = "The chair's own length and width can still be given."
	err := basis.First(
		basis.Within("width of the platform", room.WidthMM, 300, 10000, "mm", still),
		basis.Within("depth of the platform", room.DepthMM, 300, 10000, "mm", still),
		basis.Within("room wanted on each side", room.ClearanceMM, 0, 300, "mm", still),
	)
	if err != nil {
		return Result{}, err
	}
	b := boxOf(c.hull)
	across, along := room.WidthMM-(b.maxY-b.minY), room.DepthMM-(b.maxX-b.minX)
	left := min(across, along)
	r := Result{Kind: "platform", NeedsOf: "width of the platform", NeedsMM: c.WidthMM(), Bases: []basis.Basis{doorBasis()}, Assumes: c.assumptions()}
	if along < across {
		r.NeedsOf, r.NeedsMM = "depth of the platform", c.LengthMM()
	}
	r.judge(left, left/2, room.ClearanceMM)
	if left >= 0 {
		r.Way = Straight
	}
	r.Say = doorSentence(r, room.ClearanceMM)
	if left < 0 {
		r.Say = basis.Text(-r.LeftMM, 0) + " mm are missing: the " + r.NeedsOf + " must be at least " + basis.Text(r.NeedsMM, 0) + " mm."
	}
	middle := Pose{Point{room.WidthMM/2 + (b.maxY+b.minY)/2, room.DepthMM/2 - (b.maxX+b.minX)/2}, 90}
	walls := [][]Point{block(-100, 0, 0, room.DepthMM), block(room.WidthMM, room.WidthMM+100, 0, room.DepthMM), block(0, room.WidthMM, room.DepthMM, room.DepthMM+100)}
	r.Plan.Walls = edges([][]Point{block(0, room.WidthMM, 0, room.DepthMM)})
	r.Plan.draw(c, c.stand(middle, walls))
	r.Plan.tidy()
	return r, nil
}
