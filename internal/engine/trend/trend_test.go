package trend_test

import (
	"errors"
	"math"
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
	c := trend.Course{Kind: kind, Needed: 50, JudgedLoss: none, WaitWeeks: none}
	for i := range visits {
		c.Visits = append(c.Visits, trend.Visit{Day: 20000 + 28*i, Rested: 500 - 40*float64(i), Tired: none})
	}
	return c
}

func TestAForecastByOwnData(t *testing.T) {
	c := course("slow", 3)
	c.Visits[1].Tired = 368 // of 460: 0.8
	c.WaitWeeks = 18
	f := must[trend.Forecast](t)(trend.ForecastOf(c))
	// Usable 400, 368, 336: 8 gf a week; 336 is reserve 6.72.
	if f.Line != trend.OwnData || f.TiredRatio != 0.8 || f.TiredAssumed || f.Slope != -8 || f.Reserve != 6.72 {
		t.Errorf("%+v", f)
	}
	// To reserve 3 (150 gf) 186 gf are left: 23.3 weeks, at half more 15.5, at half 46.5.
	if u := f.To3; u.Mid != 23.3 || u.Early != 15.5 || u.Late != 46.5 || u.Already {
		t.Errorf("to reserve 3: %+v", u)
	}
	// To reserve 2 (100 gf) 236 gf: 29.5, 19.7 and 59.
	if u := f.To2; u.Mid != 29.5 || u.Early != 19.7 || u.Late != 59 {
		t.Errorf("to reserve 2: %+v", u)
	}
	if f.RunsOut || !f.LighterClass || len(f.Advice) != 0 {
		t.Errorf("a wait of 18 weeks: runs out %v, lighter class %v, advice %v", f.RunsOut, f.LighterClass, f.Advice)
	}
	c.WaitWeeks = 20
	if f := must[trend.Forecast](t)(trend.ForecastOf(c)); !f.RunsOut || len(f.Advice) == 0 || !strings.Contains(f.Say.String(), "[trend.before-control]") {
		t.Errorf("a wait of 20 weeks: %v", f.Say.String())
	}
	if f.Caution.Empty() || f.Provenances[0].Status != provenance.Published || f.Provenances[1].Status != provenance.Proposal {
		t.Errorf("caution %q, provenances %+v", f.Caution.String(), f.Provenances)
	}
}

func TestFourVisitsGiveTheirOwnBand(t *testing.T) {
	c := course("fast", 4)
	c.Visits[2].Rested += 15
	f := must[trend.Forecast](t)(trend.ForecastOf(c))
	// Pair slopes of the usable forces (times 0.7) a week: −7, −4.375 and so on.
	if f.SlopeLow >= f.Slope || f.SlopeHigh <= f.Slope || f.SlopeLow == 1.5*f.Slope {
		t.Errorf("slope %v, band %v to %v", f.Slope, f.SlopeLow, f.SlopeHigh)
	}
	if !f.TiredAssumed || !strings.Contains(sentence(f.Say), "0.7 of the rested force is assumed") {
		t.Errorf("%q does not say that the tired force is assumed", sentence(f.Say))
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
			c.Visits[1].Day, c.Visits[2].Day = c.Visits[0].Day+14, c.Visits[0].Day+28
			return c
		}(), "there are 3 over 4"},
	} {
		f := must[trend.Forecast](t)(trend.ForecastOf(c.course))
		if f.Line != trend.NoLine || f.To2.MidKnown || f.RunsOut || !strings.Contains(sentence(f.Say), c.words) {
			t.Errorf("%s: line %q, %q; want none, words %q", c.name, f.Line, sentence(f.Say), c.words)
		}
		if len(f.Usable) != len(c.course.Visits) {
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
	for i := range c.Visits {
		c.Visits[i].Rested = 500 + 10*float64(i)
	}
	if f := must[trend.Forecast](t)(trend.ForecastOf(c)); f.To2.MidKnown || !strings.Contains(sentence(f.Say), "no date") {
		t.Errorf("%q", sentence(f.Say))
	}
	low := course("stable", 3)
	low.Needed = 200
	if f := must[trend.Forecast](t)(trend.ForecastOf(low)); !f.To3.Already || !f.To2.Already || !strings.Contains(sentence(f.Say), "Reserve 3 is already reached.") {
		t.Errorf("%q", sentence(f.Say))
	}
}

func TestAForecastRefusesWhatCannotBe(t *testing.T) {
	for _, c := range []struct {
		field, words string
		change       func(*trend.Course)
	}{
		{"course", "course of the condition", func(c *trend.Course) { c.Kind = "" }},
		{"visits", "visits", func(c *trend.Course) { c.Visits = nil }},
		{"force-needed", "force that the control needs", func(c *trend.Course) { c.Needed = 0 }},
		{"judged-loss", "judged loss of force a week", func(c *trend.Course) { c.JudgedLoss = -2 }},
		{"wait-weeks", "weeks until the control comes", func(c *trend.Course) { c.WaitWeeks = -1 }},
		{"day", "visit 2, day", func(c *trend.Course) { c.Visits[1].Day = c.Visits[0].Day - 1 }},
		{"rested-force", "visit 3, rested force", func(c *trend.Course) { c.Visits[2].Rested = math.Inf(1) }},
		{"tired-force", "visit 1, tired force", func(c *trend.Course) { c.Visits[0].Tired = 0 }},
	} {
		changed := course("slow", 3)
		c.change(&changed)
		_, err := trend.ForecastOf(changed)
		refused(t, c.words, err, c.field, c.words)
		if c.field == "day" && !strings.Contains(err.Error(), "before=1") {
			t.Errorf("%v, want the visit before to be the first", err)
		}
	}
	_, err := trend.TheilSen([]float64{1, 1}, []float64{1, 2})
	refused(t, "one day", err, "visit-days", "days of the visits")
	_, err = trend.TheilSen([]float64{1}, []float64{1})
	refused(t, "one point", err, "points", "points")
	_, err = trend.TheilSen([]float64{1, 2}, []float64{1, math.NaN()})
	refused(t, "no number", err, "points", "points")
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
		Visits: []trend.Visit{{Day: 0, Rested: 110, Tired: 100}, {Day: 28, Rested: 102, Tired: 92}, {Day: 56, Rested: 94, Tired: 84}, {Day: 84, Rested: 86, Tired: 76}}}
	for _, c := range []struct {
		name     string
		change   func(*trend.Course)
		interval int
		since    float64
		weeks    int
		says     string
	}{
		{"reserve 3 comes first", func(*trend.Course) {}, 12, 0, 8, "the forecast sets the date, because reserve 3 may be reached then; the ordinary interval is 12 weeks."},
		{"the interval comes first", func(*trend.Course) {}, 4, 0, 4, "the ordinary interval sets the date; by the forecast neither reserve 3 nor 2 is reached before."},
		{"part of the time has passed", func(*trend.Course) {}, 12, 5, 3, "the forecast sets the date"},
		{"all of the time has passed", func(*trend.Course) {}, 12, 30, 1, "Look again in 1 week after the last visit"},
		{"reserve 3 is behind", func(c *trend.Course) { c.Needed = 30 }, 12, 0, 8, "because reserve 2 may be reached then"},
		{"reserve 3 is behind, reserve 2 far", func(c *trend.Course) { c.Needed = 26 }, 6, 0, 6, "reserve 3 is already reached, and by the forecast reserve 2 is not before."},
		{"reserve 2 is behind", func(c *trend.Course) { c.Needed = 40 }, 12, 0, 2, "because reserve 2 is already reached"},
		{"the control comes too late", func(c *trend.Course) { c.WaitWeeks = 20 }, 12, 0, 4, "because reserve 2 may be reached before the control comes"},
		{"improving", func(c *trend.Course) { c.Kind = "improving" }, 12, 0, 12, "the ordinary interval sets the date; there is no forecast."},
		{"too few visits", func(c *trend.Course) { c.Visits = c.Visits[:1] }, 6, 0, 6, "there is no forecast."},
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
