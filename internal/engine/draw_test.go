package engine_test

import (
	"math"
	"testing"

	"doorsill/internal/engine"
	"doorsill/internal/model"
)

// What a plan shows at its arrows is what was typed: each measure of the place has
// one span, as long as its figure, from wall to wall.
func TestPlanSpansAreTheMeasures(t *testing.T) {
	chair := &model.ChairMeasured{LengthMM: 1100, WidthMM: 650, Drive: "mid", ClearanceMM: 30}
	for _, place := range []model.PlaceMeasured{
		{Kind: "door", WidthMM: 850},
		{Kind: "door", WidthMM: 600},
		{Kind: "corridor", CorridorMM: 910},
		{Kind: "door-off-corridor", WidthMM: 850, CorridorMM: 1200},
		{Kind: "door-off-corridor", WidthMM: 700, CorridorMM: 800},
		{Kind: "corner", CorridorMM: 1150, Corridor2MM: 1250},
		{Kind: "corner", CorridorMM: 800, Corridor2MM: 900},
		{Kind: "turn-on-spot", WidthMM: 1500},
		{Kind: "half-turn", CorridorMM: 1600},
		{Kind: "three-point", CorridorMM: 1300},
	} {
		typed := map[string]float64{"width_mm": place.WidthMM, "corridor_mm": place.CorridorMM, "corridor2_mm": place.Corridor2MM}
		plan := engine.Draw(chair, &place)
		for _, span := range plan.Spans {
			dx, dy := span.To.X.Float()-span.From.X.Float(), span.To.Y.Float()-span.From.Y.Float()
			if long := math.Hypot(dx, dy); math.Abs(long-typed[span.Of]) > 0.05 {
				t.Errorf("%s: the span of %s is %v mm long, want %v", place.Kind, span.Of, long, typed[span.Of])
			}
			if dx < 0 || dy < 0 || (dx > 0 && dy > 0) {
				t.Errorf("%s: the span of %s goes from %v to %v, want along one axis upwards", place.Kind, span.Of, span.From, span.To)
			}
			if !reaches(plan.Walls, span.From) || !reaches(plan.Walls, span.To) {
				t.Errorf("%s: the span of %s does not stand between walls", place.Kind, span.Of)
			}
			delete(typed, span.Of)
		}
		for of, mm := range typed {
			if mm != 0 {
				t.Errorf("%s: no span shows %s", place.Kind, of)
			}
		}
	}
}

// reaches is true when a wall along x is at the height of p, or one along y is as
// far to the right: a span may stand beside the wall that it measures.
func reaches(walls []model.Wall, p model.Point) bool {
	for _, w := range walls {
		if w.From.X == w.To.X && w.From.X == p.X || w.From.Y == w.To.Y && w.From.Y == p.Y {
			return true
		}
	}
	return false
}
