package trend_test

import (
	"errors"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"doorsill/internal/engine/provenance"
	"doorsill/internal/engine/trend"
	"doorsill/internal/message"
	"doorsill/internal/phrase"
)

var english = phrase.NewWriter(phrase.English(), nil)

func sentence(m message.Message) string { return english.Text(&m) }

// refused checks that an error names its field and what was expected, and that
// its sentence begins with words.
func refused(t *testing.T, name string, err error, field, words string) {
	t.Helper()
	var r *provenance.Refusal
	if !errors.As(err, &r) {
		t.Errorf("%s: got %v, want a refusal", name, err)
		return
	}
	m := r.Message
	for m.Arg("why") != nil { // the refusal in a part
		m = m.Arg("why").Messages[0]
	}
	if got := m.Arg("field"); got == nil || got.Word != field {
		t.Errorf("%s: refusal %v, want the field %s", name, r, field)
	}
	if got := sentence(r.Message); !strings.HasPrefix(got, words+": expected ") {
		t.Errorf("%s: the refusal says %q, want %q and what was expected", name, got, words)
	}
}

var none = provenance.NotMeasured()

// course is a fall of 40 gf rested in four weeks.
func course(kind string, visits int) trend.Course {
	c := trend.Course{Kind: kind, Needed: 50, JudgedLoss: none, WaitWeeks: none, Series: []trend.Series{{}}}
	for i := range visits {
		c.Series[0].Visits = append(c.Series[0].Visits, trend.Visit{Day: 20000 + 28*i, Rested: 500 - 40*float64(i), Tired: none})
	}
	return c
}

func TestAForecastByOwnData(t *testing.T) {
	c := course("slow", 3)
	c.Series[0].Visits[1].Tired = 368 // of 460: 0.8
	c.WaitWeeks = 10
	f := must[trend.Forecast](t)(trend.ForecastOf(c))
	// Usable 400, 368, 336: 8 gf a week; 336 is reserve 6.72.
	if f.Line != trend.OwnData || f.TiredRatio != 0.8 || f.TiredAssumed || f.Slope != -8 || f.Reserve != 6.72 {
		t.Errorf("%+v", f)
	}
	if say := sentence(f.Say); !strings.Contains(say, "2 forces were not measured tired: 0.8 of the rested force is taken") {
		t.Errorf("%q does not say which tired forces nobody measured", say)
	}
	// The points lie on a line, but three cannot show that: 10 % of their mean of
	// 368 are 36.8 gf, and with 1.645 of it the bound is 336 − 8·w ∓
	// 60.53·√(1/3 + (w + 4)²/32). It is at 150 gf (reserve 3) after 7.4 weeks; the
	// line after 23.25. The upper bound falls by less than it opens.
	if u := f.To3; u.Early != 7.4 || u.Mid != 23.3 || u.LateKnown || u.Already {
		t.Errorf("to reserve 3: %+v", u)
	}
	// Reserve 2 is 100 gf: 29.5 weeks by the line, 10.1 by its bound.
	if u := f.To2; u.Early != 10.1 || u.Mid != 29.5 {
		t.Errorf("to reserve 2: %+v", u)
	}
	if !f.ScatterAssumed || f.Scatter != 10 || f.RunsOut || !f.LighterClass || len(f.Advice) != 0 {
		t.Errorf("a wait of 10 weeks: runs out %v, lighter class %v, advice %v, scatter %v", f.RunsOut, f.LighterClass, f.Advice, f.Scatter)
	}
	c.WaitWeeks = 11
	if f := must[trend.Forecast](t)(trend.ForecastOf(c)); !f.RunsOut || len(f.Advice) == 0 || !strings.Contains(f.Say.String(), "[trend.before-control]") {
		t.Errorf("a wait of 11 weeks: %v", f.Say.String())
	}
	if f.Notes[len(f.Notes)-1].Code != "trend.caution" || f.Provenances[0].Status != provenance.Published || f.Provenances[1].Status != provenance.Proposal {
		t.Errorf("notes %v, provenances %+v", f.Notes, f.Provenances)
	}
}

// TestTheLessOfRestedAndTiredCounts, whichever of the two it is.
func TestTheLessOfRestedAndTiredCounts(t *testing.T) {
	c := course("slow", 3)
	for i, tired := range []float64{550, 400, 250} {
		c.Series[0].Visits[i].Tired = tired
	}
	f := must[trend.Forecast](t)(trend.ForecastOf(c))
	if want := []trend.DayForce{{Day: 20000, Force: 500}, {Day: 20028, Force: 400}, {Day: 20056, Force: 250}}; !slices.Equal(f.Usable, want) {
		t.Errorf("usable are %v, want %v", f.Usable, want)
	}
	if f.TiredRatio != 0.8696 { // the middle of 1 (not 1.1), 0.8696 and 0.5952
		t.Errorf("tired ratio %v", f.TiredRatio)
	}
}

// TestOwnScatterCountsFromFiveVisits: five exact points are believed, four are
// not; and scatter above the floor counts with few visits too.
func TestOwnScatterCountsFromFiveVisits(t *testing.T) {
	if f := must[trend.Forecast](t)(trend.ForecastOf(course("slow", 5))); f.ScatterAssumed || f.Scatter != 0 || f.To2.Early != f.To2.Mid || f.To2.Late != f.To2.Mid {
		t.Errorf("five exact visits: scatter %v, %+v", f.Scatter, f.To2)
	}
	if f := must[trend.Forecast](t)(trend.ForecastOf(course("slow", 4))); !f.ScatterAssumed || f.Scatter != 10 || f.Notes[0].Code != "trend.band-few" {
		t.Errorf("four exact visits: scatter %v, notes %v", f.Scatter, f.Notes)
	}
	c := course("slow", 4)
	c.Series[0].Visits[2].Rested += 150
	f := must[trend.Forecast](t)(trend.ForecastOf(c))
	if f.ScatterAssumed || f.Scatter < 10 || f.To2.Early != 2.6 || f.Notes[0].Code != "trend.band-own" {
		t.Errorf("four visits far apart: scatter %v, %+v", f.Scatter, f.To2)
	}
	if !f.TiredAssumed || !strings.Contains(sentence(f.Say), "0.7 of the rested force is assumed") {
		t.Errorf("%q does not say that the tired force is assumed", sentence(f.Say))
	}
}

// TestTheWeakestDirectionCounts: of two that fall alike the band comes sooner than
// of one, and a direction with too few visits is named.
func TestTheWeakestDirectionCounts(t *testing.T) {
	c := course("slow", 3)
	one := must[trend.Forecast](t)(trend.ForecastOf(c))
	c.Series[0].Direction = "left"
	c.Series = append(c.Series, trend.Series{Direction: "right", Visits: slices.Clone(c.Series[0].Visits)}, trend.Series{Direction: "forward", Visits: []trend.Visit{{Day: 20056, Rested: 100, Tired: none}}})
	c.Series[1].Visits[2].Rested -= 10
	f := must[trend.Forecast](t)(trend.ForecastOf(c))
	if f.Direction != "right" || f.To2.Early >= one.To2.Early || f.To2.Mid >= one.To2.Mid {
		t.Errorf("of two %q: %+v, of one %+v", f.Direction, f.To2, one.To2)
	}
	said := ""
	for _, n := range f.Notes {
		said += sentence(n) + "\n"
	}
	if !strings.Contains(said, "Whichever of the 2 directions") || !strings.Contains(said, "left out of the forecast: forward.") {
		t.Errorf("the notes are\n%s", said)
	}
	// Usable on the last day is the forward force, with the assumed ratio.
	if got := f.Usable[len(f.Usable)-1]; got != (trend.DayForce{Day: 20056, Force: 70}) {
		t.Errorf("usable at last is %+v", got)
	}
}

func TestTheBandIsGivenFromTheFirstVisitOn(t *testing.T) {
	c := course("slow", 3)
	c.WaitWeeks = 20
	f := must[trend.Forecast](t)(trend.ForecastOf(c))
	first, last := f.Band[0], f.Band[len(f.Band)-1]
	if first.Day != 20000 || last.Day < 20056+7*22 || f.Band[1].Day-first.Day != 28 {
		t.Errorf("from %+v to %+v", first, last)
	}
	at := slices.IndexFunc(f.Band, func(p trend.BandPoint) bool { return p.Day == 20056 })
	if f.Band[at+1].Day != 20056+28 {
		t.Errorf("after the last visit comes %+v", f.Band[at+1])
	}
	// 420 · 0.7 at the last visit, ∓ 1.645 · 32.2 · √(1/3 + 16/32).
	if p := f.Band[at]; p.Mid != 294 || math.Abs(p.Low-(294-48.35)) > 0.01 || math.Abs(p.High-(294+48.35)) > 0.01 {
		t.Errorf("at the last visit %+v", p)
	}
	if last.Low != 0 {
		t.Errorf("a force below nothing: %+v", last)
	}
	c.Kind, c.Series[0].Visits, c.JudgedLoss = "fast", c.Series[0].Visits[2:], 10
	f = must[trend.Forecast](t)(trend.ForecastOf(c))
	if f.Band[0].Day != 20056 || f.Band[0].Mid != 294 || f.Band[1].Mid != 254 {
		t.Errorf("judged: %+v", f.Band[:2])
	}
	c.WaitWeeks = 260
	if f = must[trend.Forecast](t)(trend.ForecastOf(c)); len(f.Band) > 24 || f.Band[len(f.Band)-1].Day < 20056+7*262 {
		t.Errorf("for a long wait %d points to %+v", len(f.Band), f.Band[len(f.Band)-1])
	}
}

func TestTheChanceAtDelivery(t *testing.T) {
	c := course("slow", 5)
	c.WaitWeeks = 10
	// Exact points: above for sure, and below for sure, but nothing is said to be sure.
	f := must[trend.Forecast](t)(trend.ForecastOf(c))
	if len(f.Chances) != 2 || f.Chances[0].Percent != 100 || !strings.Contains(sentence(f.Say), "in 10 weeks, the chance that the force is still 3 times what the control asks or more is 99 in 100, and 2 times or more 99 in 100.") {
		t.Errorf("%+v, %q", f.Chances, sentence(f.Say))
	}
	c.WaitWeeks = 60
	if f = must[trend.Forecast](t)(trend.ForecastOf(c)); f.Chances[1].Percent != 0 || !strings.Contains(sentence(f.Say), "2 times or more 1 in 100.") {
		t.Errorf("%+v, %q", f.Chances, sentence(f.Say))
	}
	c.WaitWeeks = none
	if f = must[trend.Forecast](t)(trend.ForecastOf(c)); f.Chances != nil || strings.Contains(sentence(f.Say), "chance") {
		t.Errorf("without a wait: %+v, %q", f.Chances, sentence(f.Say))
	}
}

// TestTimesInWords: each kind of band has its sentence.
func TestTimesInWords(t *testing.T) {
	at := func(needed float64, visits ...float64) string {
		c := course("slow", len(visits))
		for i, force := range visits {
			c.Series[0].Visits[i].Rested, c.Series[0].Visits[i].Tired = force, force
		}
		c.Needed = needed
		return sentence(must[trend.Forecast](t)(trend.ForecastOf(c)).To2.Say)
	}
	exact := []float64{140, 132, 124, 116, 108}
	for _, c := range []struct{ want, got string }{
		{"Down to 2 times what the control asks: already reached.", at(60, exact...)},
		{"Down to 2 times what the control asks: already reached.", at(54, exact...)},
		{"Down to 2 times what the control asks: within a week.", at(53.5, exact...)},
		{"Down to 2 times what the control asks: in about 14 weeks.", at(40, exact...)},
		{"Down to 2 times what the control asks: not in sight.", at(40, 100, 100, 100, 100, 100)},
		{"Down to 2 times what the control asks: not in sight.", at(40, 100, 108, 116, 124, 132)},
		{"Down to 2 times what the control asks: perhaps already reached, perhaps not at all.", at(45, 100, 100, 100)},
		{"Down to 2 times what the control asks: in 2 weeks at the earliest, perhaps not at all.", at(40, 100, 100, 100)},
		{"Down to 2 times what the control asks: in 12 to 18 weeks.", at(40, 140, 130, 124, 117, 108)},
		{"Down to 2 times what the control asks: perhaps already reached, in 6 weeks at the latest.", at(54, 150, 135, 135, 115, 110)},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

func TestNoLineIsDrawnWhereThereIsNone(t *testing.T) {
	for _, c := range []struct {
		name   string
		course trend.Course
		words  string
	}{
		{"improving", course("improving", 5), "No straight line"},
		{"fluctuating", course("fluctuating", 5), "No straight line"},
		{"two visits", course("slow", 2), "there are 2 over 4"},
		{"three visits in four weeks", func() trend.Course {
			c := course("slow", 3)
			v := c.Series[0].Visits
			v[1].Day, v[2].Day = v[0].Day+14, v[0].Day+28
			return c
		}(), "there are 3 over 4"},
	} {
		f := must[trend.Forecast](t)(trend.ForecastOf(c.course))
		if f.Line != trend.NoLine || f.To2.MidKnown || f.RunsOut || !strings.Contains(sentence(f.Say), c.words) {
			t.Errorf("%s: line %q, %q; want none, words %q", c.name, f.Line, sentence(f.Say), c.words)
		}
		if len(f.Usable) != len(c.course.Series[0].Visits) {
			t.Errorf("%s: the visits are not shown", c.name)
		}
	}
	improving := course("improving", 1)
	improving.JudgedLoss = 5
	if f := must[trend.Forecast](t)(trend.ForecastOf(improving)); f.Line != trend.NoLine {
		t.Error("a judged loss draws a line for an improving condition")
	}
}

func TestAJudgedLossIsMarked(t *testing.T) {
	c := course("fast", 1)
	c.JudgedLoss, c.WaitWeeks = 10, 12
	f := must[trend.Forecast](t)(trend.ForecastOf(c))
	if f.Line != trend.Judged || f.Slope != -10 || f.To3.Mid != 20 || f.Say.Code != "trend.forecast-judged" {
		t.Errorf("%+v", f)
	}
	own := course("fast", 3)
	own.JudgedLoss = 99
	if f := must[trend.Forecast](t)(trend.ForecastOf(own)); f.Line != trend.OwnData || f.Slope != -7 {
		t.Errorf("a judged loss went before own data: %+v", f)
	}
}

func TestARiseGivesNoDate(t *testing.T) {
	c := course("stable", 3)
	for i := range c.Series[0].Visits {
		c.Series[0].Visits[i].Rested = 500 + 10*float64(i)
	}
	if f := must[trend.Forecast](t)(trend.ForecastOf(c)); f.To2.MidKnown || !strings.Contains(sentence(f.Say), "The line itself does not fall.") {
		t.Errorf("%q", sentence(f.Say))
	}
	low := course("stable", 3)
	low.Needed = 200
	if f := must[trend.Forecast](t)(trend.ForecastOf(low)); !f.To3.Already || !f.To2.Already || !strings.Contains(sentence(f.Say), "Down to 3 times what the control asks: already reached.") {
		t.Errorf("%q", sentence(f.Say))
	}
}

func TestAForecastRefusesWhatCannotBe(t *testing.T) {
	for _, c := range []struct {
		field, words string
		change       func(*trend.Course)
	}{
		{"course", "course of the condition", func(c *trend.Course) { c.Kind = "" }},
		{"visits", "visits", func(c *trend.Course) { c.Series = nil }},
		{"force-needed", "force that the control needs", func(c *trend.Course) { c.Needed = 0 }},
		{"judged-loss", "judged loss of force a week", func(c *trend.Course) { c.JudgedLoss = -2 }},
		{"wait-weeks", "weeks until the control comes", func(c *trend.Course) { c.WaitWeeks = -1 }},
		{"day", "visit 2, day", func(c *trend.Course) { c.Series[0].Visits[1].Day = c.Series[0].Visits[0].Day - 1 }},
		{"rested-force", "visit 3, rested force", func(c *trend.Course) { c.Series[0].Visits[2].Rested = math.Inf(1) }},
		{"tired-force", "visit 1, tired force", func(c *trend.Course) { c.Series[0].Visits[0].Tired = 0 }},
	} {
		changed := course("slow", 3)
		c.change(&changed)
		_, err := trend.ForecastOf(changed)
		refused(t, c.words, err, c.field, c.words)
		if c.field == "day" && !strings.Contains(err.Error(), "before=1") {
			t.Errorf("%v, want the visit before to be the first", err)
		}
	}
	_, err := trend.LeastSquares([]float64{1, 1}, []float64{1, 2})
	refused(t, "one day", err, "visit-days", "days of the visits")
	_, err = trend.LeastSquares([]float64{1}, []float64{1})
	refused(t, "one point", err, "points", "points")
	_, err = trend.LeastSquares([]float64{1, 2}, []float64{1, math.NaN()})
	refused(t, "no number", err, "points", "points")
}

// TestTheThresholdsThatAreShown are those of the rules, in the order of use.
func TestTheThresholdsThatAreShown(t *testing.T) {
	want := []provenance.Threshold{
		{ID: "noise-share", Value: 20, Unit: "%"}, {ID: "noise-force", Value: 3, Unit: "gf"}, {ID: "noise-travel", Value: 1, Unit: "mm"}, {ID: "noise-time", Value: 0.3, Unit: "s"},
		{ID: "noise-domain", Value: 10, Unit: "points"}, {ID: "noise-coverage", Value: 80, Unit: "%"}, {ID: "forecast-visits", Value: 3, Unit: "visits"}, {ID: "forecast-weeks", Value: 8, Unit: "weeks"},
		{ID: "forecast-confidence", Value: 95, Unit: "%"}, {ID: "forecast-few", Value: 4, Unit: "visits"}, {ID: "forecast-scatter", Value: 10, Unit: "%"},
		{ID: "forecast-band", Value: 50, Unit: "percent-of-slope"}, {ID: "forecast-tired", Value: 0.7}, {ID: "forecast-slack", Value: 12, Unit: "weeks"}, {ID: "forecast-farthest", Value: 260, Unit: "weeks"},
		{ID: "look-runs-out", Value: 4, Unit: "weeks"}, {ID: "look-short", Value: 2, Unit: "weeks"}, {ID: "agreement-pairs", Value: 30, Unit: "pairs"}, {ID: "agreement-trials", Value: 5, Unit: "trials"},
		{ID: "agreement-same", Value: 75, Unit: "%"}, {ID: "agreement-within", Value: 95, Unit: "%"}, {ID: "agreement-kappa", Value: 0.61}, {ID: "agreement-force", Value: 20, Unit: "%"},
	}
	var got []provenance.Threshold
	trend.EachThreshold(func(th *provenance.Threshold) {
		got = append(got, provenance.Threshold{ID: th.ID, Value: th.Value, Unit: th.Unit})
	})
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
}

func TestEveryThresholdSaysWhereItComesFrom(t *testing.T) {
	seen := map[string]bool{}
	trend.EachThreshold(func(th *provenance.Threshold) {
		if th.ID == "" || seen[th.ID] || th.Value == 0 || th.Source.Empty() || th.Status == "" {
			t.Errorf("threshold %+v is incomplete or doubled", th)
		}
		seen[th.ID] = true
	})
}

// TestLookIsNeverLaterThanTheInterval: a forecast can only bring the date
// forward, and says which of the two set it.
func TestLookIsNeverLaterThanTheInterval(t *testing.T) {
	falling := trend.Course{Needed: 20, Kind: "slow", JudgedLoss: provenance.NotMeasured(), WaitWeeks: provenance.NotMeasured(),
		Series: []trend.Series{{Visits: []trend.Visit{{Day: 0, Rested: 118, Tired: 108}, {Day: 28, Rested: 110, Tired: 100}, {Day: 56, Rested: 102, Tired: 92}, {Day: 84, Rested: 94, Tired: 84}, {Day: 112, Rested: 86, Tired: 76}}}}}
	for _, c := range []struct {
		name     string
		change   func(*trend.Course)
		interval int
		since    float64
		weeks    int
		says     string
	}{
		{"reserve 3 comes first", func(*trend.Course) {}, 12, 0, 8, "the forecast sets the date, because the force may then be down to 3 times what the control asks; the usual interval is 12 weeks."},
		{"the interval comes first", func(*trend.Course) {}, 4, 0, 4, "the usual interval sets the date; by the forecast the force stays above 3 times what the control asks until then."},
		{"part of the time has passed", func(*trend.Course) {}, 12, 5, 4, "the forecast sets the date"},
		{"all of the time has passed", func(*trend.Course) {}, 12, 30, 2, "because the force may then be down to 2 times what the control asks"},
		{"reserve 3 is behind", func(c *trend.Course) { c.Needed = 30 }, 12, 0, 8, "because the force may then be down to 2 times what the control asks"},
		{"reserve 3 is behind, reserve 2 far", func(c *trend.Course) { c.Needed = 26 }, 6, 0, 6, "the force is already down to 3 times what the control asks, and by the forecast stays above 2 times until then."},
		{"reserve 2 is behind", func(c *trend.Course) { c.Needed = 40 }, 12, 0, 2, "because the force is already down to 2 times what the control asks"},
		{"the control comes too late", func(c *trend.Course) { c.WaitWeeks = 20 }, 12, 0, 4, "because the force may be down to 2 times what the control asks before the control comes"},
		{"improving", func(c *trend.Course) { c.Kind = "improving" }, 12, 0, 12, "the usual interval sets the date; there is no forecast."},
		{"too few visits", func(c *trend.Course) { c.Series[0].Visits = c.Series[0].Visits[:1] }, 6, 0, 6, "there is no forecast."},
	} {
		course := falling
		c.change(&course)
		f, err := trend.ForecastOf(course)
		if err != nil {
			t.Fatal(err)
		}
		look := f.Look(c.interval, c.since)
		if look.Weeks != c.weeks || look.ByForecast != (c.weeks < c.interval) || !strings.Contains(sentence(look.Say), c.says) {
			t.Errorf("%s: %+v, want %d weeks and %q", c.name, look, c.weeks, c.says)
		}
	}
}
