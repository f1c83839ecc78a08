package passage

import (
	"math"
	"testing"

	"doorsill/internal/model"
)

// TestLeftOfACornerByItsClosedForm: between 0 and 90 degrees. From a corridor of 620 mm
// into one of 3000 the chair of 600 keeps 20 at the end, and would keep less beyond.
func TestLeftOfACornerByItsClosedForm(t *testing.T) {
	r := longRear(t).rect()
	for _, one := range []struct{ in, out, left float64 }{{620, 3000, 20}, {3000, 620, 20}, {700, 700, 1400/math.Sqrt2 - 1100}} {
		if got := r.cornerLeft(one.in, one.out); math.Abs(got-one.left) > 1e-9 {
			t.Errorf("%v into %v: %v left, want %v", one.in, one.out, got, one.left)
		}
	}
}

// TestWhatIsSaidAtTheBoundOfATurn, of chairs with corners that are far from the axle by
// whole numbers, of one 0.04 mm wider, of one that turns about its rear and of one that
// needs 1192.69 mm to be turned about in.
func TestWhatIsSaidAtTheBoundOfATurn(t *testing.T) {
	whole := model.ChairMeasured{LengthMM: 800, WidthMM: 600, Drive: "mid", AheadMM: 400, ClearanceMM: 50} // 500 mm each
	wider := model.ChairMeasured{LengthMM: 1000, WidthMM: 600.04, Drive: "mid", AheadMM: 300, ClearanceMM: 50}
	rear := model.ChairMeasured{LengthMM: 1000, WidthMM: 600, Drive: "rear", AheadMM: 999, ClearanceMM: 80}
	spot := model.ChairMeasured{LengthMM: 1000, WidthMM: 600, Drive: "mid", AheadMM: 300, ClearanceMM: 80}
	across := model.ChairMeasured{LengthMM: 1000, WidthMM: 650, Drive: "mid", AheadMM: 300, ClearanceMM: 50}
	for _, one := range []struct {
		chair model.ChairMeasured
		place model.PlaceMeasured
		say   string
	}{
		{wider, model.PlaceMeasured{Kind: KindDoor, WidthMM: 600}, "passage.door-missing missing=0.1 needs=600.1"},
		{wider, model.PlaceMeasured{Kind: KindCorner, CorridorMM: 599, Corridor2MM: 6000}, "passage.no-motion missing=1.1 of=corridor-in needs=600.1"},
		{wider, model.PlaceMeasured{Kind: KindOff, WidthMM: 600, CorridorMM: 3000}, "passage.no-motion missing=0.1 of=door-clear needs=600.1"},
		{across, model.PlaceMeasured{Kind: KindHalf, CorridorMM: 1000}, "passage.no-motion missing=192.7 of=corridor needs=1192.7"},
		// What a turn on the spot keeps is all that is wanted: no other is looked for.
		{whole, model.PlaceMeasured{Kind: KindCorner, CorridorMM: 900, Corridor2MM: 900}, "passage.spin-fits each=50"},
		{whole, model.PlaceMeasured{Kind: KindOff, WidthMM: 900, CorridorMM: 1100}, "passage.spin-fits each=50"},
		// No other turn keeps more, and the search finds a little less.
		{rear, model.PlaceMeasured{Kind: KindCorner, CorridorMM: 700.01, Corridor2MM: 3000}, "passage.spin-tight each=50 wanted=80"},
		{spot, model.PlaceMeasured{Kind: KindOff, WidthMM: 700.01, CorridorMM: 3000}, "passage.spin-tight each=50 wanted=80"},
		// Into a corridor as wide as the chair any motion is left, but of the turns the
		// widest, of 1500 mm, lacks half of hypot(1800, 300) − 1800.
		{spot, model.PlaceMeasured{Kind: KindCorner, CorridorMM: 3000, Corridor2MM: 600}, "passage.small-moves short=12.5 of=corridor-out needs=600"},
		{spot, model.PlaceMeasured{Kind: KindOff, WidthMM: 600, CorridorMM: 900}, "passage.no-motion missing=100 of=corridor needs=1000"},
	} {
		if g := QuickCheckOf(&one.chair, &one.place); g.Say.String() != one.say {
			t.Errorf("%+v: %s, want %s", one.place, g.Say.String(), one.say)
		}
	}
}

// TestATurnBesideTheAxleIsSaid where it keeps more than one on the spot, also off a
// corridor that is exactly as wide as any motion needs, 1000·600/750: on the spot it
// would lack half of what 424.26 + 761.58 are more than 800, but the front swings into
// the opening.
func TestATurnBesideTheAxleIsSaid(t *testing.T) {
	beside := model.ChairMeasured{LengthMM: 1190, WidthMM: 560, Drive: "mid", AheadMM: 370, ClearanceMM: 50}
	c, err := chairOf(&beside)
	if err != nil {
		t.Fatal(err)
	}
	d := Doorway{ClearMM: 650, CorridorMM: 1100, Fits: Fits{ClearanceMM: 50}}
	full := c.enter(d, c.bestEntry(d)).gap.room
	if g := QuickCheckOf(&beside, &model.PlaceMeasured{Kind: KindOff, WidthMM: 650, CorridorMM: 1100}); g.Say.Code != "passage.one-turn-tight" || !tenths(number(&g.Say, "each"), full, down, 0) {
		t.Errorf("%s, by the full search %v", g.Say.String(), full)
	}
	spot := model.ChairMeasured{LengthMM: 1000, WidthMM: 600, Drive: "mid", AheadMM: 300, ClearanceMM: 80}
	g := QuickCheckOf(&spot, &model.PlaceMeasured{Kind: KindOff, WidthMM: 750, CorridorMM: 800})
	if short := number(&g.Say, "short"); g.Say.Code != "passage.small-moves" || !(short > 0) || short > (math.Hypot(300, 300)+math.Hypot(700, 300)-800)/2-50 {
		t.Errorf("%s", g.Say.String())
	}
}

// TestTheThreePointTurnThatIsSaid is that of a driver who turns on the spot.
func TestTheThreePointTurnThatIsSaid(t *testing.T) {
	chair := model.ChairMeasured{LengthMM: 900, WidthMM: 600, Drive: "mid", AheadMM: 850, ClearanceMM: 50}
	c, err := chairOf(&chair)
	if err != nil {
		t.Fatal(err)
	}
	g := QuickCheckOf(&chair, &model.PlaceMeasured{Kind: KindHalf, CorridorMM: 1081.67})
	if three := c.threePoint(0).width; !(math.Abs(number(&g.Say, "three")-three) < 1e-6) || three < c.diameter() {
		t.Errorf("%s, a three-point turn takes %v", g.Say.String(), three)
	}
}
