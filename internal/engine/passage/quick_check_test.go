package passage_test

import (
	"math/rand/v2"
	"strings"
	"testing"

	"doorsill/internal/engine/passage"
	"doorsill/internal/model"
)

var measured = model.ChairMeasured{LengthMM: 1150, WidthMM: 650, Drive: "mid", AheadMM: 575, ClearanceMM: 50}

func TestQuickChecks(t *testing.T) {
	for name, c := range map[string]struct {
		place model.PlaceMeasured
		want  string
		say   string
	}{
		"wide door":         {model.PlaceMeasured{Kind: "door", WidthMM: 760}, "fits", "55 mm on each side"},
		"narrow door":       {model.PlaceMeasured{Kind: "door", WidthMM: 700}, "tight", "less than the 50 mm wanted"},
		"door too narrow":   {model.PlaceMeasured{Kind: "door", WidthMM: 640}, "does-not-fit", "10 mm are missing"},
		"door unmeasured":   {model.PlaceMeasured{Kind: "door"}, "unknown", "Not measured yet: clear opening of the door."},
		"corridor":          {model.PlaceMeasured{Kind: "corridor", CorridorMM: 900}, "fits", "125 mm on each side"},
		"wide corner":       {model.PlaceMeasured{Kind: "corner", CorridorMM: 1100, Corridor2MM: 1100}, "fits", "Turns on the spot with 57 mm"},
		"tight corner":      {model.PlaceMeasured{Kind: "corner", CorridorMM: 900, Corridor2MM: 900}, "tight", "One turn fits with 18 mm"},
		"no corner":         {model.PlaceMeasured{Kind: "corner", CorridorMM: 800, Corridor2MM: 800}, "does-not-fit", "must be at least"},
		"half a corner":     {model.PlaceMeasured{Kind: "corner", CorridorMM: 800}, "unknown", "Not measured yet: corridor driven out."},
		"side door":         {model.PlaceMeasured{Kind: "door-off-corridor", WidthMM: 800, CorridorMM: 1450}, "fits", "Turns on the spot"},
		"tight side door":   {model.PlaceMeasured{Kind: "door-off-corridor", WidthMM: 800, CorridorMM: 1180}, "tight", "less than the 50 mm wanted"},
		"no turn to a door": {model.PlaceMeasured{Kind: "door-off-corridor", WidthMM: 800, CorridorMM: 1000}, "does-not-fit", "No single turn fits"},
		"no turn in a room": {model.PlaceMeasured{Kind: "turn-on-spot", WidthMM: 1320}, "does-not-fit", "mm"},
		"back and forth":    {model.PlaceMeasured{Kind: "three-point", CorridorMM: 1340}, "tight", "on each side"},
		"no side door":      {model.PlaceMeasured{Kind: "door-off-corridor", WidthMM: 700, CorridorMM: 1000}, "does-not-fit", "corridor must be at least 1068 mm"},
		"room to turn":      {model.PlaceMeasured{Kind: "turn-on-spot", WidthMM: 1500}, "fits", "on each side"},
		"half turn":         {model.PlaceMeasured{Kind: "half-turn", CorridorMM: 1450}, "fits", "Turns on the spot"},
		"three-point turn":  {model.PlaceMeasured{Kind: "three-point", CorridorMM: 1321}, "tight", "less than the 50 mm wanted"},
		"no half turn":      {model.PlaceMeasured{Kind: "half-turn", CorridorMM: 1200}, "does-not-fit", "must be at least 1321 mm"},
		"ramp":              {model.PlaceMeasured{Kind: "ramp", RiseMM: 100, RunMM: 1200}, "unknown", "slope limit of this chair is not known"},
		"flat ramp":         {model.PlaceMeasured{Kind: "ramp", RunMM: 1200}, "unknown", "Not measured yet: rise."},
		"low threshold":     {model.PlaceMeasured{Kind: "threshold", HeightMM: 10}, "unknown", "10 mm: low. The step limit of this chair is not known"},
		"high step":         {model.PlaceMeasured{Kind: "threshold", HeightMM: 100}, "does-not-fit", "most chairs need a ramp"},
		"narrow ramp":       {model.PlaceMeasured{Kind: "ramp", RiseMM: 100, RunMM: 1500, WidthMM: 640}, "does-not-fit", "less than the chair's 650 mm"},
		"load unknown":      {model.PlaceMeasured{Kind: "load", LimitKG: 300}, "unknown", "Not measured yet: mass of the chair, mass of the person."},
	} {
		g := passage.QuickCheckOf(&measured, &c.place)
		if g.Verdict != c.want || !strings.Contains(say(g.Say), c.say) {
			t.Errorf("%s: %s, %q; want %s and %q", name, g.Verdict, say(g.Say), c.want, c.say)
		}
		if g.Verdict != passage.PlaceUnknown && g.Formula.Empty() {
			t.Errorf("%s does not say what it rests on", name)
		}
	}
}

// TestWithoutAChairTheRestIsStillSaid: what does not need its outline.
func TestWithoutAChairTheRestIsStillSaid(t *testing.T) {
	var none model.ChairMeasured
	for place, words := range map[model.PlaceMeasured]string{
		{Kind: "ramp", RiseMM: 100, RunMM: 1200}: "The slope is 1 in 12.",
		{Kind: "threshold", HeightMM: 30}:        "most chairs need a wedge",
		{Kind: "door", WidthMM: 800}:             "Not measured yet: length of chair with feet, width of chair.",
	} {
		if g := passage.QuickCheckOf(&none, &place); !strings.Contains(say(g.Say), words) {
			t.Errorf("%s: %q, want %q", place.Kind, say(g.Say), words)
		}
	}
}

// TestARefusalByItselfEndsAsASentence: with and without what can still be said.
func TestARefusalByItselfEndsAsASentence(t *testing.T) {
	_, outside := chair(t).StraightDoor(passage.Door{ClearMM: 800, ClearanceMM: 400})
	_, still := chair(t).StraightDoor(passage.Door{ClearMM: 30})
	for _, c := range []struct {
		err  error
		want string
	}{
		{outside, "Room wanted on each side: expected a number from 0 to 300 mm."},
		{still, "Clear opening of the door: expected a number from 400 to 3000 mm. The chair's own width can still be given: no door narrower than that will do."},
	} {
		if got := say(passage.Refused(c.err)); got != c.want {
			t.Errorf("%v: got %q, want %q", c.err, got, c.want)
		}
	}
}

// TestTheFrontSwingsIntoTheOpening: a turn that does not fit inside the corridor
// fits because the door is open.
func TestTheFrontSwingsIntoTheOpening(t *testing.T) {
	chair := model.ChairMeasured{LengthMM: 1193, WidthMM: 623, Drive: "mid", AheadMM: 519, ClearanceMM: 20}
	door := model.PlaceMeasured{Kind: "door-off-corridor", WidthMM: 742, CorridorMM: 1321}
	g := passage.QuickCheckOf(&chair, &door)
	if text := say(g.Say); g.Verdict != passage.PlaceFits || text != "Turns on the spot with 48 mm on each side." {
		t.Errorf("%s, %q; the search finds 48 mm", g.Verdict, text)
	}
	chair.ClearanceMM = 50
	if g := passage.QuickCheckOf(&chair, &door); g.Verdict != passage.PlaceTight || strings.Contains(say(g.Say), "no room") {
		t.Errorf("%s, %q with 50 mm wanted", g.Verdict, say(g.Say))
	}
}

// TestLimitsOfTheChairBarAWay: over its slope, its step and a plate's load.
func TestLimitsOfTheChairBarAWay(t *testing.T) {
	chair := measured
	chair.SlopeDeg, chair.StepMM, chair.ChairKG, chair.PersonKG = 6, 40, 160, 80
	for name, c := range map[string]struct {
		place   model.PlaceMeasured
		verdict string
		barred  bool
	}{
		"steep":       {model.PlaceMeasured{Kind: "ramp", RiseMM: 200, RunMM: 1600, WidthMM: 900, LandingMM: 1500}, "does-not-fit", true},
		"kept":        {model.PlaceMeasured{Kind: "ramp", RiseMM: 100, RunMM: 1500, WidthMM: 900, LandingMM: 1500}, "fits", false},
		"narrow":      {model.PlaceMeasured{Kind: "ramp", RiseMM: 100, RunMM: 1500, WidthMM: 640, LandingMM: 1500}, "does-not-fit", false},
		"high":        {model.PlaceMeasured{Kind: "threshold", HeightMM: 41}, "does-not-fit", true},
		"at its step": {model.PlaceMeasured{Kind: "threshold", HeightMM: 40}, "tight", false},
		"heavy":       {model.PlaceMeasured{Kind: "load", LimitKG: 239}, "does-not-fit", true},
		"carried":     {model.PlaceMeasured{Kind: "load", LimitKG: 240}, "fits", false},
		"too narrow":  {model.PlaceMeasured{Kind: "door", WidthMM: 590}, "does-not-fit", false},
	} {
		if g := passage.QuickCheckOf(&chair, &c.place); g.Verdict != c.verdict || g.Barred != c.barred {
			t.Errorf("%s: %s, barred %v, %q; want %s, %v", name, g.Verdict, g.Barred, say(g.Say), c.verdict, c.barred)
		}
	}
}

// TestAQuickCheckIsNeverBetterThanThePlan: closed forms promise nothing that the
// search does not find, and refuse nothing that it does.
func TestAQuickCheckIsNeverBetterThanThePlan(t *testing.T) {
	order := map[string]int{passage.PlaceFits: 0, passage.Feasible: 0, passage.PlaceTight: 1, passage.Marginal: 1, passage.PlaceNoFit: 2, passage.NotFeasible: 2}
	rnd := rand.New(rand.NewPCG(3, 7))
	between := func(low, high int) float64 { return float64(low + rnd.IntN(high-low)) }
	drives := []string{"front", "mid", "rear"}
	for range 25 {
		r := model.ChairMeasured{LengthMM: between(900, 1300), WidthMM: between(550, 750), Drive: drives[rnd.IntN(3)], ClearanceMM: 30}
		for _, p := range []model.PlaceMeasured{
			{Kind: "door", WidthMM: between(500, 1000)}, {Kind: "corridor", CorridorMM: between(500, 1200)},
			{Kind: "corner", CorridorMM: between(600, 1500), Corridor2MM: between(600, 1500)},
			{Kind: "door-off-corridor", WidthMM: between(600, 1000), CorridorMM: between(700, 1900)},
			{Kind: "turn-on-spot", WidthMM: between(900, 2000)}, {Kind: "half-turn", CorridorMM: between(900, 2200)},
		} {
			g, full := passage.QuickCheckOf(&r, &p), must[*passage.Result](t)(passage.Draw(&r, &p))
			if order[g.Verdict] < order[full.Verdict] || (g.Verdict == passage.PlaceNoFit) != (full.Verdict == passage.NotFeasible) {
				t.Errorf("%+v in %+v: by quick check %s (%s), by search %s (%s)", r, p, g.Verdict, say(g.Say), full.Verdict, say(full.Say))
			}
			if !hasWords("field", full.NeedsOf) {
				t.Errorf("%s: %q has no words", p.Kind, full.NeedsOf)
			}
			if apart := g.LeftMM - full.LeftMM; p.Kind != "half-turn" && g.LeftMM >= 0 && (apart > 1 || apart < -1) {
				t.Errorf("%+v in %+v: %v mm left by quick check, %v by search", r, p, g.LeftMM, full.LeftMM)
			}
		}
	}
}

func TestANarrowerPlaceNeverGains(t *testing.T) {
	order := map[string]int{passage.PlaceFits: 0, passage.PlaceTight: 1, passage.PlaceNoFit: 2}
	for _, kind := range []string{"door", "corridor", "corner", "door-off-corridor", "turn-on-spot", "half-turn", "three-point"} {
		before := &passage.QuickCheck{Verdict: passage.PlaceFits, LeftMM: 1e6}
		for size := 2000.0; size > 500; size -= 7 {
			g := passage.QuickCheckOf(&measured, &model.PlaceMeasured{Kind: kind, WidthMM: size, CorridorMM: size, Corridor2MM: size})
			if order[g.Verdict] < order[before.Verdict] || g.LeftMM > before.LeftMM {
				t.Errorf("%s of %v mm: %s with %v mm, wider it was %s with %v", kind, size, g.Verdict, g.LeftMM, before.Verdict, before.LeftMM)
			}
			before = g
		}
	}
}

func BenchmarkQuickCheck(b *testing.B) {
	for b.Loop() {
		passage.QuickCheckOf(&measured, &model.PlaceMeasured{Kind: "corner", CorridorMM: 900, Corridor2MM: 900})
	}
}
