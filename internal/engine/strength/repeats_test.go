package strength_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"doorsill/internal/engine/strength"
)

func TestWhatIsNoMeasurementIsSaidInASentence(t *testing.T) {
	for _, c := range []struct {
		value float64
		unit  string
		want  strength.Error
	}{
		{math.NaN(), "gf", strength.ErrNotANumber},
		{math.Inf(1), "N", strength.ErrNotANumber},
		{-0.1, "gf", strength.ErrNegative},
		{5, "", strength.ErrUnit},
		{5, "kg", strength.ErrUnit},
		{5, "GF", strength.ErrUnit},
	} {
		if got, err := strength.ToGF(c.value, c.unit); !errors.Is(err, c.want) || got != 0 {
			t.Errorf("ToGF(%v, %q) = %v, %v; want 0 and %v", c.value, c.unit, got, err, c.want)
		}
		if text := said(c.want.Message()); !strings.Contains(text, "expected") && !strings.Contains(text, "never less") {
			t.Errorf("%v does not say what was expected: %q", c.want, text)
		}
	}
	for _, values := range [][]float64{nil, {1, math.NaN()}, {1, -1}} {
		if _, err := strength.Summarise(values); err == nil {
			t.Errorf("Summarise(%v) made numbers up", values)
		}
	}
}

func TestFewRepeatsSayWhatCanStillBeSaid(t *testing.T) {
	for _, c := range []struct {
		values []float64
		want   string
	}{
		{[]float64{64}, "One reading only, 64 gf: it counts, but how steady it is cannot be said. Take two more."},
		{[]float64{60, 64}, "Mean of two, 62 gf, 6 % apart. Two readings say little (the true mean probably lies between 36.6 and 87.4 gf): take one more."},
		{[]float64{2, 9}, "Mean of 2, 5.5 gf, 127 % apart: too far apart to give a range."},
		{[]float64{58, 60, 62}, "Mean of 3, 60 gf, spread 7 %; the true mean probably lies between 55 and 65 gf."},
		{[]float64{0, 0, 0}, "Tried 3 times and nothing came: 0 gf."},
		{[]float64{0}, "Tried once and nothing came: 0 gf."},
	} {
		r, err := strength.Summarise(c.values)
		if err != nil {
			t.Fatal(err)
		}
		if got := said(r.Say("gf")); got != c.want {
			t.Errorf("%v: %q, want %q", c.values, got, c.want)
		}
	}
	zero, _ := strength.Summarise([]float64{0, 0, 0})
	if zero.HasSpread() || zero.Spread != 0 || zero.CV != 0 {
		t.Errorf("three zeros were given a spread: %+v", zero)
	}
}

func TestReserveWords(t *testing.T) {
	for _, c := range []struct{ usable, want string }{
		{"19.99", "short"}, {"20", "tight"}, {"29.99", "tight"}, {"30", "workable"}, {"69.99", "workable"},
		{"70", "roomy"}, {"200", "roomy"}, {"200.1", "over-light"},
	} {
		a := strength.Analyse(pulls("index-right", c.usable), setup(10))
		if got := strength.Word(a.Reserve.Value); got != c.want {
			t.Errorf("%s gf for 10 gf is %q, want %q", c.usable, got, c.want)
		}
	}
}
