package engine_test

import (
	"math"
	"testing"

	"doorsill/internal/decimal"
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

// TestAPlanShowsTheChair: as long and as wide as it was measured, where it is tightest, to
// a tenth of a millimetre; the room that is left in whole ones.
func TestAPlanShowsTheChair(t *testing.T) {
	chair := &model.ChairMeasured{LengthMM: 1100, WidthMM: 650, Drive: "mid", ClearanceMM: 30}
	for _, c := range []struct {
		place model.PlaceMeasured
		room  int // mm on the tightest side, or -1 where it follows from a search
	}{
		{model.PlaceMeasured{Kind: "door", WidthMM: 850}, 100},  // (850 - 650) / 2
		{model.PlaceMeasured{Kind: "door", WidthMM: 755.5}, 52}, // 52.75
		{model.PlaceMeasured{Kind: "corner", CorridorMM: 1150, Corridor2MM: 1250}, -1},
	} {
		plan := engine.Draw(chair, &c.place)
		if plan.Tightest == nil || len(plan.Poses) == 0 || plan.Message.Empty() {
			t.Fatalf("%s: %+v", c.place.Kind, plan)
		}
		if room := plan.Tightest.RoomMM; c.room >= 0 && room != decimal.Int(c.room) || room.Near(0) != room {
			t.Errorf("%s: %s mm are left, want %d", c.place.Kind, room.Text(), c.room)
		}
		points := []model.Point{plan.Tightest.At}
		for _, pose := range plan.Poses {
			points = append(append(points, pose.At), pose.Outline...)
			if pose.Heading.Near(1) != pose.Heading {
				t.Errorf("%s: heads to %s degrees", c.place.Kind, pose.Heading.Text())
			}
			if len(pose.Outline) != 4 {
				t.Fatalf("%s: %d corners", c.place.Kind, len(pose.Outline))
			}
			var sides []float64
			for i, p := range pose.Outline {
				q := pose.Outline[(i+1)%4]
				sides = append(sides, math.Hypot(p.X.Float()-q.X.Float(), p.Y.Float()-q.Y.Float()))
			}
			for i, want := range []float64{chair.LengthMM, chair.WidthMM} {
				if long := max(sides[0], sides[1]); i == 0 && math.Abs(long-want) > 0.2 {
					t.Errorf("%s: %v mm long, want %v", c.place.Kind, long, want)
				}
				if wide := min(sides[0], sides[1]); i == 1 && math.Abs(wide-want) > 0.2 {
					t.Errorf("%s: %v mm wide, want %v", c.place.Kind, wide, want)
				}
			}
		}
		for _, p := range points {
			if p.X.Near(1) != p.X || p.Y.Near(1) != p.Y {
				t.Errorf("%s: a point at %s, %s", c.place.Kind, p.X.Text(), p.Y.Text())
			}
		}
	}
	for kind, place := range map[string]model.PlaceMeasured{"ramp": {Kind: "ramp", RiseMM: 100, RunMM: 1200, WidthMM: 900}, "a door without a measure": {Kind: "door"}} {
		if plan := engine.Draw(chair, &place); plan.Message.Empty() || len(plan.Walls)+len(plan.Poses) > 0 || plan.Tightest != nil {
			t.Errorf("%s: %+v", kind, plan)
		}
	}
}
