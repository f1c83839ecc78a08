package passage

import (
	"math"
	"math/rand/v2"
	"testing"

	"doorsill/internal/message"
	"doorsill/internal/model"
)

// slid is the least room of a rectangle that slides along the outer walls of a
// corner, a·sin θ + b·cos θ − L·sin θ·cos θ − W, by hundredths of a degree, and the
// least b for a room of 0.
func slid(length, width, in, out float64) (left, needs float64) {
	left = math.Inf(1)
	for i := range 9001 {
		sin, cos := math.Sincos(float64(i) / 100 * math.Pi / 180)
		left = min(left, in*sin+out*cos-length*sin*cos-width)
		if i < 8999 {
			needs = max(needs, (width+length*sin*cos-in*sin)/cos)
		}
	}
	return left, needs
}

// number is a figure of a sentence, and none where it has none.
func number(m *message.Message, name string) float64 {
	if arg := m.Arg(name); arg != nil {
		return arg.Number.Float()
	}
	return math.NaN()
}

// tenths says whether a number is another one rounded to tenths: down or up by less
// than one, or to the nearest.
func tenths(got, want, low, high float64) bool {
	return math.Abs(got*10-math.Round(got*10)) < 1e-6 && got-want > low-1e-3 && got-want < high+1e-3
}

// How far numbers lie off that are rounded down, up and to the nearest, and one that
// is found by halving 20,000 mm twenty times.
const down, up, even, halved = -0.1, 0.1, 0.05, 0.02

// TestACornerBySmallSteps: what is left and what is needed of both judgements. The
// chair's axle does not matter to either.
func TestACornerBySmallSteps(t *testing.T) {
	c := longRear(t)
	chair := model.ChairMeasured{LengthMM: 1000, WidthMM: 600, Drive: "mid", AheadMM: 300, ClearanceMM: 50}
	for _, one := range []struct {
		in, out float64
		of      string
	}{
		{700, 700, "corridor-out"}, {700, 900, "corridor-out"}, {620, 2000, "corridor-out"}, {2000, 620, "corridor-out"}, {600, 760, "corridor-out"}, {1200, 599, "corridor-out"},
	} {
		left, needs := slid(1000, 600, one.in, one.out)
		r, err := c.Corner(Corner{InMM: one.in, OutMM: one.out})
		if err != nil {
			t.Fatal(err)
		}
		if !tenths(r.LeftMM, left, down, 0) || !tenths(r.NeedsMM, needs, -even, even+halved) || r.NeedsOf != one.of {
			t.Errorf("%v into %v: %v left of %v, needs %v of %v %s", one.in, one.out, r.LeftMM, left, r.NeedsMM, needs, r.NeedsOf)
		}
		g := QuickCheckOf(&chair, &model.PlaceMeasured{Kind: KindCorner, CorridorMM: one.in, Corridor2MM: one.out})
		if said := number(&g.Say, "needs"); !math.IsNaN(said) && !tenths(said, needs, 0, up) {
			t.Errorf("%v into %v: %s, %v are needed", one.in, one.out, g.Say.String(), needs)
		}
		if g.HasLeft && !tenths(g.LeftMM, left, down, 0) || !g.HasLeft && left < 0 {
			t.Errorf("%v into %v: %v left by the quick check, %v", one.in, one.out, g.LeftMM, left)
		}
	}
	// From a corridor that is too narrow, what it needs to be: the same corner the
	// other way round.
	_, needs := slid(1000, 600, 700, 0)
	if r, err := c.Corner(Corner{InMM: 500, OutMM: 700}); err != nil || r.NeedsOf != "corridor-in" || !tenths(r.NeedsMM, needs, -even, even+halved) {
		t.Errorf("%+v (%v), %v are needed", r, err, needs)
	}
	g := QuickCheckOf(&chair, &model.PlaceMeasured{Kind: KindCorner, CorridorMM: 599.95, Corridor2MM: 900})
	if g.Say.Arg("of").Word != "corridor-in" || number(&g.Say, "needs") != 600 {
		t.Errorf("%s", g.Say.String())
	}
	for _, one := range []struct{ in, out, left, angle float64 }{{620, 3000, 20, 0}, {3000, 620, 20, 90}, {700, 700, 1400/math.Sqrt2 - 1100, 45}} {
		if left, angle := (slide{c.outline, one.in}).left(one.out); math.Abs(left-one.left) > 1e-6 || math.Abs(angle-one.angle) > 1e-3 {
			t.Errorf("%v into %v: %v left at %v degrees", one.in, one.out, left, angle)
		}
	}
}

// TestADoorwayByItsClosedForm: any motion needs L·W/clear of the corridor, and the
// width of the chair; of both the opening and the corridor the less is left.
func TestADoorwayByItsClosedForm(t *testing.T) {
	c := longRear(t)
	chair := model.ChairMeasured{LengthMM: 1000, WidthMM: 600, Drive: "mid", AheadMM: 300, ClearanceMM: 50}
	for _, one := range []struct {
		clear, corridor, left, needs float64
		of                           string
	}{
		{700, 800, 800 - 6000/7.0, 6000 / 7.0, "corridor"}, {650, 2000, 50, 12000 / 13.0, "corridor"}, {1200, 590, -10, 600, "corridor"}, {590, 2000, -10, 600, "door-clear"},
	} {
		r, err := c.Doorway(Doorway{ClearMM: one.clear, CorridorMM: one.corridor, Fits: Fits{ClearanceMM: 50}})
		if err != nil {
			t.Fatal(err)
		}
		if !tenths(r.LeftMM, one.left, down, 0) && one.of == "corridor" || !tenths(r.NeedsMM, one.needs, -even, even) || r.NeedsOf != one.of {
			t.Errorf("%+v: %v left, needs %v of %s", one, r.LeftMM, r.NeedsMM, r.NeedsOf)
		}
		if said := number(&r.Say, "needs"); !math.IsNaN(said) && said != r.NeedsMM {
			t.Errorf("%+v: %s", one, r.Say.String())
		}
		g := QuickCheckOf(&chair, &model.PlaceMeasured{Kind: KindOff, WidthMM: one.clear, CorridorMM: one.corridor})
		if said := number(&g.Say, "needs"); !math.IsNaN(said) && (!tenths(said, one.needs, 0, up) || g.Say.Arg("of").Word != one.of) {
			t.Errorf("%+v: %s", one, g.Say.String())
		}
		if g.HasLeft && one.of == "corridor" && !tenths(g.LeftMM, one.left, down, 0) {
			t.Errorf("%+v: %v left by the quick check", one, g.LeftMM)
		}
	}
}

// TestWhatIsSaidOfATurn by quick check of the chair of 1000 by 600 mm: on the spot it
// takes 300 to its left, 761.58 to the rear and 424.26 to the front.
func TestWhatIsSaidOfATurn(t *testing.T) {
	chair := model.ChairMeasured{LengthMM: 1000, WidthMM: 600, Drive: "mid", AheadMM: 300, ClearanceMM: 50}
	for _, one := range []struct {
		place model.PlaceMeasured
		say   string
	}{
		{model.PlaceMeasured{Kind: KindCorner, CorridorMM: 1300, Corridor2MM: 1300}, "passage.spin-fits each=119.2"},
		{model.PlaceMeasured{Kind: KindCorner, CorridorMM: 1300, Corridor2MM: 850}, "passage.spin-fits each=62.8"},
		{model.PlaceMeasured{Kind: KindHalf, CorridorMM: 1300}, "passage.spin-fits each=57"},
		{model.PlaceMeasured{Kind: KindHalf, CorridorMM: 1200}, "passage.spin-tight each=7 wanted=50"},
		{model.PlaceMeasured{Kind: KindHalf, CorridorMM: 1166}, "passage.no-motion missing=0.2 of=corridor needs=1166.2"},
		{model.PlaceMeasured{Kind: KindOff, WidthMM: 800, CorridorMM: 1300}, "passage.spin-fits each=57"},
		{model.PlaceMeasured{Kind: KindOff, WidthMM: 700, CorridorMM: 1900}, "passage.spin-fits each=50"},
	} {
		if g := QuickCheckOf(&chair, &one.place); g.Say.String() != one.say {
			t.Errorf("%+v: %s, want %s", one.place, g.Say.String(), one.say)
		}
	}
}

// TestTheRoomOfAnEntryIsThatOfTheDrive at the same poses, for lines that pass. A wall
// is driven past as one of a millimetre at least.
func TestTheRoomOfAnEntryIsThatOfTheDrive(t *testing.T) {
	c, r := longRear(t), rand.New(rand.NewPCG(8, 8))
	passed := 0
	for range 120 {
		d := Doorway{ClearMM: 700 + 500*r.Float64(), ThickMM: 1 + 200*r.Float64(), CorridorMM: 1100 + 500*r.Float64()}
		radius := 700 * r.Float64()
		line := turnLine{middle: Point{300 - radius + (d.ClearMM-600)*r.Float64(), radius - 300 - 300*r.Float64()}, radius: radius}
		room := newEntrance(c, d, 180).room(line, math.Inf(-1))
		if room <= 0 {
			continue
		}
		passed++
		if driven := c.enter(d, line).gap.room; math.Abs(driven-room) > 1e-6 {
			t.Errorf("%+v into %+v: %v, driven %v", line, d, room, driven)
		}
	}
	if passed < 10 {
		t.Errorf("only %d lines pass: too few to hold anything", passed)
	}
}

// TestAnEntryIsImproved: through an opening of 1200 mm off a corridor of 3000 the
// chair of 600 mm keeps 300 on each side where its axle comes through the middle, and
// nothing else is as near to a turn on the spot deep in the corridor.
func TestAnEntryIsImproved(t *testing.T) {
	c := longRear(t)
	e := newEntrance(c, Doorway{ClearMM: 1200, CorridorMM: 3000}, 90)
	placed := e.place(0)
	if placed.room > 300 || placed.room < 298 || math.Abs(placed.middle.X-600) > 2 || placed.radius != 0 {
		t.Errorf("placed %+v", placed)
	}
	line := turnLine{middle: Point{470, -1500}}
	var beside [][3]float64
	for _, by := range around() {
		if by[2] == 0 {
			beside = append(beside, by)
		}
	}
	for name, directions := range map[string][][3]float64{"beside": beside, "around": around()} {
		got := e.improve(line, directions)
		if got.room > 300 || got.room < 299.8 || math.Abs(got.middle.X+got.radius-600) > 0.2 || got.radius < 0 || name == "beside" && got.radius != 0 {
			t.Errorf("%s: improved %+v", name, got)
		}
		if got.room != e.room(got, math.Inf(-1)) {
			t.Errorf("%s: %+v keeps %v", name, got, e.room(got, math.Inf(-1)))
		}
	}
	// No turn is tighter than the driver drives, though this one would have more room.
	e = newEntrance(c, Doorway{ClearMM: 700, CorridorMM: 1400, Fits: Fits{MinRadiusMM: 250}}, 90)
	if got := e.improve(e.place(250), around()); got.radius < 250 {
		t.Errorf("%+v is tighter than 250 mm", got)
	}
}
