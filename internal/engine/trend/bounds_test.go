package trend_test

import (
	"testing"

	"doorsill/internal/engine/trend"
)

// onALine is a course of five visits that lie on a line: 2 gf a week down to 76.
func onALine(needed, wait float64) trend.Course {
	c := trend.Course{Kind: "slow", Needed: needed, JudgedLoss: none, WaitWeeks: wait, Series: []trend.Series{{}}}
	for i := range 5 {
		force := 108 - 8*float64(i)
		c.Series[0].Visits = append(c.Series[0].Visits, trend.Visit{Day: 28 * i, Rested: force, Tired: force})
	}
	return c
}

// TestAWaitAtItsBounds: reserve 2 of 20 gf is 18 weeks away, reserve 3 of 10 gf is
// 23, and that is to last 12 weeks after delivery.
func TestAWaitAtItsBounds(t *testing.T) {
	for _, c := range []struct {
		needed, wait  float64
		runsOut, less bool
	}{
		{20, 18, false, true}, {20, 18.1, true, true}, {10, 11, false, false}, {10, 11.1, false, true},
		// Reserve 2 of 40 gf is behind; of a thousandth neither comes.
		{40, 0, true, true}, {40, none, false, false}, {0.001, 20, false, false},
	} {
		f := must[trend.Forecast](t)(trend.ForecastOf(onALine(c.needed, c.wait)))
		if f.RunsOut != c.runsOut || f.LighterClass != c.less || (len(f.Advice) > 0) != c.runsOut {
			t.Errorf("%v gf and a wait of %v: runs out %v, lighter class %v; reserve 3 %+v, 2 %+v", c.needed, c.wait, f.RunsOut, f.LighterClass, f.To3, f.To2)
		}
	}
}

// TestWhatDoesNotFallDoesNotRunOut before the control comes.
func TestWhatDoesNotFallDoesNotRunOut(t *testing.T) {
	c := onALine(20, 100)
	for i := range c.Series[0].Visits {
		v := &c.Series[0].Visits[i]
		v.Rested = 100 + float64(i)
		v.Tired = v.Rested
	}
	if f := must[trend.Forecast](t)(trend.ForecastOf(c)); f.RunsOut || f.LighterClass || f.To2.EarlyKnown || len(f.Chances) != 2 {
		t.Errorf("runs out %v, lighter class %v, %+v", f.RunsOut, f.LighterClass, f.To2)
	}
}

// TestALineNeedsThreeVisitsOverEightWeeks, to the day.
func TestALineNeedsThreeVisitsOverEightWeeks(t *testing.T) {
	c := onALine(20, none)
	visits := c.Series[0].Visits
	for _, one := range []struct {
		last int
		from []trend.Visit
		want string
	}{{56, visits[:3], trend.OwnData}, {55, visits[:3], trend.NoLine}, {56, visits[:2], trend.NoLine}} {
		v := append([]trend.Visit{}, one.from...)
		v[len(v)-1].Day = one.last
		c.Series[0].Visits = v
		if f := must[trend.Forecast](t)(trend.ForecastOf(c)); f.Line != one.want {
			t.Errorf("%d visits to day %d: line %q, want %q", len(v), one.last, f.Line, one.want)
		}
	}
}

// TestTheFarthestTimeThatIsGiven is 260 weeks: 100 gf that lose 0.2 a week are at
// 48 then.
func TestTheFarthestTimeThatIsGiven(t *testing.T) {
	c := onALine(24, none)
	c.Series[0].Visits = []trend.Visit{{Rested: 100, Tired: 100}}
	for loss, known := range map[float64]bool{0.2: true, 0.199: false} {
		c.JudgedLoss = loss
		f := must[trend.Forecast](t)(trend.ForecastOf(c))
		if f.To2.MidKnown != known || known && f.To2.Mid != 260 {
			t.Errorf("a loss of %v: %+v", loss, f.To2)
		}
	}
}

// TestAJudgedBandIsHalfTheLossAroundAForceThatScatters: from 100 gf with 10 gf a
// week, to 2 · 20: by the loss 6 weeks; (100 − 16.45 − 40)/15 and (100 + 16.45 −
// 40)/5 at the ends.
func TestAJudgedBandIsHalfTheLossAroundAForceThatScatters(t *testing.T) {
	c := onALine(20, none)
	c.Series[0].Visits, c.JudgedLoss = []trend.Visit{{Rested: 100, Tired: 100}}, 10
	u := must[trend.Forecast](t)(trend.ForecastOf(c)).To2
	if u.Mid != 6 || u.Early != 2.9 || u.Late != 15.3 {
		t.Errorf("%+v", u)
	}
}

func TestForcesFarApartAtTheBound(t *testing.T) {
	for second, check := range map[float64]bool{110: false, 110.2: true} {
		if a := must[trend.Apart](t)(trend.ForcesApart([]float64{90}, []float64{second})); a.Check != check {
			t.Errorf("90 and %v: %+v", second, a)
		}
	}
}

// TestAimsOfAgreementAtTheirBounds: 75 of 100 the same, 95 within one level.
func TestAimsOfAgreementAtTheirBounds(t *testing.T) {
	pairs := func(same, near, far int) []trend.Pair {
		var out []trend.Pair
		for range same {
			out = append(out, trend.Pair{A: 1, B: 1})
		}
		for range near {
			out = append(out, trend.Pair{A: 1, B: 2})
		}
		for range far {
			out = append(out, trend.Pair{A: 0, B: 3})
		}
		return out
	}
	for _, c := range []struct {
		same, near, far int
		sameMet, within bool
	}{{75, 20, 5, true, true}, {74, 21, 5, false, true}, {75, 19, 6, true, false}} {
		a := must[trend.Agreement](t)(trend.Agree(pairs(c.same, c.near, c.far), 4))
		if a.SameMet != c.sameMet || a.WithinMet != c.within {
			t.Errorf("%+v: same %v, within %v", c, a.SameMet, a.WithinMet)
		}
	}
}
