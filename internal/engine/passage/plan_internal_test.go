package passage

import (
	"math"
	"slices"
	"testing"
)

// longRear is a chair of 1000 by 600 mm with its axle 300 mm behind the foremost
// point: its front corners are 424.26 and its rear ones 761.58 mm from the axle.
func longRear(t *testing.T) *Chair {
	t.Helper()
	c, err := NewChair(Measures{LengthMM: 1000, WidthMM: 600, Drive: Mid, AxleBackMM: 300})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// samePoses checks the drive axle and heading of each pose of a plan, and which of
// them is the tightest.
func samePoses(t *testing.T, p *Plan, tightest int, want ...Pose) {
	t.Helper()
	if len(p.Poses) != len(want) {
		t.Fatalf("%d poses, want %d: %+v", len(p.Poses), len(want), p.Poses)
	}
	for i, one := range p.Poses {
		if distance(one.Pose.At, want[i].At) > 0.11 || math.Abs(one.Pose.Heading-want[i].Heading) > 0.051 || one.Tightest != (i == tightest) {
			t.Errorf("pose %d: %+v, tightest %v; want %+v", i, one.Pose, one.Tightest, want[i])
		}
	}
}

// marked checks the mark of a plan to a tenth of a millimetre.
func marked(t *testing.T, got, want Mark) {
	t.Helper()
	if distance(got.Chair, want.Chair) > 0.11 || distance(got.Wall, want.Wall) > 0.11 || math.Abs(got.RoomMM-want.RoomMM) > 0.051 {
		t.Errorf("the mark is %+v, want %+v", got, want)
	}
}

// sides are the edges of an upright rectangle, against the clock from below.
func sides(minX, maxX, minY, maxY float64) []Segment {
	return []Segment{{Point{minX, minY}, Point{maxX, minY}}, {Point{maxX, minY}, Point{maxX, maxY}},
		{Point{maxX, maxY}, Point{minX, maxY}}, {Point{minX, maxY}, Point{minX, minY}}}
}

func sameWalls(t *testing.T, p *Plan, walls []Segment, spans ...Span) {
	t.Helper()
	if !slices.Equal(p.Walls, walls) {
		t.Errorf("walls %v, want %v", p.Walls, walls)
	}
	if !slices.Equal(p.Spans, spans) {
		t.Errorf("spans %v, want %v", p.Spans, spans)
	}
}

// TestThePlanOfADoor: 800 mm wide in a wall of 100. The chair stands in the middle,
// 100 mm before the wall, with its front left corner half way through, and 100 mm
// beyond; 200 mm around it are drawn.
func TestThePlanOfADoor(t *testing.T) {
	r, err := longRear(t).StraightDoor(Door{ClearMM: 800, ThickMM: 100})
	if err != nil {
		t.Fatal(err)
	}
	p := &r.Plan
	sameWalls(t, p, append(sides(-400, 0, 0, 100), sides(800, 1200, 0, 100)...), Span{"width_mm", Segment{Point{0, 250}, Point{800, 250}}})
	samePoses(t, p, 1, Pose{Point{400, -400}, 90}, Pose{Point{400, -250}, 90}, Pose{Point{400, 900}, 90})
	marked(t, p.Tightest, Mark{Point{100, 50}, Point{0, 50}, 100})
	if p.Low != (Point{-100, -1300}) || p.High != (Point{900, 1400}) {
		t.Errorf("drawn from %v to %v", p.Low, p.High)
	}
	if outline := []Point{{700, -950}, {700, 50}, {100, 50}, {100, -950}}; !slices.Equal(p.Poses[1].Outline, outline) {
		t.Errorf("in the opening it is drawn as %v, want %v", p.Poses[1].Outline, outline)
	}
}

// TestThePlanOfACornerThatIsTooNarrow slides the chair along both outer walls of
// two corridors of 700 mm. It is nearest to the inner corner at 45 degrees, and
// there lacks (700 + 700)/√2 − 1000/2 − 600 = −110.05 mm, across which the inner
// side lies 77.8 mm beyond the corner both ways.
func TestThePlanOfACornerThatIsTooNarrow(t *testing.T) {
	r, err := longRear(t).Corner(Corner{InMM: 700, OutMM: 700})
	if err != nil {
		t.Fatal(err)
	}
	if r.Way != NoWay || r.LeftMM != -110.1 {
		t.Errorf("%s with %v mm", r.Way, r.LeftMM)
	}
	p := &r.Plan
	sameWalls(t, p, []Segment{{Point{0, 0}, Point{0, -2500}}, {Point{0, 0}, Point{-2500, 0}}, {Point{700, -2500}, Point{700, 700}}, {Point{700, 700}, Point{-2500, 700}}},
		Span{"corridor_mm", Segment{Point{0, -1000}, Point{700, -1000}}}, Span{"corridor2_mm", Segment{Point{-1000, 0}, Point{-1000, 700}}})
	// Turned by d the rear right corner lies 700·sin d + 300·cos d to the right of
	// the axle, and the front right one 300·cos d + 300·sin d above it.
	pushed := func(d float64) Pose {
		sin, cos := math.Sincos(d * math.Pi / 180)
		return Pose{Point{700 - 700*sin - 300*cos, 700 - 300*cos - 300*sin}, 90 + d}
	}
	samePoses(t, p, 4, pushed(0), pushed(30), pushed(60), pushed(90), pushed(45))
	marked(t, p.Tightest, Mark{Point{-77.8, -77.8}, Point{0, 0}, -110.1})
}

// TestARoundedCornerByHand: corridors of 2000 mm, about (500, 500) with a radius of
// 400. The rear right corner, 700 mm to the right of and behind the middle of the
// turn, comes to 500 + 989.95 after 45 degrees, 510.05 mm off the outer wall. Nothing
// else comes as near: the inner side keeps 600.
func TestARoundedCornerByHand(t *testing.T) {
	c, k := longRear(t), Corner{InMM: 2000, OutMM: 2000}
	d := c.round(k, turnLine{middle: Point{500, 500}, radius: 400})
	if math.Abs(d.gap.room-510.05) > 0.01 || !nearPoint(d.gap.at, Point{2000, d.gap.on.Y}) || distance(d.gap.on, Point{1489.95, 500}) > 0.01 {
		t.Errorf("%+v", d.gap)
	}
	first, last, at := d.path[0], d.path[len(d.path)-1], d.path[d.at]
	if !nearPoint(first.At, Point{900, -500}) || first.Heading != 90 || !nearPoint(last.At, Point{-500, 900}) || math.Abs(last.Heading-180) > 1e-9 || math.Abs(at.Heading-135) > 1e-9 {
		t.Errorf("from %+v by %+v to %+v", first, at, last)
	}
	p := c.cornerPlan(k, OneTurn, d, 0)
	if p.Poses[0].Pose != first || p.Poses[len(p.Poses)-1].Pose != last || len(p.Poses) > 11 {
		t.Errorf("%d poses, %+v to %+v", len(p.Poses), p.Poses[0].Pose, p.Poses[len(p.Poses)-1].Pose)
	}
	marked(t, p.Tightest, Mark{Point{1489.95, 500}, Point{2000, 500}, 510.05})
}

// TestAPlugByHand: how far the chair goes into an opening of 700 mm at an angle.
// Along the corridor it does not; at 45 degrees its front left corner leads by twice
// its depth of width, to 350; straight on it goes through.
func TestAPlugByHand(t *testing.T) {
	p := plug{longRear(t).outline, 700, 0}
	for _, c := range []struct {
		degrees, rest float64
		slips         bool
		want          Pose
	}{
		{0, 600, false, Pose{Point{350 + 200, -300}, 0}},
		{45, 1600/math.Sqrt2 - 350, false, Pose{Point{350, 350 - 600/math.Sqrt2}, 45}},
		{90, 0, true, Pose{Point{350, 700}, 90}},
	} {
		if got := p.rest(c.degrees); math.Abs(got-c.rest) > 1e-9 || p.slips(c.degrees) != c.slips {
			t.Errorf("at %v degrees %v mm stay in the corridor, slips %v; want %v, %v", c.degrees, got, !c.slips, c.rest, c.slips)
		}
		if got := p.pushed(c.degrees); !nearPoint(got.At, c.want.At) || got.Heading != c.want.Heading {
			t.Errorf("at %v degrees pushed to %+v, want %+v", c.degrees, got, c.want)
		}
	}
	// A wall of 100 mm: at 45 degrees the chair is 848.53 mm wide and slips through
	// 900, but its right corner stays beside the wall for 100 mm more, while the left
	// side goes on: 424.26 + t wide until t is 524.26, and 900 at 475.74.
	turned := turnedAll(p.hull, 45)
	if _, through := (plug{p.hull, 900, 0}).depth(turned); !through {
		t.Error("it does not slip through a thin wall")
	}
	if depth, through := (plug{p.hull, 900, 100}).depth(turned); through || math.Abs(depth-(900-600/math.Sqrt2)) > 1e-9 {
		t.Errorf("into a thick wall %v deep, through %v", depth, through)
	}
}

// TestThePlanOfADoorThatIsTooNarrow off a corridor of 850 mm: the chair stands in
// the opening at the angle that asks the most, 1000·600/700 = 857.14, of the
// corridor, so that its rear lies 7.14 mm beyond the far wall.
func TestThePlanOfADoorThatIsTooNarrow(t *testing.T) {
	r, err := longRear(t).Doorway(Doorway{ClearMM: 700, CorridorMM: 850})
	if err != nil {
		t.Fatal(err)
	}
	p := &r.Plan
	sameWalls(t, p, append(append(sides(-2500, 0, 0, 1), sides(700, 3200, 0, 1)...), Segment{Point{-2500, -850}, Point{3200, -850}}),
		Span{"width_mm", Segment{Point{0, 151}, Point{700, 151}}}, Span{"corridor_mm", Segment{Point{850, -850}, Point{850, 0}}})
	if r.Way != NoWay || r.LeftMM != -7.2 || r.NeedsMM != 857.1 || r.NeedsOf != "corridor" {
		t.Errorf("%s, %v left, needs %v of %s", r.Way, r.LeftMM, r.NeedsMM, r.NeedsOf)
	}
	if len(p.Poses) != 1 || !p.Poses[0].Tightest || p.Tightest.RoomMM != -7.2 || p.Tightest.Wall.Y != -850 || p.Tightest.Chair.Y != -857.1 {
		t.Errorf("%d poses, the mark is %+v", len(p.Poses), p.Tightest)
	}
	// A wall of 200 mm is drawn as thick as it is.
	r, err = longRear(t).Doorway(Doorway{ClearMM: 700, ThickMM: 200, CorridorMM: 700})
	if err != nil {
		t.Fatal(err)
	}
	sameWalls(t, &r.Plan, append(append(sides(-2500, 0, 0, 200), sides(700, 3200, 0, 200)...), Segment{Point{-2500, -700}, Point{3200, -700}}),
		Span{"width_mm", Segment{Point{0, 350}, Point{700, 350}}}, Span{"corridor_mm", Segment{Point{850, -700}, Point{850, 0}}})
}

// TestAnEntryByHand: off a corridor of 2000 mm into an opening of 2000 in a wall of
// 100, about (600, −400) with a radius of 400. The rear right corner, 700 mm behind
// and 700 beside the middle of the turn, comes to −400 − 989.95 after 45 degrees,
// 610.05 mm off the far wall. The left side keeps 500 mm to the wall while it drives
// along, 700 to the left jamb, and the right one 700 to the right.
func TestAnEntryByHand(t *testing.T) {
	c, d := longRear(t), Doorway{ClearMM: 2000, ThickMM: 100, CorridorMM: 2000}
	line := turnLine{middle: Point{600, -400}, radius: 400}
	got := c.enter(d, line)
	first, last := got.path[0], got.path[len(got.path)-1]
	if !nearPoint(first.At, Point{-400, -800}) || first.Heading != 0 || !nearPoint(last.At, Point{1000, 700}) || math.Abs(last.Heading-90) > 1e-9 {
		t.Errorf("from %+v to %+v", first, last)
	}
	for _, steps := range []int{2, 90} {
		if room := newEntrance(c, d, steps).room(line, math.Inf(-1)); math.Abs(room-500) > 1e-9 || math.Abs(got.gap.room-500) > 1e-9 {
			t.Errorf("in %d steps %v, driven %v; want 500", steps, room, got.gap.room)
		}
	}
	for _, one := range []struct {
		name   string
		door   Doorway
		middle Point
		want   float64
	}{
		{"the far wall", Doorway{ClearMM: 2000, CorridorMM: 1600}, Point{600, -400}, 1600 - 400 - 700*math.Sqrt2},
		{"the left jamb", Doorway{ClearMM: 2000, CorridorMM: 3000}, Point{0, -700}, 100},
		{"the right jamb", Doorway{ClearMM: 1500, CorridorMM: 3000}, Point{700, -700}, 100},
		{"the wall beside it", Doorway{ClearMM: 2000, CorridorMM: 3000}, Point{600, 50}, 50},
	} {
		line.middle = one.middle
		if room := newEntrance(c, one.door, 90).room(line, math.Inf(-1)); math.Abs(room-one.want) > 1e-9 {
			t.Errorf("%s: %v, want %v", one.name, room, one.want)
		}
	}
}

// TestThePlanOfAHalfTurn on the spot in 1300 mm: the front corners sweep 424.26 mm
// to one side and the rear ones 761.58 to the other, 1185.84 in all, in the middle
// of the corridor: the axle is 57.08 + 761.58 mm off the lower wall.
func TestThePlanOfAHalfTurn(t *testing.T) {
	r, needs, err := longRear(t).HalfTurn(Corridor{WidthMM: 1300})
	if err != nil {
		t.Fatal(err)
	}
	if needs.OneTurnMM != 1185.8 || needs.AnyMM != 1166.2 || r.EachMM != 57 || r.LeftMM != 114.1 {
		t.Errorf("needs %+v, keeps %v of %v", needs, r.EachMM, r.LeftMM)
	}
	p := &r.Plan
	sameWalls(t, p, []Segment{{Point{-2500, 0}, Point{2500, 0}}, {Point{-2500, 1300}, Point{2500, 1300}}}, Span{"corridor_mm", Segment{Point{1250, 0}, Point{1250, 1300}}})
	for _, one := range p.Poses {
		if math.Abs(one.Pose.At.X) > 1e-9 || math.Abs(one.Pose.At.Y-818.7) > 0.051 {
			t.Errorf("a turn on the spot at %v", one.Pose.At)
		}
	}
	if last := p.Poses[len(p.Poses)-1].Pose.Heading; p.Poses[0].Pose.Heading != 0 || last != 180 || math.Abs(p.Tightest.RoomMM-57) > 0.11 {
		t.Errorf("from %v to %v degrees, the mark is %+v", p.Poses[0].Pose.Heading, last, p.Tightest)
	}
}

// TestAThreePointTurnByHand: 90 degrees forward about a point 500 mm to the left,
// 90 back about one to the right, which ends 1000 mm ahead. The rear right corner,
// 800 mm right of and 700 behind the first middle, comes 1063.01 mm below it, and so
// does the rear left one below the second; both middles lie 500 mm above the start.
// After the first move the front points up, to 500 + 300.
func TestAThreePointTurnByHand(t *testing.T) {
	c := longRear(t)
	a := c.three(500, 90, 90)
	if reach := math.Hypot(800, 700); math.Abs(a.low-(500-reach)) > 1e-9 || math.Abs(a.width-(800-500+reach)) > 1e-9 {
		t.Errorf("it sweeps %v from %v on", a.width, a.low)
	}
	if want := []Move{{Degrees: 90, RadiusMM: 500}, {Degrees: 90, RadiusMM: -500}, {RadiusMM: 500}}; !slices.Equal(a.moves, want) {
		t.Errorf("%+v, want %+v", a.moves, want)
	}
	// Three turns on the spot are one.
	if spot, one := c.three(0, 50, 60), c.halfTurn(0); math.Abs(spot.width-one.width) > 1e-9 || math.Abs(spot.low-one.low) > 1e-9 {
		t.Errorf("%+v, in one turn %+v", spot, one)
	}
	// One turn about a point 500 mm to the left: the rear right corner goes round it
	// below, the front right one above.
	if one, reach := c.halfTurn(500), math.Hypot(800, 700); math.Abs(one.low-(500-reach)) > 1e-9 || math.Abs(one.width-(reach+math.Hypot(800, 300))) > 1e-9 {
		t.Errorf("it sweeps %v from %v on, its corner is %v off", one.width, one.low, reach)
	}
}

// TestThePlanOfAFullTurn: the farthest corner points at the nearer wall, and seven
// more headings are drawn.
func TestThePlanOfAFullTurn(t *testing.T) {
	c, reach := longRear(t), math.Hypot(700, 300)
	at := 180 - math.Atan2(300, 700)*180/math.Pi // the heading that has the corner behind point along x
	for _, one := range []struct {
		width, depth, heading float64
		mark                  Mark
	}{
		{1600, 2000, at, Mark{Point{800 + reach, 1000}, Point{1600, 1000}, 38.4}},
		{2000, 1500, at + 90, Mark{Point{1000, 750 + reach}, Point{1000, 1500}, -11.6}},
		{1600, 1600, at, Mark{Point{800 + reach, 800}, Point{1600, 800}, 38.4}},
	} {
		r, err := c.FullTurn(Room{WidthMM: one.width, DepthMM: one.depth})
		if err != nil {
			t.Fatal(err)
		}
		p, middle := &r.Plan, Point{one.width / 2, one.depth / 2}
		sameWalls(t, p, sides(0, one.width, 0, one.depth), Span{"width_mm", Segment{Point{0, -150}, Point{one.width, -150}}})
		var want []Pose
		for turn := 45.0; turn <= 360; turn += 45 {
			want = append(want, Pose{middle, one.heading + math.Mod(turn, 360)})
		}
		samePoses(t, p, 7, want...)
		marked(t, p.Tightest, one.mark)
		if math.Abs(r.NeedsMM-2*reach) > 0.051 {
			t.Errorf("needs %v", r.NeedsMM)
		}
	}
}
