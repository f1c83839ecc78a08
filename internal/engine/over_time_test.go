package engine_test

import (
	"errors"
	"math"
	"reflect"
	"slices"
	"testing"

	"doorsill/internal/decimal"
	"doorsill/internal/engine"
	"doorsill/internal/message"
	"doorsill/internal/model"
	"doorsill/internal/validation"
)

func trendOf(t *testing.T, q *model.TrendQuestion) model.Trend {
	t.Helper()
	answer, err := engine.TrendOf(q)
	if err != nil {
		t.Fatal(err)
	}
	return answer
}

// changeBetween returns the direction of a change, "" where there is none.
func changeBetween(answer *model.Trend, quantity string, from, to int) string {
	for _, c := range answer.Changes {
		if c.Quantity == quantity && c.From == from && c.To == to {
			return c.Direction
		}
	}
	return ""
}

func TestTrendTellsChangeFromNoise(t *testing.T) {
	held := model.TrendConditions{Support: "held", Site: "chin", Control: "small 50", Settings: "0", TimeOfDay: "morning", Rater: "p", Checklist: "h"}
	other := model.TrendConditions{Support: "held", Site: "lip", Control: "small 50", Settings: "2", TimeOfDay: "evening", Rater: "q", Checklist: "h"}
	q := model.TrendQuestion{Course: "slow"}
	for _, p := range []struct {
		quantity             string
		before, after        float64
		covered, coveredThen int
	}{
		{"force-rested", 100, 79, 0, 0}, {"travel", 10, 12, 0, 0}, {"release", 0.8, 1.2, 0, 0},
		{"domain-pos", 70, 81, 95, 100}, {"domain-ctl", 70, 40, 82, 79}, {"help-a", 3, 2, 0, 0}, {"help-b", 3, 2, 0, 0},
	} {
		q.Points = append(q.Points, model.TrendPoint{Day: 100, Quantity: p.quantity, Value: p.before, Coverage: p.covered, Conditions: held},
			model.TrendPoint{Day: 130, Quantity: p.quantity, Value: p.after, Coverage: p.coveredThen, Conditions: other})
	}
	slices.SortStableFunc(q.Points, func(a, b model.TrendPoint) int { return a.Day - b.Day })
	answer := trendOf(t, &q)
	if len(answer.Conditions) != 1 || !slices.Equal(answer.Conditions[0].Names, []string{"site", "settings", "time-of-day", "rater"}) ||
		answer.Conditions[0].From != 100 || answer.Conditions[0].To != 130 {
		t.Errorf("not the same were %+v", answer.Conditions)
	}
	for quantity, want := range map[string]string{"force-rested": "down", "travel": "same", "release": "up", "domain-pos": "up",
		"domain-ctl": "", "help": "down", "help-a": ""} { // of domain-ctl less than 80 % was answered
		if got := changeBetween(&answer, quantity, 100, 130); got != want {
			t.Errorf("%s went %q, want %q", quantity, got, want)
		}
	}
	if answer.Message.Code != "trend.no-forces" || answer.Line != nil || answer.Recheck != nil {
		t.Errorf("without a control: %v, line %v, recheck %v", &answer.Message, answer.Line, answer.Recheck)
	}
}

// falling asks about forces five weeks apart, with a control that needs 50 gf.
func falling(course string, forces ...float64) *model.TrendQuestion {
	q := &model.TrendQuestion{Course: course, NeededGF: 50}
	for i, force := range forces {
		for _, quantity := range []string{"force-rested", "force-tired"} {
			q.Points = append(q.Points, model.TrendPoint{Day: 1000 + 35*i, Quantity: quantity, Value: force})
		}
	}
	return q
}

func TestTrendSeesASlowChangeOverTheWholeTime(t *testing.T) {
	answer := trendOf(t, falling("slow", 100, 90, 79))
	if got := changeBetween(&answer, "force-rested", 1035, 1070); got != "same" {
		t.Errorf("90 to 79 is %q", got)
	}
	if got := changeBetween(&answer, "force-rested", 1000, 1070); got != "down" {
		t.Errorf("100 to 79 is %q", got)
	}
}

// tenths is a number of tenths.
func tenths(n int) *decimal.Micro {
	m := decimal.Int(n) / 10
	return &m
}

// 220 to 180 gf over twenty weeks lose 2 gf a week, on a line: there are five
// visits, so that its own scatter of nothing counts. From 180 to 150 (reserve 3
// of 50 gf) are 15 weeks, to 100 are 40.
func TestTrendForecastsWhenAReserveIsReached(t *testing.T) {
	q := falling("slow", 220, 210, 200, 190, 180)
	wait := 45
	q.WaitWeeks, q.RecheckDay, q.RecheckWeeks = &wait, 1140, 12
	answer := trendOf(t, q)
	if len(answer.Usable) != 5 || answer.Usable[4] != (model.UsableForce{Day: 1140, Force: decimal.Int(180)}) {
		t.Errorf("usable are %v", answer.Usable)
	}
	if want := (model.TrendLine{Source: "own-data", Slope: tenths(-20), Scatter: tenths(0)}); !reflect.DeepEqual(*answer.Line, want) {
		t.Errorf("line %v", answer.Line)
	}
	about := func(weeks, reserve int) message.Message {
		return message.New("trend.reserve-about", message.Count("reserve", reserve), message.Count("weeks", weeks))
	}
	want := []model.Reach{
		{Reserve: decimal.Int(3), Weeks: tenths(150), Early: tenths(150), Late: tenths(150), Message: about(15, 3)},
		{Reserve: decimal.Int(2), Weeks: tenths(400), Early: tenths(400), Late: tenths(400), Message: about(40, 2)},
	}
	if !reflect.DeepEqual(answer.Reaches, want) {
		t.Errorf("reaches %+v", answer.Reaches)
	}
	if answer.Message.Code != "trend.forecast" || len(answer.Advice) != 5 || len(answer.Notes) != 2 || answer.Notes[0].Code != "trend.band-own" || answer.Notes[1].Code != "trend.caution" {
		t.Errorf("says %v, advice %v, notes %v", &answer.Message, answer.Advice, answer.Notes)
	}
	if first, last := answer.Band[0], answer.Band[len(answer.Band)-1]; first.Day != 1000 || first.Middle != decimal.Int(220) || last.Day < 1140+7*47 || last.High != last.Low {
		t.Errorf("band from %+v to %+v", first, last)
	}
	if c := answer.Chances; len(c) != 2 || c[0] != (model.ReserveChance{Reserve: decimal.Int(3), Weeks: decimal.Int(45)}) || c[1].Reserve != decimal.Int(2) {
		t.Errorf("chances %+v", c)
	}
	if p := answer.Provenance; len(p) != 2 || p[0].Quantity != "slope" || p[1].Quantity != "reserve" || p[0].Status == p[1].Status {
		t.Errorf("rests on %+v", p)
	}
	// Reserve 2 comes in 40 weeks and the control in 45: look in 4.
	if r := answer.Recheck; r == nil || r.Day != 1140+4*7 || r.Weeks != 4 || r.By != "forecast" || r.Message.Code != "trend.look-runs-out" {
		t.Errorf("look again %+v", r)
	}
}

// TestTrendForecastsByTheNeededDirections where they are known; what the weakest
// of each visit gave is then not asked.
func TestTrendForecastsByTheNeededDirections(t *testing.T) {
	q := falling("slow", 220, 210, 200, 190, 180)
	for _, direction := range []string{"left", "forward"} {
		for i, force := range []float64{300, 290, 280, 270, 260} {
			if direction == "left" {
				force += 40
			}
			q.Points = append(q.Points, model.TrendPoint{Day: 1000 + 35*i, Quantity: "force-rested-" + direction, Value: force},
				model.TrendPoint{Day: 1000 + 35*i, Quantity: "force-tired-" + direction, Value: force - 10})
		}
	}
	slices.SortStableFunc(q.Points, func(a, b model.TrendPoint) int { return a.Day - b.Day })
	answer := trendOf(t, q)
	if answer.Line.Direction != "forward" || answer.Usable[4].Force != decimal.Int(250) {
		t.Errorf("line %+v, usable %v", answer.Line, answer.Usable)
	}
	if r := answer.Reaches[0]; r.Weeks == nil || *r.Weeks != *tenths(500) { // 250 to 150 gf
		t.Errorf("reaches %+v", r)
	}
	for _, c := range answer.Changes {
		if c.Quantity != "force-rested" && c.Quantity != "force-tired" {
			t.Errorf("the change of %s is shown", c.Quantity)
		}
	}
}

// The early end of the band counts from the last day with forces: two of its 15
// weeks have passed at the visit without any. A tired force of 0 is none.
func TestTrendCountsTheNextLookFromTheLastForces(t *testing.T) {
	q := falling("slow", 220, 210, 200, 190, 180)
	q.Points[1].Value = 0
	q.Points = append(q.Points, model.TrendPoint{Day: 1154, Quantity: "travel", Value: 10})
	q.RecheckDay, q.RecheckWeeks = 1154, 20
	answer := trendOf(t, q)
	if r := answer.Recheck; r == nil || r.Weeks != 13 || r.Day != 1154+13*7 || r.Message.Code != "trend.look-reserve" {
		t.Errorf("%v, look again %+v", &answer.Message, r)
	}
}

func TestTrendDrawsNoLineWhereThereIsNone(t *testing.T) {
	for code, q := range map[string]*model.TrendQuestion{
		"trend.no-line-improving":   falling("improving", 100, 110, 120),
		"trend.no-line-fluctuating": falling("fluctuating", 120, 100, 130),
		"trend.too-few":             falling("slow", 120),
		"trend.no-course":           falling("", 120, 110, 100),
		"trend.no-forces":           falling("slow"),
	} {
		q.RecheckDay, q.RecheckWeeks = 1100, 6
		answer := trendOf(t, q)
		if answer.Message.Code != code || answer.Reaches != nil || answer.Line != nil && (answer.Line.Source != "none" || answer.Line.Slope != nil) {
			t.Errorf("%s: says %v, line %+v, reaches %v", code, &answer.Message, answer.Line, answer.Reaches)
		}
		if r := answer.Recheck; r == nil || r.Day != 1142 || r.Weeks != 6 || r.By != "interval" {
			t.Errorf("%s: look again %+v", code, r)
		}
	}
	judged, loss := falling("slow", 180), 2.0
	judged.JudgedLoss = &loss
	answer := trendOf(t, judged)
	if line := answer.Line; line.Source != "judged" || *line.Slope != *tenths(-20) || !line.ScatterAssumed || answer.Chances != nil {
		t.Errorf("line by a judged loss: %+v", line)
	}
}

func TestTrendRefusesWhatCannotBe(t *testing.T) {
	far, negative := 261, -2.0
	for _, c := range []struct {
		path, want, got string
		change          func(q *model.TrendQuestion)
	}{
		{"wait_weeks", "0 to 260 weeks", "261", func(q *model.TrendQuestion) { q.WaitWeeks = &far }},
		{"judged_loss", "0.000001 to 10000 gf", "-2", func(q *model.TrendQuestion) { q.JudgedLoss = &negative }},
		{"needed_gf", "0.000001 to 10000 gf", "-1", func(q *model.TrendQuestion) { q.NeededGF = -1 }},
		{"recheck_day", "0 to 1000000", "-1", func(q *model.TrendQuestion) { q.RecheckDay = -1 }},
		{"recheck_weeks", "0 to 260 weeks", "261", func(q *model.TrendQuestion) { q.RecheckWeeks = far }},
		{"points[0].day", "0 to 1000000", "-1", func(q *model.TrendQuestion) { q.Points[0].Day = -1 }},
		{"points[2].day", "a day not before the one above", "999", func(q *model.TrendQuestion) { q.Points[2].Day = 999 }},
		{"points[1].value", "0 to 10000 gf", "NaN", func(q *model.TrendQuestion) { q.Points[1].Value = math.NaN() }},
		{"points[3].value", "0 to 100 points", "101", func(q *model.TrendQuestion) {
			q.Points[3] = model.TrendPoint{Day: 1035, Quantity: "domain-pos", Value: 101}
		}},
		{"points[3].coverage", "0 to 100 %", "101", func(q *model.TrendQuestion) {
			q.Points[3] = model.TrendPoint{Day: 1035, Quantity: "domain-pos", Value: 100, Coverage: 101}
		}},
	} {
		q := falling("slow", 100, 90)
		c.change(q)
		_, err := engine.TrendOf(q)
		var bad *validation.Error
		if !errors.As(err, &bad) || *bad != (validation.Error{Code: validation.CodeOutOfRange, Path: c.path, Want: c.want, Got: c.got}) {
			t.Errorf("%s: got %v", c.path, err)
		}
	}
}
