package passage_test

import (
	"slices"
	"strings"
	"testing"

	"doorsill/internal/engine/passage"
	"doorsill/internal/model"
)

// TestWhatEachPlaceNeeds: of a place without measures, and without those of the
// chair.
func TestWhatEachPlaceNeeds(t *testing.T) {
	for kind, want := range map[string]struct{ place, chair string }{
		"door":              {"door-clear", "chair-length chair-width"},
		"door-off-corridor": {"door-clear corridor-width", "chair-length chair-width"},
		"corner":            {"corridor-in corridor-out", "chair-length chair-width"},
		"turn-on-spot":      {"floor-width", "chair-length chair-width"},
		"corridor":          {"corridor-width", "chair-length chair-width"},
		"half-turn":         {"corridor-width", "chair-length chair-width"},
		"three-point":       {"corridor-width", "chair-length chair-width"},
		"ramp":              {"rise run", ""},
		"threshold":         {"threshold-height", ""},
		"load":              {"", "chair-mass person-mass"},
	} {
		lacks := func(chair model.ChairMeasured, place model.PlaceMeasured) string {
			g := passage.QuickCheckOf(&chair, &place)
			arg := g.Say.Arg("lacks")
			if g.Say.Code != "passage.lacks" || arg == nil {
				return ""
			}
			if g.Verdict != passage.PlaceUnknown || g.HasLeft || g.Barred {
				t.Errorf("%s: %+v", kind, g)
			}
			return strings.Join(arg.Words, " ")
		}
		chair := measured
		chair.ChairKG, chair.PersonKG = 160, 80
		if got := lacks(chair, model.PlaceMeasured{Kind: kind}); got != want.place {
			t.Errorf("%s without measures lacks %q, want %q", kind, got, want.place)
		}
		full := model.PlaceMeasured{Kind: kind, WidthMM: 900, CorridorMM: 1500, Corridor2MM: 1500, RiseMM: 100, RunMM: 1500, HeightMM: 10}
		if got := lacks(model.ChairMeasured{}, full); got != want.chair {
			t.Errorf("%s without a chair lacks %q, want %q", kind, got, want.chair)
		}
	}
	small := measured
	small.LengthMM = 399
	if g := passage.QuickCheckOf(&small, &model.PlaceMeasured{Kind: "door", WidthMM: 800}); g.Verdict != passage.PlaceUnknown || !strings.Contains(g.Say.String(), "field=chair-length") {
		t.Errorf("a chair of 399 mm: %s, %s", g.Verdict, g.Say.String())
	}
	// 1 in 12.68, of which a chair that cannot be is told 12.7.
	if g := passage.QuickCheckOf(&small, &model.PlaceMeasured{Kind: "ramp", RiseMM: 100, RunMM: 1268}); g.Verdict != passage.PlaceUnknown || g.Say.Code != "passage.refused-chair-on-slope" || g.Say.Arg("run").Number.Text() != "12.7" {
		t.Errorf("a chair of 399 mm on a ramp: %s, %s", g.Verdict, g.Say.String())
	}
}

// TestWhatStandsBesideAPlace of a building standard: what was measured, and of both
// landings the one measure once.
func TestWhatStandsBesideAPlace(t *testing.T) {
	chair := measured
	chair.ChairKG, chair.PersonKG = 160, 80
	for _, c := range []struct {
		place model.PlaceMeasured
		want  []string
	}{
		{model.PlaceMeasured{Kind: "door", WidthMM: 800}, []string{"door-clear"}},
		{model.PlaceMeasured{Kind: "corridor", CorridorMM: 800}, []string{"route-width"}},
		{model.PlaceMeasured{Kind: "threshold", HeightMM: 10}, []string{"level-change", "door-threshold"}},
		{model.PlaceMeasured{Kind: "ramp", RiseMM: 100, RunMM: 1500}, []string{"ramp-slope", "ramp-rise"}},
		{model.PlaceMeasured{Kind: "ramp", RiseMM: 100, RunMM: 1500, WidthMM: 900, LandingMM: 1500}, []string{"ramp-slope", "ramp-rise", "ramp-width", "landing-length"}},
		{model.PlaceMeasured{Kind: "load", LimitKG: 300}, nil},
	} {
		g := passage.QuickCheckOf(&chair, &c.place)
		var got []string
		if all := g.Reference.Arg("all"); all != nil {
			for i := range all.Messages {
				got = append(got, all.Messages[i].Arg("figure").Word)
			}
		}
		if !slices.Equal(got, c.want) || g.Reference.Empty() != (c.want == nil) {
			t.Errorf("%+v: beside it stand %q, want %q", c.place, got, c.want)
		}
	}
}

// TestWhatIsSaidOfARamp by hand, with as many places as tell a slope from its marks
// and from the chair's limit.
func TestWhatIsSaidOfARamp(t *testing.T) {
	i := must[*passage.Incline](t)(passage.InclineOf(97, 1234))
	if i.OneIn != 12.72 || i.Percent != 7.861 || i.Degrees != 4.495 { // 12.72165, 7.86062 and 4.49456
		t.Errorf("%+v", i)
	}
	c := chair(t)
	for _, one := range []struct {
		run, limit float64
		places     string
	}{
		{1500, 8, "1"}, {1206, 8, "1"}, {1204, 8, "2"}, {1196, 8, "2"}, {950, 8, "1"}, {997, 8, "2"}, {797, 8, "2"}, {750, 8, "1"},
		// 1 in 12 is 4.764 degrees, 1 in 9.5 6.009.
		{1200, 4.77, "1"}, {1200, 4.75, "2"}, {950, 6.01, "1"}, {950, 6, "2"}, {950, 5, "1"},
	} {
		s := must[*passage.Slope](t)(c.RampFor(passage.Ramp{RiseMM: 100, RunMM: one.run, WidthMM: 900, LandingTopMM: 1500, LandingBottomMM: 1500, ChairLimitDegrees: one.limit}))
		if got := s.Say.Arg("places").Number.Text(); got != one.places {
			t.Errorf("1 in %v with a limit of %v: %s places, want %s", one.run/100, one.limit, got, one.places)
		}
	}
	for _, one := range []struct {
		ramp    passage.Ramp
		verdict string
		more    string
	}{
		{passage.Ramp{WidthMM: 900, LandingTopMM: 1500, LandingBottomMM: 1100}, passage.Marginal, "passage.ramp-smaller-than-chair what=landing-bottom has=1100 chair=1150 places=0"},
		{passage.Ramp{WidthMM: 900, LandingTopMM: 1149.7, LandingBottomMM: 1500}, passage.Marginal, "passage.ramp-smaller-than-chair what=landing-top has=1149.7 chair=1150 places=1"},
		{passage.Ramp{WidthMM: 640, LandingTopMM: 1500, LandingBottomMM: 1500}, passage.NotFeasible, "passage.ramp-smaller-than-chair what=width has=640 chair=650 places=0"},
		{passage.Ramp{WidthMM: 900, LandingTopMM: 1500, LandingBottomMM: none}, passage.Unknown, "passage.ramp-unmeasured what=landing-bottom"},
	} {
		one.ramp.RiseMM, one.ramp.RunMM, one.ramp.ChairLimitDegrees = 100, 1500, 8
		s := must[*passage.Slope](t)(c.RampFor(one.ramp))
		more := s.Say.Arg("more").Messages
		if s.Verdict != one.verdict || len(more) != 2 || more[0].String() != "passage.slope-limit-kept limit=8" || more[1].String() != one.more {
			t.Errorf("%+v: %s, %s", one.ramp, s.Verdict, s.Say.String())
		}
	}
}

// TestWhichFiguresAreAtMost: steps, reaching up and the rise of a ramp. All others
// are the least, or the steepest slope, which is the least run. Each is met by itself.
func TestWhichFiguresAreAtMost(t *testing.T) {
	atMost := strings.Fields("level-change level-change-bevelled reach-high door-threshold ramp-rise handrail-rise")
	for _, id := range figures() {
		r := must[passage.Compared](t)(passage.Compare(id, none))
		if r.Yours != 0 || r.Measured || r.Meets {
			t.Errorf("%s, not measured: %+v", id, r)
		}
		for share, want := range map[float64]bool{0.9: slices.Contains(atMost, id), 1: true, 1.1: !slices.Contains(atMost, id)} {
			if got := must[passage.Compared](t)(passage.Compare(id, share*r.Value)); got.Meets != want || got.Yours != share*r.Value || !got.Measured {
				t.Errorf("%v of %s: %+v", share, id, got)
			}
		}
	}
}
