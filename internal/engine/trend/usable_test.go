package trend_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"doorsill/internal/engine/provenance"
	"doorsill/internal/engine/trend"
	"doorsill/internal/message"
)

// visits are days, rested and tired forces, by threes; 0 is not measured.
func visits(numbers ...float64) []trend.Visit {
	var all []trend.Visit
	for i := 0; i < len(numbers); i += 3 {
		v := trend.Visit{Day: int(numbers[i]), Rested: numbers[i+1], Tired: numbers[i+2]}
		if v.Tired == 0 {
			v.Tired = none
		}
		all = append(all, v)
	}
	return all
}

// TestUsableForcesByHand: the least of a day counts, in the order of days, whatever
// the order of directions; what was measured tired says what part of a rested force
// the rest count with, the middle one of an odd number, the mean of the middle two
// of an even one.
func TestUsableForcesByHand(t *testing.T) {
	for _, c := range []struct {
		name   string
		series [][]trend.Visit
		ratio  float64
		usable []trend.DayForce
	}{
		{"nothing tired", [][]trend.Visit{visits(3, 100, 0, 9, 90, 0)}, 0.7, []trend.DayForce{{3, 70}, {9, 63}}},
		{"one tired", [][]trend.Visit{visits(3, 100, 50, 9, 90, 0)}, 0.5, []trend.DayForce{{3, 50}, {9, 45}}},
		{"two tired", [][]trend.Visit{visits(3, 100, 50, 9, 100, 80, 10, 100, 0)}, 0.65, []trend.DayForce{{3, 50}, {9, 80}, {10, 65}}},
		{"three tired", [][]trend.Visit{visits(3, 100, 90, 9, 100, 20, 10, 100, 60, 12, 100, 0)}, 0.6, []trend.DayForce{{3, 90}, {9, 20}, {10, 60}, {12, 60}}},
		{"four tired", [][]trend.Visit{visits(3, 10, 9, 9, 10, 2, 10, 10, 6, 12, 10, 4, 13, 10, 0)}, 0.5, []trend.DayForce{{3, 9}, {9, 2}, {10, 6}, {12, 4}, {13, 5}}},
		{"five tired", [][]trend.Visit{visits(3, 10, 9, 9, 10, 2, 10, 10, 6, 12, 10, 4, 13, 10, 7, 14, 10, 0)}, 0.6, []trend.DayForce{{3, 9}, {9, 2}, {10, 6}, {12, 4}, {13, 7}, {14, 6}}},
		{"tired is stronger", [][]trend.Visit{visits(3, 100, 120, 4, 100, 0)}, 1, []trend.DayForce{{3, 100}, {4, 100}}},
		{"a third", [][]trend.Visit{visits(3, 30, 10, 4, 100, 0)}, 0.3333, []trend.DayForce{{3, 10}, {4, 33.33}}},
		{"four decimals", [][]trend.Visit{visits(3, 1.23456, 1.23456)}, 1, []trend.DayForce{{3, 1.2346}}},
		{"two directions on the same days", [][]trend.Visit{visits(3, 8, 8, 5, 9, 9), visits(3, 9, 9, 5, 8, 8)}, 1, []trend.DayForce{{3, 8}, {5, 8}}},
		{"days between days", [][]trend.Visit{visits(3, 9, 9, 7, 8, 8), visits(1, 7, 7, 5, 6, 6, 9, 5, 5), visits(4, 4, 4)}, 1,
			[]trend.DayForce{{1, 7}, {3, 9}, {4, 4}, {5, 6}, {7, 8}, {9, 5}}},
		{"a day twice", [][]trend.Visit{visits(3, 9, 9, 3, 8, 8, 3, 10, 10)}, 1, []trend.DayForce{{3, 8}}},
	} {
		course := trend.Course{Kind: "improving", Needed: 1, JudgedLoss: none, WaitWeeks: none}
		for _, v := range c.series {
			course.Series = append(course.Series, trend.Series{Visits: v})
		}
		f := must[trend.Forecast](t)(trend.ForecastOf(course))
		lent := 0
		for _, s := range course.Series {
			for _, v := range s.Visits {
				if c.name != "nothing tired" && !(v.Tired > 0) {
					lent++
				}
			}
		}
		if f.TiredLent != lent {
			t.Errorf("%s: %d tired forces are lent, want %d", c.name, f.TiredLent, lent)
		}
		if !slices.Equal(f.Usable, c.usable) || f.TiredRatio != c.ratio || f.TiredAssumed != (c.name == "nothing tired") {
			t.Errorf("%s: usable %v with a ratio of %v (assumed: %v), want %v with %v", c.name, f.Usable, f.TiredRatio, f.TiredAssumed, c.usable, c.ratio)
		}
	}
}

// TestTheOrderOfDirectionsDoesNotMatter to what is said of the weakest.
func TestTheOrderOfDirectionsDoesNotMatter(t *testing.T) {
	c := trend.Course{Kind: "slow", Needed: 1, JudgedLoss: none, WaitWeeks: none, Series: []trend.Series{
		{Direction: "left", Visits: visits(0, 9, 9, 28, 8, 8, 56, 7, 7)},
		{Direction: "right", Visits: visits(0, 6, 6, 28, 5.5, 5.5, 56, 5, 5, 84, 4.5, 4.5)},
		{Direction: "forward", Visits: visits(7, 8, 8, 35, 8, 8, 63, 8, 8)},
		{Direction: "reverse", Visits: visits(7, 1, 1, 35, 1, 1)},
	}}
	want := must[trend.Forecast](t)(trend.ForecastOf(c))
	// By their lines at the last day: 6, 4.5, 8 and none of reverse.
	if want.Direction != "right" || want.Slope != -0.125 || want.Reserve != 4.5 {
		t.Errorf("the weakest is %s, slope %v, reserve %v", want.Direction, want.Slope, want.Reserve)
	}
	codes := func(f *trend.Forecast) string {
		said := ""
		for i := range f.Notes {
			said += f.Notes[i].String() + "\n"
		}
		return said
	}
	for range 3 {
		c.Series = append(c.Series[1:], c.Series[0])
		got := must[trend.Forecast](t)(trend.ForecastOf(c))
		// Courses are drawn in the order of directions, which moves the early end a little.
		if got.Direction != want.Direction || got.Slope != want.Slope || got.Reserve != want.Reserve || got.Scatter != want.Scatter ||
			got.To2.Mid != want.To2.Mid || got.To2.LateKnown != want.To2.LateKnown || codes(&got) != codes(&want) {
			t.Errorf("%s first: %s, slope %v, reserve %v, reserve 2 %+v, notes\n%s", c.Series[0].Direction, got.Direction, got.Slope, got.Reserve, got.To2, codes(&got))
		}
	}
	if said := codes(&want); said != "trend.band-few visits=3 scatter=10\ntrend.band-weakest directions=3\ntrend.left-out directions=reverse\ntrend.caution\n" {
		t.Errorf("the notes are\n%s", said)
	}
}

// TestTooFewVisitsAreCounted of the direction with the most.
func TestTooFewVisitsAreCounted(t *testing.T) {
	c := trend.Course{Kind: "slow", Needed: 1, JudgedLoss: none, WaitWeeks: none, Series: []trend.Series{
		{Direction: "left", Visits: visits(0, 9, 9)},
		{Direction: "right", Visits: visits(10, 9, 9, 20, 8, 8, 37, 7, 7)},
		{Direction: "forward", Visits: visits(0, 9, 9, 50, 8, 8)},
		{Direction: "reverse", Visits: visits(0, 9, 9, 5, 9, 9, 10, 8, 8)},
	}}
	f := must[trend.Forecast](t)(trend.ForecastOf(c))
	if want := "trend.too-few least-visits=3 least-weeks=8 visits=3 weeks=3.9"; f.Say.String() != want {
		t.Errorf("%s, want %s", f.Say.String(), want)
	}
	c.JudgedLoss = 0.25
	f = must[trend.Forecast](t)(trend.ForecastOf(c))
	if want := "trend.band-judged share=50 scatter=10"; f.Notes[0].String() != want || !f.ScatterAssumed || f.Scatter != 10 || f.Slope != -0.25 {
		t.Errorf("judged: %s, scatter %v, slope %v; want %s", f.Notes[0].String(), f.Scatter, f.Slope, want)
	}
	// The last day is that of forward, with 8 gf.
	if f.Reserve != 8 || f.Band[0].Day != 50 || f.To2.Mid != 24 {
		t.Errorf("judged: reserve %v, band from %+v, to reserve 2 %+v", f.Reserve, f.Band[0], f.To2)
	}
}

// TestBoundsOfAForecast: each number at its bound is taken, and beyond it refused
// with the words of what is left.
func TestBoundsOfAForecast(t *testing.T) {
	for _, c := range []struct {
		name, refusal string
		change        func(*trend.Course)
	}{
		{"needed", "", func(c *trend.Course) { c.Needed = 1e6 }},
		{"needed more", "refusal.above-zero-still field=force-needed most=1000000 still=[trend.still-forces]", func(c *trend.Course) { c.Needed = 1e6 + 1 }},
		{"loss", "", func(c *trend.Course) { c.JudgedLoss = 1e6 }},
		{"loss more", "refusal.above-zero-still field=judged-loss most=1000000 still=[trend.still-complete-visits]", func(c *trend.Course) { c.JudgedLoss = 1e6 + 1 }},
		{"wait none", "", func(c *trend.Course) { c.WaitWeeks = 0 }},
		{"wait", "", func(c *trend.Course) { c.WaitWeeks = 260 }},
		{"wait more", "refusal.between-still field=wait-weeks least=0 most=260 still=[trend.still-weeks]", func(c *trend.Course) { c.WaitWeeks = 260.1 }},
		{"rested", "", func(c *trend.Course) { c.Series[1].Visits[2].Rested = 1e6 }},
		{"rested more", "refusal.in-part part=visit n=3 why=[refusal.above-zero-still field=rested-force most=1000000 still=[trend.still-complete-visits]]", func(c *trend.Course) { c.Series[1].Visits[2].Rested = 1e6 + 1 }},
		{"tired", "", func(c *trend.Course) { c.Series[1].Visits[0].Tired = 1e6 }},
		{"tired more", "refusal.in-part part=visit n=1 why=[refusal.above-zero-still field=tired-force most=1000000 still=[trend.still-complete-visits]]", func(c *trend.Course) { c.Series[1].Visits[0].Tired = 1e6 + 1 }},
		{"two on a day", "", func(c *trend.Course) { c.Series[1].Visits[1].Day = c.Series[1].Visits[0].Day }},
		{"out of order", "refusal.in-part part=visit n=3 why=[trend.day-out-of-order field=day before=2]", func(c *trend.Course) { c.Series[1].Visits[2].Day = c.Series[1].Visits[1].Day - 1 }},
		{"out of order and no force", "refusal.in-part part=visit n=3 why=[refusal.above-zero-still field=rested-force most=1000000 still=[trend.still-complete-visits]]", func(c *trend.Course) {
			c.Series[1].Visits[2].Day, c.Series[1].Visits[2].Rested = c.Series[1].Visits[1].Day-1, 0
		}},
		{"a direction without visits", "trend.no-visits field=visits", func(c *trend.Course) { c.Series[1].Visits = nil }},
		{"no direction", "trend.no-visits field=visits", func(c *trend.Course) { c.Series = nil }},
		{"stable", "", func(c *trend.Course) { c.Kind = "stable" }},
		{"fast", "", func(c *trend.Course) { c.Kind = "fast" }},
		{"fluctuating", "", func(c *trend.Course) { c.Kind = "fluctuating" }},
		{"improving", "", func(c *trend.Course) { c.Kind = "improving" }},
		{"sudden", "trend.no-course field=course", func(c *trend.Course) { c.Kind = "sudden" }},
	} {
		changed := course("slow", 3) // one visit is no line, and two lines would be drawn
		changed.Series = append(changed.Series, trend.Series{Visits: slices.Clone(changed.Series[0].Visits)})
		changed.Series[0].Visits = changed.Series[0].Visits[:1]
		c.change(&changed)
		_, err := trend.ForecastOf(changed)
		if got := refusalOf(err); got != c.refusal {
			t.Errorf("%s: %q, want %q", c.name, got, c.refusal)
		}
	}
}

// refusalOf is the message of a refusal, and nothing of none.
func refusalOf(err error) string {
	var r *provenance.Refusal
	switch {
	case err == nil:
		return ""
	case errors.As(err, &r):
		return r.Message.String()
	}
	return fmt.Sprintf("not a refusal: %v", err)
}

// TestTheBandGoesAsFarAsItSays: eight weeks, or two beyond the control's arrival
// and the early times, of which none counts beyond a year; in steps of four weeks
// unless that were more than twenty.
func TestTheBandGoesAsFarAsItSays(t *testing.T) {
	for _, c := range []struct {
		name               string
		needed, wait, loss float64
		last, step         int
	}{
		{"short", 500, none, 1, 56, 28}, // reserve 2 is behind
		{"a short wait", 500, 5, 1, 56, 28},
		{"to the wait", 500, 14, 1, 112, 28},
		{"to the wait and a step more", 500, 14.1, 1, 140, 28},
		{"twenty steps", 500, 78, 1, 560, 28},
		{"larger steps", 500, 78.5, 1, 616, 56},
		// From 1,000 gf, less 16.45 %, lose 15 a week: at 2 · 105 after 41.7 weeks, and
		// two more are within 44; at 2 · 100 after 42.4, within 48.
		{"to the early times", 105, none, 10, 308, 28},
		{"to the early times and a step more", 100, none, 10, 336, 28},
		{"not beyond a year", 100, none, 2, 392, 28},
	} {
		f := must[trend.Forecast](t)(trend.ForecastOf(trend.Course{Kind: "slow", Needed: c.needed, JudgedLoss: c.loss, WaitWeeks: c.wait,
			Series: []trend.Series{{Visits: visits(100, 1000, 1000)}}}))
		band := f.Band
		for i := range band[1:] {
			if band[i+1].Day != band[i].Day+c.step {
				t.Errorf("%s: day %d comes after %d", c.name, band[i+1].Day, band[i].Day)
			}
		}
		if got := band[len(band)-1].Day - 100; band[0].Day != 100 || got != c.last || band[1].Day-100 != c.step {
			t.Errorf("%s: from %d to %d by %d, want to %d by %d; %+v", c.name, band[0].Day, got, band[1].Day-100, c.last, c.step, f.To2)
		}
	}
	f := must[trend.Forecast](t)(trend.ForecastOf(trend.Course{Kind: "slow", Needed: 10, JudgedLoss: none, WaitWeeks: none,
		Series: []trend.Series{{Visits: visits(100, 100, 100, 130, 90.00004, 90.00004, 160, 80, 80)}}}))
	var days []int
	for _, p := range f.Band[:4] {
		days = append(days, p.Day)
	}
	if !slices.Equal(days, []int{100, 128, 156, 160}) {
		t.Errorf("own data from days %v", days)
	}
	if p := f.Band[3]; p.Mid != 80 || p.Low <= 0 || p.High <= p.Mid {
		t.Errorf("at the last visit %+v", p)
	}
}

// TestChancesNeedAWait and are of reserve 3, then 2: 79.8 % of the published
// example for 3, from week 16 to week 30.
func TestChancesNeedAWait(t *testing.T) {
	c := trend.Course{Kind: "slow", Needed: 30, JudgedLoss: none, WaitWeeks: 14,
		Series: []trend.Series{{Visits: visits(0, 153, 153, 28, 141, 141, 56, 138, 138, 84, 126, 126, 112, 123, 123)}}}
	f := must[trend.Forecast](t)(trend.ForecastOf(c))
	if len(f.Chances) != 2 || f.Chances[0] != (trend.Chance{Reserve: 3, Weeks: 14, Percent: 79.8}) || f.Chances[1].Reserve != 2 || f.Chances[1].Percent < 99 {
		t.Errorf("%+v", f.Chances)
	}
	if f.Reserve != 4.04 { // 4.54 − 0.0625 · 8
		t.Errorf("reserve %v", f.Reserve)
	}
	said := f.Say.String()
	if want := "[trend.chance weeks=14 three=79 two=99]"; !slices.Contains(messagesOf(&f.Say), want) {
		t.Errorf("%s, want %s", said, want)
	}
	c.Series[0].Visits, c.JudgedLoss = c.Series[0].Visits[:2], 1
	if f = must[trend.Forecast](t)(trend.ForecastOf(c)); f.Chances != nil {
		t.Errorf("a judged loss has chances: %+v", f.Chances)
	}
}

// messagesOf are the messages in the parts of another.
func messagesOf(m *message.Message) []string {
	var all []string
	for i := range m.Arg("parts").Messages {
		all = append(all, "["+m.Arg("parts").Messages[i].String()+"]")
	}
	return all
}

// TestWhatAForecastSays, part by part.
func TestWhatAForecastSays(t *testing.T) {
	even := func(rise float64) trend.Course {
		c := onALine(20, none)
		for i := range c.Series[0].Visits {
			v := &c.Series[0].Visits[i]
			v.Rested = 100 + rise*float64(i)
			v.Tired = v.Rested
		}
		return c
	}
	assumed := course("slow", 5)
	// The first visit lies as far above the others' line as they say it is tired.
	lent := onALine(20, none)
	lent.Series[0].Visits[0].Tired = none
	judged := onALine(20, none)
	judged.Series[0].Visits, judged.JudgedLoss = judged.Series[0].Visits[4:], 2
	for _, c := range []struct {
		name   string
		course trend.Course
		want   string
	}{
		{"a fall", onALine(20, none), "forecast: reserve-about reserve-about"},
		{"even", even(0), "forecast: no-fall reserve-not-in-sight reserve-not-in-sight"},
		{"a rise", even(2), "forecast: no-fall reserve-not-in-sight reserve-not-in-sight"},
		{"tired assumed", assumed, "forecast: tired-assumed reserve-about reserve-about"},
		{"tired lent once", lent, "forecast: tired-lent reserve-about reserve-about"},
		{"too late", onALine(20, 19), "forecast: reserve-about reserve-about before-control chance"},
		{"in time", onALine(20, 18), "forecast: reserve-about reserve-about chance"},
		{"judged", judged, "forecast-judged: reserve-between reserve-between"},
	} {
		f := must[trend.Forecast](t)(trend.ForecastOf(c.course))
		got := strings.TrimPrefix(f.Say.Code, "trend.") + ":"
		for _, part := range f.Say.Arg("parts").Messages {
			got += " " + strings.TrimPrefix(part.Code, "trend.")
		}
		if got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// TestTheWeakestIsThatOfTheLastDay, not of a week later; numbers are rounded, and
// the notes of one line are of one line.
func TestTheWeakestIsThatOfTheLastDay(t *testing.T) {
	c := trend.Course{Kind: "slow", Needed: 1, JudgedLoss: none, WaitWeeks: none, Series: []trend.Series{
		{Direction: "left", Visits: visits(0, 3, 3, 28, 4, 4, 56, 5, 5)}, {Direction: "right", Visits: visits(0, 5.2, 5.2, 28, 5.2, 5.2, 56, 5.2, 5.2)}}}
	if f := must[trend.Forecast](t)(trend.ForecastOf(c)); f.Direction != "left" || f.Slope != 0.25 {
		t.Errorf("%s, slope %v", f.Direction, f.Slope)
	}
	c.Series = []trend.Series{{Visits: visits(0, 10, 10, 21, 8, 8, 42, 7.5, 7.5, 63, 6, 6, 84, 5.1, 5.1)}}
	f := must[trend.Forecast](t)(trend.ForecastOf(c))
	// Products of −35.4 over squares of 90; readings lie 0.37594 off, of a mean of 7.32.
	if f.Slope != -0.3933 || f.Scatter != 5.1 || len(f.Notes) != 2 || f.Notes[0].Code != "trend.band-own" || f.Notes[1].Code != "trend.caution" {
		t.Errorf("slope %v, scatter %v, %d notes", f.Slope, f.Scatter, len(f.Notes))
	}
	c.Series[0].Visits, c.JudgedLoss = c.Series[0].Visits[:1], 0.33333
	if f = must[trend.Forecast](t)(trend.ForecastOf(c)); f.Slope != -0.3333 {
		t.Errorf("judged slope %v", f.Slope)
	}
	// 76 gf at the last visit over 7.
	if f = must[trend.Forecast](t)(trend.ForecastOf(onALine(7, none))); f.Reserve != 10.86 {
		t.Errorf("reserve %v", f.Reserve)
	}
	if p := must[trend.Proportion](t)(trend.Wilson(81, 263)); p.Low != 25.53 || p.High != 36.62 { // Newcombe 1998
		t.Errorf("%+v", p)
	}
}
