package strength_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/strength"
)

// at puts readings at another site.
func at(other string, list []strength.Reading) []strength.Reading {
	for i := range list {
		list[i].Site = other
	}
	return list
}

// travel are readings of the way in a direction.
func travel(d strength.Direction, tired bool, values ...float64) []strength.Reading {
	list := force(d, tired, true, values...)
	for i := range list {
		list[i].What = strength.Travel
	}
	return list
}

// lines are the quantities of an analysis, a line each.
func lines(a *strength.Analysis, s *strength.Setup) []string {
	var list []string
	origins := map[quantity.Origin]string{quantity.Missing: "missing", quantity.Measured: "measured", quantity.Assumed: "assumed", quantity.NotAsked: "not asked"}
	a.Quantities(s, func(q *quantity.Quantity) {
		list = append(list, strings.Join(strings.Fields(fmt.Sprint(q.Name, " ", q.Site, " ", q.Direction, " ", q.Value.Text(), " ", q.Unit, " ", origins[q.Origin])), " "))
	})
	return list
}

// TestAllQuantitiesOfAVisit by hand. Forward 90, 100 and 110 rested and twice 80
// tired; left once 60 rested; for a control of 20 gf. By Student's t with two
// degrees of freedom the interval of the mean is 100 ∓ 4.302653 · 10/√3, the lower
// bound 100 − 2.919986 · 10/√3.
func TestAllQuantitiesOfAVisit(t *testing.T) {
	readings := joined(force(strength.Forward, false, true, 90, 100, 110), force(strength.Forward, true, true, 80, 80), force(strength.Left, false, true, 60),
		travel(strength.Forward, false, 5, 7), travel(strength.Forward, true, 4), only(strength.Hold, 30), at("knee-left", only(strength.SwitchForce, 300)))
	s := setup(20)
	s.Needed, s.SwitchPressGF = []strength.Direction{strength.Forward, strength.Left}, 70
	s.TravelMM, s.Throw[strength.Forward] = 5, 80
	a := strength.Analyse(readings, s)
	want := []string{
		"count-rested index-right forward 3 readings measured",
		"mean-rested index-right forward 100 gf measured",
		"sd-rested index-right forward 10 gf measured",
		"low-rested index-right forward 75.158623 gf measured",
		"high-rested index-right forward 124.841377 gf measured",
		"lower-rested index-right forward 83.141455 gf measured",
		"spread-rested index-right forward 20 % measured",
		"cv-rested index-right forward 10 % measured",
		"count-tired index-right forward 2 readings measured",
		"mean-tired index-right forward 80 gf measured",
		"sd-tired index-right forward 0 gf measured",
		"low-tired index-right forward 80 gf measured",
		"high-tired index-right forward 80 gf measured",
		"lower-tired index-right forward 80 gf measured",
		"spread-tired index-right forward 0 % measured",
		"cv-tired index-right forward 0 % measured",
		"usable index-right forward 80 gf measured",
		"reserve-direction index-right forward 4 ratio measured",
		"travel index-right forward 4 mm measured",
		"travel-reserve-direction index-right forward 1 ratio measured",
		"count-rested index-right left 1 readings measured",
		"mean-rested index-right left 60 gf measured",
		"usable index-right left 42 gf assumed",
		"reserve-direction index-right left 2.1 ratio assumed",
		"switch-usable knee-left 210 gf assumed",
		"reserve index-right left 2.1 ratio assumed",
		"reserve-bound index-right left 0 ratio missing",
		"travel-reserve index-right 0 ratio missing",
		"weakest-spread index-right forward 20 % measured",
		"tired-ratio index-right forward 0.8 ratio measured",
		"hold index-right 30 s measured",
		"release index-right 0 s missing",
		"noise index-right 0 ratio missing",
		"switch-reserve knee-left 3 ratio assumed",
	}
	if got := lines(&a, s); !slices.Equal(got, want) {
		t.Errorf("the quantities are\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	// Without a set-up what was measured stays, and the rest is missing.
	a = strength.Analyse(readings, nil)
	var bare []string
	for _, line := range want {
		if strings.HasPrefix(line, "reserve-direction") || strings.HasPrefix(line, "travel-reserve-direction") {
			continue
		}
		if bare = append(bare, line); strings.HasPrefix(line, "switch-usable") {
			break
		}
	}
	for _, name := range []string{"reserve", "reserve-bound", "travel-reserve", "weakest-spread", "tired-ratio", "hold", "release", "noise", "switch-reserve"} {
		bare = append(bare, name+" 0 missing")
	}
	if got := lines(&a, nil); !slices.Equal(got, bare) {
		t.Errorf("without a set-up\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(bare, "\n"))
	}
	for _, q := range []quantity.Quantity{a.Reserve, a.Bound, a.Travel, a.Spread, a.Tired, a.Hold, a.Release, a.Noise, a.Switch} {
		if q.Say.Code != "strength.no-control" {
			t.Errorf("%s without a set-up: %s", q.Name, q.Say.String())
		}
	}
	// At another site than the set-up's nothing is held against the control.
	elsewhere := *s
	elsewhere.Site = "chin"
	a = strength.Analyse(readings, &elsewhere)
	for _, line := range lines(&a, &elsewhere) {
		if strings.Contains(line, "-direction") {
			t.Errorf("for the chin: %s", line)
		}
	}
	// Nor where it asks nothing.
	elsewhere = *s
	elsewhere.OperateGF, elsewhere.TravelMM = 0, 0
	a = strength.Analyse(readings, &elsewhere)
	for _, line := range lines(&a, &elsewhere) {
		if strings.Contains(line, "-direction") {
			t.Errorf("for a control that asks nothing: %s", line)
		}
	}
}

// TestWhatIsShownOfSwitches: each that was measured, by its own name; both apart
// once one is told from the other; what is counted, of controls that have it.
func TestWhatIsShownOfSwitches(t *testing.T) {
	s := pressing(100, 0, 0)
	a := strength.Analyse(joined(press(strength.PowerForce, "thumb-left", 400), press(strength.ModeForce, "thumb-left", 350), press(strength.StopForce, "thumb-left", 300)), s)
	got := lines(&a, s)
	for _, want := range []string{"switch-usable-power thumb-left press 400 gf measured", "switch-usable-mode thumb-left press 350 gf measured", "switch-usable-stop thumb-left press 300 gf measured",
		"switch-reserve thumb-left press 3.5 ratio measured", "switch-reserve-power thumb-left press 4 ratio measured", "switch-reserve-mode thumb-left press 3.5 ratio measured", "switch-reserve-stop 0 ratio missing"} {
		if !slices.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, strings.Join(got, "\n"))
		}
	}
	a = strength.Analyse(press(strength.SwitchForce, "thumb-left", 400), s)
	for _, line := range lines(&a, s) {
		if strings.HasPrefix(line, "switch-reserve-") || strings.HasPrefix(line, "command-hits") || strings.HasPrefix(line, "breath") {
			t.Errorf("of one force for both: %s", line)
		}
	}
	breath := switchedSetup("breath")
	a = strength.Analyse(nil, breath)
	if got := strings.Join(lines(&a, breath), "\n"); !strings.Contains(got, "command-hits index-right 0 % missing\nunasked index-right 0 per-10-min missing\ncommand-steps index-right 0 steps missing\nbreath-reserve index-right 0 ratio missing") {
		t.Errorf("of a breath control\n%s", got)
	}
}

// TestNotesOfAVisit: too few, odd and scattered readings, rested and tired, at the
// chosen site and wherever switches alone were measured; with and without support.
func TestNotesOfAVisit(t *testing.T) {
	unsupported := force(strength.Left, false, false, 50, 50, 50)
	s := setup(10)
	for _, c := range []struct {
		name     string
		readings []strength.Reading
		setup    *strength.Setup
		want     []string
	}{
		{"steady", pulls(site, "80"), s, nil},
		{"20 % of spread", force(strength.Left, false, true, 90, 100, 110), nil, nil},
		{"a little more", force(strength.Left, false, true, 89.9, 100, 110.1), nil, []string{"strength.scattered left rested limit=20"}},
		{"30 % where weak", force(strength.Left, true, true, 34, 40, 46), nil, []string{}},
		{"more than 30 % where weak", force(strength.Left, true, true, 33.9, 40, 46.1), nil, []string{"strength.scattered left tired limit=30"}},
		{"too few", force(strength.Left, true, true, 80, 80), nil, []string{"strength.too-few left tired"}},
		{"odd", force(strength.Right, true, true, 80, 80, 161), nil, []string{"strength.odd-reading right tired", "strength.scattered right tired limit=20"}},
		{"odd rested", force(strength.Right, false, true, 80, 80, 39), nil, []string{"strength.odd-reading right rested", "strength.scattered right rested limit=20"}},
		{"too few to press", force(strength.Press, true, true, 80, 80), nil, []string{"strength.too-few press tired"}},
		{"too few of no direction", force(strength.NoDirection, false, true, 80, 80), nil, []string{"strength.too-few  rested"}},
		{"with another control", with("small", "Blue", only(strength.Unasked, 1)), s, []string{"strength.other-control index-right n=1"}},
		{"with another control elsewhere", at("chin", joined(only(strength.SwitchForce, 80), with("small", "Blue", only(strength.Hold, 80)))), s, nil},
		{"another site", at("chin", force(strength.Left, true, true, 80, 80)), s, nil},
		{"of a switch elsewhere", at("chin", only(strength.SwitchForce, 80)), s, nil},
		{"of a switch elsewhere without support", at("chin", []strength.Reading{{What: strength.PowerForce, Value: 80}, {What: strength.PowerForce, Value: 80, Supported: true}}), s,
			[]string{"strength.unsupported-apart chin n=1"}},
		{"of a switch alone", at("chin", []strength.Reading{{What: strength.SwitchForce, Value: 80}}), s, []string{"strength.unsupported-only chin"}},
		{"of the stop switch", at("chin", []strength.Reading{{What: strength.StopForce, Value: 80}}), s, []string{"strength.unsupported-only chin"}},
		{"where no force was measured", at("chin", []strength.Reading{{What: strength.Travel, Value: 8}}), s, nil},
		{"of a mode switch", at("chin", []strength.Reading{{What: strength.ModeForce, Value: 80}}), s, []string{"strength.unsupported-only chin"}},
		{"where force was measured too", at("chin", []strength.Reading{{What: strength.ModeForce, Value: 80}, {What: strength.Force, Value: 80}}), s, nil},
		{"some without support", joined(unsupported, force(strength.Left, false, true, 60, 60, 60)), nil, []string{"strength.unsupported-apart index-right n=3"}},
		{"all without support", unsupported, nil, []string{"strength.unsupported-only index-right"}},
		{"support of other readings", joined(unsupported, travel(strength.Left, false, 3)), nil, []string{"strength.unsupported-only index-right"}},
	} {
		a := strength.Analyse(c.readings, c.setup)
		var got []string
		for i := range a.Notes {
			m := &a.Notes[i]
			if m.Code == "strength.tired-assumed" {
				continue
			}
			words := []string{m.Code}
			for _, name := range []string{"direction", "state"} {
				if arg := m.Arg(name); arg != nil {
					words = append(words, arg.Word)
				}
			}
			if arg := m.Arg("site"); arg != nil && len(words) == 1 {
				words = append(words, arg.Word)
			}
			for _, name := range []string{"limit", "n"} {
				if arg := m.Arg(name); arg != nil {
					words = append(words, name+"="+arg.Number.Text())
				}
			}
			got = append(got, strings.Join(words, " "))
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
	assumed := strength.Analyse(joined(force(strength.Forward, false, true, 80, 80, 80)), &strength.Setup{Class: "small", Site: site, OperateGF: 2.8, Needed: []strength.Direction{strength.Forward}})
	if got := said(assumed.Notes...); !strings.Contains(got, "No tired reading for forward: 0.7 of the rested force is assumed") || strings.Contains(got, "more sensitive") {
		t.Errorf("%q", got)
	}
}

// TestReserveAgainstAnotherControl is what an analysis for it says, and leaves the
// analysis as it is.
func TestReserveAgainstAnotherControl(t *testing.T) {
	readings := joined(pulls(site, "80"), force(strength.Left, true, true, 50, 50, 50), travel(strength.Forward, false, 6), travel(strength.Reverse, false, 6), travel(strength.Left, false, 6), travel(strength.Right, false, 4))
	a := strength.Analyse(readings, setup(10))
	before := a.Reserve
	other := setup(40)
	other.TravelMM = 2
	fresh, again := strength.Analyse(readings, other), a.For(other)
	reserve, bound, way := a.Compare(other)
	// 65 gf left tired, of 40; 4 mm of 2.
	if reserve.Value.Text() != "1.625" || reserve.Direction != "left" || way.Value.Text() != "2" || way.Direction != "right" {
		t.Errorf("reserve %s %s, travel %s %s", reserve.Value.Text(), reserve.Direction, way.Value.Text(), way.Direction)
	}
	for _, q := range [][3]*quantity.Quantity{{&reserve, &fresh.Reserve, &again.Reserve}, {&bound, &fresh.Bound, &again.Bound}, {&way, &fresh.Travel, &again.Travel}} {
		if q[0].Value != q[1].Value || q[0].Value != q[2].Value || q[0].Say.String() != q[1].Say.String() || q[0].Say.String() != q[2].Say.String() {
			t.Errorf("%s, fresh %s, again %s", q[0].Say.String(), q[1].Say.String(), q[2].Say.String())
		}
	}
	if a.Reserve.Value != before.Value || again.Notes != nil {
		t.Errorf("reserve %s, was %s; notes %v", a.Reserve.Value.Text(), before.Value.Text(), again.Notes)
	}
}

// TestTheWorstDirectionOfEach: spread, tired ratio and travel are each of the
// direction in which they are worst, of three readings or more.
func TestTheWorstDirectionOfEach(t *testing.T) {
	s := setup(10)
	s.Needed = []strength.Direction{strength.Forward, strength.Left, strength.Right}
	readings := joined(
		force(strength.Forward, false, true, 50, 50, 50), force(strength.Forward, true, true, 40, 40, 40),
		force(strength.Left, false, true, 90, 100, 110), force(strength.Left, true, true, 72, 80, 88, 80),
		force(strength.Right, false, true, 200, 200, 200), force(strength.Right, true, true, 50, 150),
		force(strength.Reverse, false, true, 10, 100, 300),
		travel(strength.Forward, false, 6), travel(strength.Left, false, 3.75), travel(strength.Right, false, 3.75))
	a := strength.Analyse(readings, s)
	if a.Spread.Value.Text() != "20" || a.Spread.Direction != "left" || a.Spread.Say.String() != "strength.spread direction=left least=90 most=110 spread=20" {
		t.Errorf("spread %s", a.Spread.Say.String())
	}
	if a.Tired.Value.Text() != "0.5" || a.Tired.Direction != "right" || a.Tired.Say.String() != "strength.tired-ratio direction=right tired=100 rested=200 ratio=0.5" {
		t.Errorf("tired %s", a.Tired.Say.String())
	}
	if a.Reserve.Value.Text() != "4" || a.Weakest != strength.Forward || a.Travel.Value.Text() != "1.25" || a.Travel.Direction != "left" {
		t.Errorf("reserve %s, travel %s", a.Reserve.Say.String(), a.Travel.Say.String())
	}
	readings = joined(readings, force(strength.Left, true, true, 112), force(strength.Right, true, true, 100))
	a = strength.Analyse(readings, s)
	if a.Spread.Value.Text() != "100" || a.Spread.Direction != "right" {
		t.Errorf("with three tired readings to the right: %s", a.Spread.Say.String())
	}
	// Without a reserve nothing is said of them, and of what asks no force they have no meaning.
	s.Needed = append(s.Needed, strength.Press)
	if a = strength.Analyse(readings, s); a.Spread.Has() || a.Spread.Say.Code != "strength.spread-needs" || a.Tired.Say.Code != "strength.tired-ratio-needs" {
		t.Errorf("without a reserve: %s, %s", a.Spread.Say.String(), a.Tired.Say.String())
	}
	if a.Reserve.Say.String() != "strength.no-force-reading site=index-right directions=press" || a.Travel.Say.String() != "strength.no-travel-reading site=index-right directions=press" || a.Travel.Direction != "" || a.Reserve.Direction != "" {
		t.Errorf("%s; %s", a.Reserve.Say.String(), a.Travel.Say.String())
	}
}

// TestTravelOfADirectionWithoutReadings can only be worse: a reserve below 1
// stands, from 1 on it is open.
func TestTravelOfADirectionWithoutReadings(t *testing.T) {
	s := setup(10)
	s.Needed, s.TravelMM = []strength.Direction{strength.Forward, strength.Left}, 4
	for way, known := range map[float64]bool{3.99999: true, 4: false} {
		if a := strength.Analyse(travel(strength.Forward, false, way), s); a.Travel.Has() != known {
			t.Errorf("%v of 4 mm without one direction: known %v, want %v", way, a.Travel.Has(), known)
		}
	}
	s.TravelMM = 0
	a := strength.Analyse(travel(strength.Forward, false, 4), s)
	if a.Travel.Origin != quantity.Missing || a.Travel.Say.Code != "strength.travel-not-entered" {
		t.Errorf("travel not entered: %s", a.Travel.Say.String())
	}
	s.Class = "force-sensing"
	if a = strength.Analyse(nil, s); a.Travel.Origin != quantity.NotAsked || a.Travel.Say.Code != "strength.no-travel-asked" {
		t.Errorf("no travel asked: %s", a.Travel.Say.String())
	}
	s.TravelMM, s.Needed = 4, []strength.Direction{strength.Forward}
	a = strength.Analyse(travel(strength.Forward, false, 4), s)
	if want := "strength.travel-reserve direction=forward usable=4 asked=4 reserve=1"; a.Travel.Say.String() != want {
		t.Errorf("%s, want %s", a.Travel.Say.String(), want)
	}
	s.Throw[strength.Forward] = 50
	a = strength.Analyse(travel(strength.Forward, false, 4), s)
	if want := "strength.travel-reserve-throw direction=forward usable=4 asked=2 throw=50 travel=4 reserve=2"; a.Travel.Say.String() != want {
		t.Errorf("%s, want %s", a.Travel.Say.String(), want)
	}
}

// TestTheBoundOfAReserve is of the direction in which it is smallest, and open
// while one has fewer than two readings.
func TestTheBoundOfAReserve(t *testing.T) {
	s := setup(10)
	s.Needed = []strength.Direction{strength.Forward, strength.Left}
	readings := joined(force(strength.Forward, false, true, 90, 100, 110), force(strength.Forward, true, true, 100, 100), force(strength.Left, false, true, 95, 95, 95), force(strength.Left, true, true, 95))
	a := strength.Analyse(readings, s)
	// 100 − 16.8585 and, with 5 % of the mean, 95 − 8.0078.
	if a.Bound.Origin != quantity.Measured || a.Bound.Value.Text() != "8.314146" || a.Bound.Direction != "forward" || !strings.HasPrefix(a.Bound.Say.String(), "strength.bound direction=forward lower=83.1414") {
		t.Errorf("%s: %s", a.Bound.Value.Text(), a.Bound.Say.String())
	}
	s.Needed = []strength.Direction{strength.Left, strength.Forward}
	if a = strength.Analyse(readings, s); a.Bound.Value.Text() != "8.314146" || a.Bound.Direction != "forward" {
		t.Errorf("the smaller last: %s", a.Bound.Say.String())
	}
	if a = strength.Analyse(pulls(site, "95"), s); a.Bound.Direction != "left" {
		t.Errorf("alike: %s, want the first", a.Bound.Say.String())
	}
	s.Needed = append(s.Needed, strength.Right)
	a = strength.Analyse(joined(readings, force(strength.Right, false, true, 500)), s)
	if a.Bound.Has() || a.Bound.Say.String() != "strength.bound-needs-in direction=right" || a.Bound.Direction != "right" {
		t.Errorf("one reading to the right: %s", a.Bound.Say.String())
	}
	s.Needed = nil
	if a = strength.Analyse(readings, s); a.Bound.Has() || a.Bound.Say.Code != "strength.bound-needs" {
		t.Errorf("no direction needed: %s", a.Bound.Say.String())
	}
	s.OperateGF = 0
	if a = strength.Analyse(readings, s); a.Bound.Origin != quantity.Missing || a.Bound.Say.Code != "strength.force-not-entered" {
		t.Errorf("no force entered: %s", a.Bound.Say.String())
	}
}

// TestEveryReadingThatIsWanted is named, for each direction in its order.
func TestEveryReadingThatIsWanted(t *testing.T) {
	s := setup(10)
	s.Needed = []strength.Direction{strength.Forward, strength.Left, strength.Right}
	for _, c := range []struct {
		name     string
		readings []strength.Reading
		want     []string
	}{
		{"nothing", nil, []string{"strength.wanted-rested direction=forward rested=3", "strength.wanted-rested direction=left rested=3", "strength.wanted-rested direction=right rested=3"}},
		{"weakest tired and weakest rested differ", joined(
			force(strength.Forward, false, true, 90, 90, 90), force(strength.Left, false, true, 100, 100, 100), force(strength.Left, true, true, 20), force(strength.Right, false, true, 95)),
			[]string{"strength.wanted-tired direction=forward tired=2", "strength.wanted-tired direction=left tired=1", "strength.wanted-rested direction=right rested=2"}},
		{"one rested where it is weakest", joined(force(strength.Forward, false, true, 50), force(strength.Left, false, true, 100, 100, 100), force(strength.Left, true, true, 20, 20), force(strength.Right, false, true, 200, 200, 200)),
			[]string{"strength.wanted-both direction=forward rested=2 tired=2"}},
		{"few of the weakest", joined(force(strength.Forward, false, true, 90, 90, 90), force(strength.Left, false, true, 10, 10), force(strength.Right, false, true, 95, 95, 95)),
			[]string{"strength.wanted-both direction=left rested=1 tired=2"}},
		{"tired alone", joined(force(strength.Forward, true, true, 5, 5), force(strength.Left, false, true, 100, 100, 100), force(strength.Left, true, true, 50, 50), force(strength.Right, false, true, 200, 200, 200, 200)),
			[]string{"strength.wanted-rested direction=forward rested=3"}},
		{"alike: the first", joined(force(strength.Forward, false, true, 90, 90, 90), force(strength.Left, false, true, 90, 90, 90), force(strength.Right, false, true, 90, 90, 90)),
			[]string{"strength.wanted-tired direction=forward tired=2"}},
	} {
		a := strength.Analyse(c.readings, s)
		var got []string
		for _, w := range a.Evidence(s) {
			m := w.Say()
			got = append(got, m.String())
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
	a := strength.Analyse(nil, s)
	if a.Evidence(nil) != nil || a.Evidence(setup(0)) != nil {
		t.Error("readings are wanted for a control that asks no force")
	}
}

// TestOddDirections are the needed ones in which a reading lies far off.
func TestOddDirections(t *testing.T) {
	a := strength.Analyse(joined(force(strength.Press, false, true, 10, 100), force(strength.Forward, false, true, 50, 50, 101), force(strength.Left, true, true, 50, 50, 24), force(strength.Right, true, true, 50, 50, 25), force(strength.Reverse, true, true, 50, 50, 500)), nil)
	needed := []strength.Direction{strength.Right, strength.Left, strength.Press, strength.Forward}
	if got := a.At(site).Odd(needed); !slices.Equal(got, []strength.Direction{strength.Left, strength.Forward}) {
		t.Errorf("odd are %v", got)
	}
	if !a.At(site).HasForce() || a.At("chin").HasForce() || a.At("chin").ID != "chin" {
		t.Error("force is known at the chin, or not at the finger")
	}
}

// TestSitesAreInTheOrderOfReadings, each once.
func TestSitesAreInTheOrderOfReadings(t *testing.T) {
	a := strength.Analyse(joined(at("chin", only(strength.Force, 5)), at("lip", only(strength.Force, 6, 7)), at("chin", only(strength.Force, 9)), at("hand-left", only(strength.Hold, 1)), at("lip", only(strength.Force, 8))), nil)
	var got []string
	for i := range a.Sites {
		got = append(got, fmt.Sprint(a.Sites[i].ID, " ", a.Sites[i].Force[strength.NoDirection].Rested.N))
	}
	if want := []string{"chin 2", "lip 3", "hand-left 0"}; !slices.Equal(got, want) {
		t.Errorf("sites are %q, want %q", got, want)
	}
}
