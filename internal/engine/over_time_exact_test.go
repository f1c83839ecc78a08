package engine_test

import (
	"errors"
	"fmt"
	"slices"
	"testing"

	"doorsill/internal/engine"
	"doorsill/internal/model"
	"doorsill/internal/validation"
)

// changesOf lists what was compared, as "quantity from to direction".
func changesOf(answer *model.Trend) []string {
	var list []string
	for _, c := range answer.Changes {
		list = append(list, fmt.Sprintf("%s %d %d %s", c.Quantity, c.From, c.To, c.Direction))
	}
	return list
}

// TestTrendComparesEachDayOnce: with the one before, and the last with the first where
// there is a day between. What cannot be compared is left out, and so are conditions
// that were the same.
func TestTrendComparesEachDayOnce(t *testing.T) {
	day := func(day int, travel, release, help, score float64) []model.TrendPoint {
		same := model.TrendConditions{Site: "chin", Rater: "p"}
		return []model.TrendPoint{
			{Day: day, Quantity: "travel", Value: travel, Conditions: same}, {Day: day, Quantity: "release", Value: release, Conditions: same},
			{Day: day, Quantity: "help-door", Value: help, Conditions: same}, {Day: day, Quantity: "domain-pos", Value: score, Coverage: 79, Conditions: same},
		}
	}
	// A travel counts by more than 20 % or 1 mm, a release by more than 0.3 s, one
	// item of help by two levels (FORMULAS.md); a section of which 79 % is known is not
	// compared.
	first, second, third := day(0, 10, 0.8, 4, 50), day(7, 12.5, 1.1, 2, 90), day(14, 12.5, 1.2, 1, 90)
	for name, c := range map[string]struct {
		points []model.TrendPoint
		want   []string
	}{
		"one day":  {first, nil},
		"two days": {slices.Concat(first, second), []string{"travel 0 7 up", "release 0 7 same", "help 0 7 down"}},
		"three days": {slices.Concat(first, second, third), []string{"travel 0 7 up", "release 0 7 same", "help 0 7 down",
			"travel 7 14 same", "release 7 14 same", "help 7 14 same", "travel 0 14 up", "release 0 14 up", "help 0 14 down"}},
	} {
		answer := trendOf(t, &model.TrendQuestion{Course: "slow", Points: c.points})
		if got := changesOf(&answer); !slices.Equal(got, c.want) || answer.Conditions != nil {
			t.Errorf("%s: %q and %v, want %q", name, got, answer.Conditions, c.want)
		}
	}
}

// TestTrendTakesWhatLiesAtItsBounds, and nothing beyond them.
func TestTrendTakesWhatLiesAtItsBounds(t *testing.T) {
	point := func(p model.TrendPoint) func(*model.TrendQuestion) {
		return func(q *model.TrendQuestion) { q.Points = []model.TrendPoint{p} }
	}
	for _, c := range []struct {
		change func(*model.TrendQuestion)
		want   string // the path of what is refused
	}{
		{func(q *model.TrendQuestion) { q.WaitWeeks = new(0) }, ""},
		{func(q *model.TrendQuestion) { q.WaitWeeks = new(260) }, ""},
		{func(q *model.TrendQuestion) { q.WaitWeeks = new(-1) }, "wait_weeks"},
		{func(q *model.TrendQuestion) { q.JudgedLoss = new(0.000001) }, ""},
		{func(q *model.TrendQuestion) { q.JudgedLoss = new(0.0) }, "judged_loss"},
		{func(q *model.TrendQuestion) { q.JudgedLoss = new(10000.0) }, ""},
		{func(q *model.TrendQuestion) { q.JudgedLoss = new(10000.5) }, "judged_loss"},
		{func(q *model.TrendQuestion) { q.RecheckDay = 1_000_000 }, ""},
		{func(q *model.TrendQuestion) { q.RecheckDay = 1_000_001 }, "recheck_day"},
		{func(q *model.TrendQuestion) { q.RecheckWeeks = 260 }, ""},
		{func(q *model.TrendQuestion) { q.RecheckWeeks = -1 }, "recheck_weeks"},
		{func(q *model.TrendQuestion) { q.NeededGF = 0.000001 }, ""},
		{func(q *model.TrendQuestion) { q.NeededGF = 0.0000001 }, "needed_gf"},
		{func(q *model.TrendQuestion) { q.NeededGF = 10000 }, ""},
		{func(q *model.TrendQuestion) { q.NeededGF = 10000.5 }, "needed_gf"},
		{point(model.TrendPoint{Quantity: "travel"}), ""},
		{point(model.TrendPoint{Quantity: "travel", Day: 1_000_000, Value: 10000, Coverage: 100}), ""},
		{point(model.TrendPoint{Quantity: "travel", Day: 1_000_001}), "points[0].day"},
		{point(model.TrendPoint{Quantity: "travel", Value: 10000.5}), "points[0].value"},
		{point(model.TrendPoint{Quantity: "travel", Coverage: -1}), "points[0].coverage"},
		{point(model.TrendPoint{Quantity: "domain-pos", Value: 100}), ""},
		{point(model.TrendPoint{Quantity: "domain-pos", Value: 100.5}), "points[0].value"},
	} {
		q := falling("slow", 100, 90)
		c.change(q)
		_, err := engine.TrendOf(q)
		got := ""
		if bad := (*validation.Error)(nil); errors.As(err, &bad) {
			got = bad.Path
		}
		if got != c.want {
			t.Errorf("%+v: refused %q, want %q", q, got, c.want)
		}
	}
}

// TestTrendLeavesADayWithoutForceOut: of a rested force of 0 there is no line, and a
// tired one of 0 is none. A force of 1 gf is one: half of it in a day is what counts.
func TestTrendLeavesADayWithoutForceOut(t *testing.T) {
	q := &model.TrendQuestion{Course: "stable", NeededGF: 0.1, Points: []model.TrendPoint{
		{Day: 10, Quantity: "force-rested", Value: 1}, {Day: 10, Quantity: "force-tired", Value: 0.5},
		{Day: 20, Quantity: "force-rested", Value: 0}, {Day: 20, Quantity: "force-tired", Value: 0.5},
		{Day: 45, Quantity: "force-rested", Value: 1}, {Day: 45, Quantity: "force-tired", Value: 0},
		{Day: 80, Quantity: "force-rested", Value: 0.5}, {Day: 80, Quantity: "force-tired", Value: 0.4},
	}}
	answer := trendOf(t, q)
	// Of day 45 the rested force counts with the median of 0.5 and 0.8.
	want := []model.UsableForce{{Day: 10, Force: *tenths(5)}, {Day: 45, Force: *hundredths(65)}, {Day: 80, Force: *tenths(4)}}
	if !slices.Equal(answer.Usable, want) {
		t.Errorf("usable %v, want %v", answer.Usable, want)
	}
}

// TestTrendOfAForceThatRises has a line and no time at which a reserve is reached.
func TestTrendOfAForceThatRises(t *testing.T) {
	answer := trendOf(t, falling("stable", 280, 290, 300, 310, 320))
	if len(answer.Reaches) != 2 || answer.Line == nil || *answer.Line.Slope != *tenths(20) {
		t.Fatalf("line %+v, reaches %+v", answer.Line, answer.Reaches)
	}
	for _, r := range answer.Reaches {
		if r.Already || r.Weeks != nil || r.Early != nil || r.Late != nil || r.Message.Code != "trend.reserve-not-in-sight" {
			t.Errorf("reaches %+v", r)
		}
	}
}

// TestTrendCountsWeeksOfSevenDays: the early end of the band lies 15 weeks after day
// 1140 (reserve 3 of 50 gf at 2 gf a week from 180). Nine weeks later 6 of them are
// left. An interval of one week is sooner than either.
func TestTrendCountsWeeksOfSevenDays(t *testing.T) {
	for _, c := range []struct{ after, interval, weeks int }{{63, 20, 6}, {0, 20, 15}, {0, 1, 1}} {
		q := falling("slow", 220, 210, 200, 190, 180)
		q.RecheckDay, q.RecheckWeeks = 1140+c.after, c.interval
		answer := trendOf(t, q)
		if r := answer.Recheck; r == nil || r.Weeks != c.weeks || r.Day != q.RecheckDay+7*c.weeks {
			t.Errorf("%d days later, interval %d: look again %+v, want in %d weeks", c.after, c.interval, r, c.weeks)
		}
	}
}

// TestTrendOfTheFirstDay: days count from 0. From one force on day 0 a loss of 1 gf a
// week is expected, and may be half as much again: to reserve 3 of 10 gf it is
// (force · (1 − 1.645 · 10 %) − 30)/1.5 weeks at the soonest, 5.9 from 46.5 gf.
func TestTrendOfTheFirstDay(t *testing.T) {
	force := (1.5*5.9 + 30) / (1 - 0.1*1.6448536)
	q := &model.TrendQuestion{Course: "slow", NeededGF: 10, JudgedLoss: new(1.0), RecheckWeeks: 20, Points: []model.TrendPoint{
		{Quantity: "force-rested", Value: force}, {Quantity: "force-tired", Value: force}}}
	answer := trendOf(t, q)
	if r := answer.Reaches; len(r) != 2 || r[0].Early == nil || *r[0].Early != *tenths(59) {
		t.Fatalf("reaches %+v, want 5.9 weeks at the soonest", r)
	}
	if r := answer.Recheck; r == nil || r.Weeks != 5 || r.Day != 35 || r.By != "forecast" {
		t.Errorf("look again %+v, want in 5 weeks", r)
	}
}

// TestTrendOfOneForceInADirection takes it before what the weakest of each visit gave.
func TestTrendOfOneForceInADirection(t *testing.T) {
	q := falling("slow", 180)
	q.Points = append(q.Points, model.TrendPoint{Day: 1000, Quantity: "force-rested-left", Value: 300}, model.TrendPoint{Day: 1000, Quantity: "force-tired-left", Value: 290})
	answer := trendOf(t, q)
	if want := []model.UsableForce{{Day: 1000, Force: *tenths(2900)}}; !slices.Equal(answer.Usable, want) {
		t.Errorf("usable %v, want %v", answer.Usable, want)
	}
}

// TestTrendOfOnePointADay has it compared, and what alone was not the same is named.
func TestTrendOfOnePointADay(t *testing.T) {
	q := &model.TrendQuestion{Points: []model.TrendPoint{{Day: 3, Quantity: "travel", Value: 10, Conditions: model.TrendConditions{Site: "chin", Rater: "p"}},
		{Day: 9, Quantity: "travel", Value: 8, Conditions: model.TrendConditions{Site: "chin", Rater: "q"}}}}
	answer := trendOf(t, q)
	if got := changesOf(&answer); !slices.Equal(got, []string{"travel 3 9 same"}) {
		t.Errorf("%q", got)
	}
	if c := answer.Conditions; len(c) != 1 || c[0].From != 3 || c[0].To != 9 || !slices.Equal(c[0].Names, []string{"rater"}) || c[0].Message.Code != "trend.conditions" {
		t.Errorf("%+v", c)
	}
}

// TestTrendNamesTheUnitOfWhatIsRefused.
func TestTrendNamesTheUnitOfWhatIsRefused(t *testing.T) {
	for quantity, want := range map[string]string{"force-rested": "0 to 10000 gf", "force-tired-left": "0 to 10000 gf", "travel": "0 to 10000 mm",
		"release": "0 to 10000 s", "help-door": "0 to 10000 level", "domain-pos": "0 to 100 points"} {
		_, err := engine.TrendOf(&model.TrendQuestion{Points: []model.TrendPoint{{Quantity: quantity, Value: -1}}})
		if bad := (*validation.Error)(nil); !errors.As(err, &bad) || bad.Want != want {
			t.Errorf("%s: %v, want %s", quantity, err, want)
		}
	}
}
