package passage

import (
	"math"

	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// Corridor is a straight corridor to turn about in.
type Corridor struct {
	// WidthMM between the walls, 300 to 10000.
	WidthMM float64
	// ClearanceMM and MinRadiusMM as in Fits.
	ClearanceMM, MinRadiusMM float64
}

// HalfTurnNeeds are the least corridors for turning about, in mm, 1 decimal.
type HalfTurnNeeds struct {
	// OneTurnMM is for one turn with the tightest radius; on the spot a
	// rectangle needs front reach + rear reach.
	OneTurnMM float64
	// ThreeMM is for forward, back, forward with the best angles.
	ThreeMM float64
	// AnyMM is the least for any motion at all: the longest distance between
	// two points of the outline.
	AnyMM float64
}

// HalfTurn judges turning about in a corridor: in one turn (feasible), in a
// three-point turn or with less than the wanted clearance (marginal), or not:
// also where the lower bound leaves several small moves to be tried. LeftMM is against the way taken, half of it on each side. It refuses
// missing widths. Derived here; checked by turning the outline degree by
// degree.
func (c *Chair) HalfTurn(k Corridor) (*Result, HalfTurnNeeds, error) {
	still := message.New("passage.still-half-turn")
	err := provenance.First(
		provenance.Between("corridor-width", k.WidthMM, 300, 10000, "mm", still),
		provenance.Between("clearance", k.ClearanceMM, 0, 300, "mm", still),
		provenance.Between("least-radius", k.MinRadiusMM, 0, 3000, "mm", still),
	)
	if err != nil {
		return nil, HalfTurnNeeds{}, err
	}
	one, three := c.halfTurn(k.MinRadiusMM), c.threePoint(k.MinRadiusMM)
	needs := HalfTurnNeeds{provenance.Round(one.width, 1), provenance.Round(three.width, 1), provenance.Round(c.diameter(), 1)}
	r := &Result{Kind: "half-turn", NeedsOf: "corridor", NeedsMM: needs.AnyMM}
	way := r.takeTurn(k, one, three, c.diameter())
	r.Plan = c.halfTurnPlan(k, way)
	r.Plan.tidy()
	return r, needs, nil
}

// takeTurn picks the first way that fits and says so.
func (r *Result) takeTurn(k Corridor, one, three about, any float64) about {
	way := three
	switch {
	case k.WidthMM >= one.width:
		way, r.Way, r.Verdict = one, OneTurn, Feasible
	case k.WidthMM >= three.width:
		r.Way, r.Verdict = ThreeMoves, Marginal
	case k.WidthMM >= any:
		r.Way, r.Verdict = Shuffle, NotFeasible
	default:
		r.Way, r.Verdict = NoWay, NotFeasible
	}
	left := k.WidthMM - way.width
	r.LeftMM, r.EachMM = provenance.Floor(left, 1), provenance.Floor(left/2, 1)
	if r.Way == OneTurn && left/2 < k.ClearanceMM {
		r.Verdict = Marginal
	}
	r.Say = halfTurnSentence(r, k, one, three)
	return way
}

func halfTurnSentence(r *Result, k Corridor, one, three about) message.Message {
	each, oneMM := message.Number("each", r.EachMM), message.Number("one", one.width)
	switch r.Way {
	case OneTurn:
		if r.Verdict == Marginal {
			return message.New("passage.half-turn-tight", oneMM, each, message.Number("wanted", k.ClearanceMM))
		}
		return message.New("passage.half-turn-fits", oneMM, each)
	case ThreeMoves:
		return message.New("passage.half-turn-three-point", oneMM, each)
	case Shuffle:
		return message.New("passage.half-turn-small-moves", message.Number("three", three.width))
	}
	return message.New("passage.half-turn-none", message.Number("needs", r.NeedsMM))
}

// about is a way of turning about: the moves from a start along x, and the
// band across the corridor that they sweep.
type about struct {
	chair      *Chair
	moves      []Move
	low, width float64
}

// halfTurn is one turn of 180 degrees to the left; the middle of the turn is the
// origin. To the right it needs as much.
func (c *Chair) halfTurn(radius float64) about {
	b := reachOf(shifted(c.outline, Point{0, -radius}), 180)
	return about{c, []Move{{Degrees: 180, RadiusMM: radius}}, b.minY + radius, b.maxY - b.minY}
}

// threePoint finds the angles and radius of forward, back, forward, to the left,
// that need the narrowest corridor. It looks at radii from the tightest up and at
// angles every 10 degrees, then refines.
func (c *Chair) threePoint(tightest float64) about {
	best := about{width: math.Inf(1)}
	try := func(radius, first, second float64) {
		if radius < tightest || first < 0 || second < 0 || first+second > 180 {
			return
		}
		if a := c.three(radius, first, second); a.width < best.width {
			best = a
		}
	}
	for _, more := range []float64{0, 100, 200, 300, 450, 600, 800} {
		for first := 0.0; first <= 180; first += 10 {
			for second := 0.0; first+second <= 180; second += 10 {
				try(tightest+more, first, second)
			}
		}
	}
	for _, step := range []float64{5, 2, 1, 0.5} {
		for range 3 {
			radius, first, second := best.moves[0].RadiusMM, best.moves[0].Degrees, best.moves[1].Degrees
			for _, dr := range []float64{-10 * step, 0, 10 * step} {
				for _, da := range []float64{-step, 0, step} {
					for _, db := range []float64{-step, 0, step} {
						try(radius+dr, first+da, second+db)
					}
				}
			}
		}
	}
	return best
}

// three is one three-point turn: forward to the left, back with the middle of
// the turn on the right, forward to the left, 180 degrees in all.
func (c *Chair) three(radius, first, second float64) about {
	moves := []Move{{Degrees: first, RadiusMM: radius}, {Degrees: second, RadiusMM: -radius}, {Degrees: 180 - first - second, RadiusMM: radius}}
	pose := Pose{}
	low, high := math.Inf(1), math.Inf(-1)
	for _, m := range moves {
		ahead := direction(pose.Heading)
		middle := pose.At.plus(Point{-ahead.sin * m.RadiusMM, ahead.cos * m.RadiusMM})
		b := reachOf(shifted(c.at(pose), middle.times(-1)), m.Degrees)
		low, high = min(low, middle.Y+b.minY), max(high, middle.Y+b.maxY)
		pose = m.after(pose, 1)
	}
	return about{c, moves, low, high - low}
}

// halfTurnPlan draws a way of turning about in the middle of the corridor.
func (c *Chair) halfTurnPlan(k Corridor, a about) Plan {
	const side = 2500
	p := Plan{Walls: []Segment{{Point{-side, 0}, Point{side, 0}}, {Point{-side, k.WidthMM}, Point{side, k.WidthMM}}}}
	p.Spans = []Span{{ofCorridor, Segment{Point{side / 2, 0}, Point{side / 2, k.WidthMM}}}}
	start := Pose{Point{0, (k.WidthMM-a.width)/2 - a.low}, 0}
	walls := [][]Point{block(-far, far, -100, 0), block(-far, far, k.WidthMM, k.WidthMM+100)}
	p.draw(a.chair, a.chair.follow(start, a.moves, walls))
	return p
}
