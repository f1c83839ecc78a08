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

// TestTheFirstWayThatFitsIsTaken: one turn of 1200 mm, a three-point turn of 1100,
// any motion of 1000.
func TestTheFirstWayThatFitsIsTaken(t *testing.T) {
	one, three := about{width: 1200}, about{width: 1100}
	for _, c := range []struct {
		width                 float64
		way, verdict, say     string
		leftMM, eachMM, takes float64
	}{
		{1300, OneTurn, Feasible, "passage.half-turn-fits one=1200 each=50", 100, 50, 1200},
		{1299.9, OneTurn, Marginal, "passage.half-turn-tight one=1200 each=49.9 wanted=50", 99.9, 49.9, 1200},
		{1200, OneTurn, Marginal, "passage.half-turn-tight one=1200 each=0 wanted=50", 0, 0, 1200},
		{1199.9, ThreeMoves, Marginal, "passage.half-turn-three-point one=1200 each=49.9", 99.9, 49.9, 1100},
		{1100, ThreeMoves, Marginal, "passage.half-turn-three-point one=1200 each=0", 0, 0, 1100},
		{1099.9, Shuffle, NotFeasible, "passage.half-turn-small-moves three=1100", -0.1, -0.1, 1100},
		{1000, Shuffle, NotFeasible, "passage.half-turn-small-moves three=1100", -100, -50, 1100},
		{999.9, NoWay, NotFeasible, "passage.half-turn-none needs=1000", -100.1, -50.1, 1100},
	} {
		r := Result{NeedsMM: 1000}
		way := r.takeTurn(Corridor{WidthMM: c.width, ClearanceMM: 50}, one, three, 1000)
		if r.Way != c.way || r.Verdict != c.verdict || r.Say.String() != c.say || r.LeftMM != c.leftMM || r.EachMM != c.eachMM || way.width != c.takes {
			t.Errorf("%v mm: %s by %s, %s, %v left and %v on each side of %v", c.width, r.Verdict, r.Way, r.Say.String(), r.LeftMM, r.EachMM, way.width)
		}
	}
}

// TestWhatSlidingLeavesIsNoRoom: several small moves have room left only where it is
// missing.
func TestWhatSlidingLeavesIsNoRoom(t *testing.T) {
	s := spin{chair: longRear(t)}
	for _, c := range []struct {
		way  string
		left float64
		has  bool
	}{{OneTurn, 5, true}, {OneTurn, 0, true}, {NoWay, -3, true}, {Shuffle, 5, false}, {Shuffle, 0.5, false}, {Shuffle, 0, false}, {Shuffle, -0.1, true}, {Straight, 5, true}} {
		g := s.quickCheck(&Result{Way: c.way, LeftMM: c.left, Verdict: Marginal}, pivotProvenance(), compared("door-clear", 800))
		if g.HasLeft != c.has || g.LeftMM != c.left || g.Verdict != PlaceTight || g.Formula.Code != "formula.turn-on-spot" {
			t.Errorf("%+v: %+v", c, g)
		}
	}
}

// TestWhatIsSaidOfAWay: a turn about a point beside the axle, on the spot, and none.
func TestWhatIsSaidOfAWay(t *testing.T) {
	s := spin{clearanceMM: 50}
	for _, c := range []struct {
		left, each float64
		arc        bool
		say        string
	}{
		{100, 50, false, "passage.spin-fits each=50"}, {100, 49.9, false, "passage.spin-tight each=49.9 wanted=50"}, {100, 0, false, "passage.spin-tight each=0 wanted=50"},
		{100, 50, true, "passage.one-turn-fits each=50"}, {100, 49.9, true, "passage.one-turn-tight each=49.9 wanted=50"},
		{100, -0.1, false, "passage.small-moves short=0.1 of=corridor needs=900"}, {0, -7, true, "passage.small-moves short=7 of=corridor needs=900"},
		{-0.1, -50, false, "passage.no-motion missing=0.1 of=corridor needs=900"},
	} {
		r := Result{NeedsOf: "corridor", NeedsMM: 900}
		r.judge(c.left, c.each, 50)
		if s.say(&r, c.arc); r.Say.String() != c.say {
			t.Errorf("%+v: %s", c, r.Say.String())
		}
	}
}

// TestHowDeepAnOutlineGoes: a block of 600 mm of width stops before an opening that
// is narrower, and a roof of 1000 above 200 of its height where it is as wide.
func TestHowDeepAnOutlineGoes(t *testing.T) {
	roof := []Point{{-500, -100}, {500, -100}, {500, 0}, {0, 200}, {-500, 0}}
	for _, c := range []struct {
		name         string
		outline      []Point
		clear, thick float64
		depth        float64
		through      bool
	}{
		{"a block through its own width", block(0, 600, 0, 900), 600, 0, 0, true},
		{"a block before less", block(0, 600, 0, 900), 599.9, 0, 0, false},
		{"a block through a thick wall", block(0, 600, 0, 900), 600, 100, 0, true},
		{"a roof in half its width", roof, 500, 0, 100, false},
		{"a roof in its width", roof, 1000, 0, 0, true},
		{"a roof in a quarter of it and a thick wall", roof, 250, 70, 50, false},
		{"a tip through half a millimetre", []Point{{-500, -200}, {500, -200}, {0, 800}}, 0.5, 0, 0.5, false},
	} {
		if depth, through := (plug{nil, c.clear, c.thick}).depth(c.outline); math.Abs(depth-c.depth) > 1e-9 || through != c.through {
			t.Errorf("%s: %v deep, through %v; want %v, %v", c.name, depth, through, c.depth, c.through)
		}
	}
}
