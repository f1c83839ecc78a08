package strength_test

import (
	"slices"
	"strings"
	"testing"

	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/strength"
)

// TestWhatASeriesSays: the mean with the decimals of its gauge, of what is not meant
// the largest.
func TestWhatASeriesSays(t *testing.T) {
	for _, c := range []struct {
		what   strength.What
		unit   string
		values []float64
		want   string
	}{
		{strength.Force, "gf", nil, "strength.not-measured"},
		{strength.Force, "gf", []float64{64}, "strength.one-reading mean=64 unit=gf places=1"},
		{strength.Force, "N", []float64{0.5}, "strength.one-reading mean=0.5 unit=N places=2"},
		{strength.Force, "ozf", []float64{2}, "strength.one-reading mean=2 unit=ozf places=2"},
		{strength.Force, "lbf", []float64{0.125}, "strength.one-reading mean=0.125 unit=lbf places=3"},
		{strength.Travel, "mm", []float64{30}, "strength.travel-once mean=30 unit=mm places=1"},
		{strength.Travel, "mm", []float64{30, 34}, "strength.travel-mean n=2 mean=32 unit=mm places=1"},
		{strength.Breath, "kPa", []float64{2, 3}, "strength.travel-mean n=2 mean=2.5 unit=kPa places=1"},
		{strength.Unintended, "gf", []float64{4, 30}, "strength.largest n=2 most=30 unit=gf places=1"},
	} {
		s, err := strength.StatusOf(c.what, c.unit, c.values)
		if err != nil || s.Say.String() != c.want {
			t.Errorf("%v in %s: %s (%v), want %s", c.values, c.unit, s.Say.String(), err, c.want)
		}
	}
}

// TestDecimalsOfADrawing: a figure of one digit needs one more to be told from the next.
func TestDecimalsOfADrawing(t *testing.T) {
	for _, c := range []struct {
		unit  string
		value float64
		want  int
	}{
		{"gf", 9.9, 1}, {"gf", 10, 0}, {"gf", 10.5, 0}, {"gf", 250, 0}, {"mm", 3, 1}, {"mm", 10, 0}, {"mm", 28, 0}, {"N", 2, 2}, {"N", 20, 2}, {"ozf", 20, 2}, {"lbf", 20, 3},
	} {
		if got := strength.DrawnPlaces(c.unit, c.value); got != c.want {
			t.Errorf("%v %s has %d decimals, want %d", c.value, c.unit, got, c.want)
		}
	}
}

// TestReadingsFarApart: more than 20 % of the mean, 30 % below 50 gf (TRADE.md 2.4).
func TestReadingsFarApart(t *testing.T) {
	for _, c := range []struct {
		values []float64
		apart  bool
	}{
		{[]float64{45, 50, 55}, false}, {[]float64{44.9, 50, 55.1}, true}, {[]float64{34, 40, 46}, false}, {[]float64{33.9, 40, 46.1}, true},
		{[]float64{43, 49, 55}, false}, {[]float64{60}, false}, {[]float64{0, 0, 0}, false},
	} {
		r := repeats(c.values...)
		if got := r.Apart(); got != c.apart {
			t.Errorf("%v lie far apart: %v, want %v", c.values, got, c.apart)
		}
	}
}

// TestWhatAReserveOfASwitchSays: of which switch, at which site, against which force;
// one that stands for both says so.
func TestWhatAReserveOfASwitchSays(t *testing.T) {
	both, power, mode := strength.SwitchForce, strength.PowerForce, strength.ModeForce
	rested := press(power, "thumb-left", 500)[2:]
	for _, c := range []struct {
		name     string
		setup    *strength.Setup
		readings []strength.Reading
		want     string
	}{
		{"one force for both", pressing(100, 0, 0), press(both, "thumb-left", 300), "strength.one-switch-force reserve=[strength.switch-reserve site=thumb-left usable=300 switch=both asked=100 reserve=3]"},
		{"one force, not measured", pressing(100, 0, 0), nil, "strength.switch-not-measured switch=both"},
		{"no force", pressing(0, 0, 0), press(both, "thumb-left", 300), "strength.switch-not-entered switch=both"},
		{"of 1 gf", pressing(1, 0, 0), press(both, "thumb-left", 300), "strength.one-switch-force reserve=[strength.switch-reserve site=thumb-left usable=300 switch=both asked=1 reserve=300]"},
		{"rested alone", pressing(0, 100, 0), rested, "strength.switch-reserve-assumed site=thumb-left usable=350 factor=0.7 switch=power asked=100 reserve=3.5"},
		{"the weaker", pressing(100, 0, 0), joined(press(power, "thumb-left", 390), press(mode, "knee-left", 310)), "strength.switch-reserve site=knee-left usable=310 switch=mode asked=100 reserve=3.1"},
		{"alike: power", pressing(100, 0, 0), joined(press(power, "thumb-left", 300), press(mode, "knee-left", 300)), "strength.switch-reserve site=thumb-left usable=300 switch=power asked=100 reserve=3"},
		{"neither measured: the first", pressing(0, 100, 100), nil, "strength.switch-not-measured switch=power"},
		{"alike at two sites: the first", pressing(0, 100, 0), joined(press(power, "thumb-left", 300), press(power, "knee-left", 300)), "strength.switch-reserve site=thumb-left usable=300 switch=power asked=100 reserve=3"},
	} {
		if a := strength.Analyse(c.readings, c.setup); a.Switch.Say.String() != c.want {
			t.Errorf("%s: %s, want %s", c.name, a.Switch.Say.String(), c.want)
		}
	}
	a := strength.Analyse(press(strength.StopForce, "thumb-left", 300), nil)
	var q quantity.Quantity
	strength.SwitchReserve(&q, a.At("thumb-left"), strength.StopSwitch, strength.Press, 120)
	if q.Say.String() != "strength.switch-reserve site=thumb-left usable=300 switch=stop asked=120 reserve=2.5" || q.Name != "switch-reserve-stop" || q.Unit != "ratio" ||
		q.Value.Text() != "2.5" || q.Origin != quantity.Measured || q.Site != "thumb-left" || q.Direction != "press" {
		t.Errorf("the stop switch by itself: %+v, %s", q, q.Say.String())
	}
}

// TestTheForceOfASwitch is its own where it has one, of the stop switch only that.
func TestTheForceOfASwitch(t *testing.T) {
	s := pressing(100, 1, 0)
	for at, want := range map[int]float64{strength.BothSwitches: 100, strength.PowerSwitch: 1, strength.ModeSwitch: 100, strength.StopSwitch: 0} {
		if got := s.PressGF(at); got != want {
			t.Errorf("switch %d asks %v gf, want %v", at, got, want)
		}
	}
}

// TestWhatIsSaidOfWhatWasNotMeasured names each direction, and what was assumed.
func TestWhatIsSaidOfWhatWasNotMeasured(t *testing.T) {
	s := setup(10)
	s.Needed = []strength.Direction{strength.Forward, strength.Left}
	a := strength.Analyse(nil, s)
	if got := a.Reserve.Say.String() + "; " + a.Travel.Say.String(); got != "strength.no-force-reading site=index-right directions=forward,left; strength.no-travel-reading site=index-right directions=forward,left" {
		t.Errorf("nothing was measured: %s", got)
	}
	s.Needed = s.Needed[:1]
	a = strength.Analyse(force(strength.Forward, false, true, 50), s)
	if got, want := a.Reserve.Say.String(), "strength.reserve-assumed direction=forward rested=50 factor=0.7 usable=35 asked=10 reserve=3.5 word=workable"; got != want {
		t.Errorf("rested alone: %s, want %s", got, want)
	}
	says := map[string]string{}
	a.Quantities(s, func(q *quantity.Quantity) { says[q.Name] = q.Say.String() })
	for name, want := range map[string]string{"count-rested": "", "mean-rested": "strength.mean direction=forward state=rested repeats=[strength.one-reading mean=50 unit=gf places=1]",
		"usable": "strength.usable-assumed factor=0.7"} {
		if says[name] != want {
			t.Errorf("%s says %q, want %q", name, says[name], want)
		}
	}
}

// TestQuantitiesOfFewReadings: an interval that goes below nothing is left out, what did not
// come has no spread, and a control of 1 gf and 1 mm has reserves as any other. By
// Student's t with one degree of freedom the interval of 2 and 9 gf is 5.5 ∓ 12.706205 · 3.5.
func TestQuantitiesOfFewReadings(t *testing.T) {
	s := setup(1)
	s.TravelMM, s.Needed = 1, []strength.Direction{strength.Forward, strength.Left}
	a := strength.Analyse(joined(force(strength.Forward, true, true, 2, 9), force(strength.Left, false, true, 0, 0, 0), travel(strength.Forward, true, 4)), s)
	want := []string{
		"count-tired index-right forward 2 readings measured", "mean-tired index-right forward 5.5 gf measured", "sd-tired index-right forward 4.949747 gf measured",
		"spread-tired index-right forward 127.272727 % measured", "cv-tired index-right forward 89.995409 % measured",
		"usable index-right forward 5.5 gf measured", "reserve-direction index-right forward 5.5 ratio measured",
		"travel index-right forward 4 mm measured", "travel-reserve-direction index-right forward 4 ratio measured",
		"count-rested index-right left 3 readings measured", "mean-rested index-right left 0 gf measured", "sd-rested index-right left 0 gf measured",
		"low-rested index-right left 0 gf measured", "high-rested index-right left 0 gf measured", "lower-rested index-right left 0 gf measured",
		"usable index-right left 0 gf assumed", "reserve-direction index-right left 0 ratio assumed",
	}
	if got := lines(&a, s)[:len(want)]; !slices.Equal(got, want) {
		t.Errorf("the quantities are\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// TestTheSmallerTravelCounts, rested or tired; without one of them the other does.
func TestTheSmallerTravelCounts(t *testing.T) {
	for _, c := range []struct {
		name     string
		readings []strength.Reading
		want     string
	}{
		{"rested alone", travel(strength.Left, false, 5, 7), "6"},
		{"tired alone", travel(strength.Left, true, 5, 7), "6"},
		{"less tired", joined(travel(strength.Left, false, 6), travel(strength.Left, true, 5)), "5"},
		{"less rested", joined(travel(strength.Left, false, 4), travel(strength.Left, true, 5)), "4"},
		{"nothing rested", joined(travel(strength.Left, false, 0), travel(strength.Left, true, 5)), "0"},
	} {
		s := setup(10)
		s.TravelMM, s.Needed = 1, []strength.Direction{strength.Left}
		if a := strength.Analyse(c.readings, s); a.Travel.Origin != quantity.Measured || a.Travel.Value.Text() != c.want {
			t.Errorf("%s: %s mm (%v), want %s", c.name, a.Travel.Value.Text(), a.Travel.Origin, c.want)
		}
	}
}

// TestSupportIsOfASiteAndAKind: support at one site says nothing of another, and a
// direction that was read without it alone is not measured.
func TestSupportIsOfASiteAndAKind(t *testing.T) {
	a := strength.Analyse(joined(force(strength.Left, false, true, 80, 80, 80), force(strength.Press, false, false, 10, 90, 10),
		at("chin", force(strength.Left, false, false, 30, 30, 30))), nil)
	if pair := a.At(site).Force[strength.Press]; pair.Measured() || pair.RestedOdd {
		t.Errorf("read without support alone: %+v", pair)
	}
	if got := a.At("chin").Force[strength.Left].Rested.Mean; got != 30 {
		t.Errorf("at the chin, beside a finger with support: mean %v gf, want 30", got)
	}
}

// TestAReserveBeyondEveryNumber is never the worst: a control that asks next to
// nothing is held against the other directions, sites and switches.
func TestAReserveBeyondEveryNumber(t *testing.T) {
	s := setup(1e-10)
	s.TravelMM, s.Needed = 1e-10, []strength.Direction{strength.Forward, strength.Left}
	s.OwnPressGF[strength.PowerSwitch] = 1e-10
	a := strength.Analyse(joined(force(strength.Forward, true, true, 5000, 5000, 5000), force(strength.Left, true, true, 50, 50, 50),
		travel(strength.Forward, true, 150), travel(strength.Left, true, 50), press(strength.PowerForce, "thumb-left", 5000), press(strength.PowerForce, "knee-left", 50)), s)
	for _, q := range []quantity.Quantity{a.Reserve, a.Travel, a.Own[strength.PowerSwitch]} {
		if q.Origin != quantity.Measured || q.Value.Text() != "500000000000" {
			t.Errorf("%s is %s (%v)", q.Name, q.Value.Text(), q.Origin)
		}
	}
	if a.Bound.Direction != "left" || !a.Bound.Has() {
		t.Errorf("the bound is %s (%v) for %s", a.Bound.Value.Text(), a.Bound.Origin, a.Bound.Direction)
	}
}
