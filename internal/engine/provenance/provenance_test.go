package provenance_test

import (
	"errors"
	"math"
	"testing"

	"doorsill/internal/engine/provenance"
)

func TestARefusalSaysFieldExpectationAndWhatIsLeft(t *testing.T) {
	err := provenance.Above("door width", 0, 3000, "mm", "The corridor can still be judged.")
	const want = "door width: expected a number above 0 and at most 3000 mm. The corridor can still be judged."
	if err == nil || err.Error() != want {
		t.Errorf("got %v, want %q", err, want)
	}
	var refusal *provenance.Refusal
	if !errors.As(err, &refusal) || refusal.Field != "door width" {
		t.Errorf("%v does not name its field", err)
	}
}

func TestOnlyNumbersInRangePass(t *testing.T) {
	for _, x := range []float64{0, -1, 11, math.NaN(), math.Inf(1), math.Inf(-1)} {
		if provenance.Above("x", x, 10, "", "") == nil {
			t.Errorf("Above let %v pass", x)
		}
	}
	for _, x := range []float64{-1, 11, math.NaN(), math.Inf(1), math.Inf(-1)} {
		if provenance.Within("x", x, 0, 10, "", "") == nil {
			t.Errorf("Within let %v pass", x)
		}
		if provenance.Measured(x) != (x == -1 || x == 11) {
			t.Errorf("Measured(%v) is wrong", x)
		}
	}
	if provenance.First(nil, provenance.Within("x", 0, 0, 10, "", ""), provenance.Above("x", 10, 10, "", "")) != nil {
		t.Error("the ends of a range are refused")
	}
}

func TestRoundingHasNoNegativeZeroAndNoTail(t *testing.T) {
	for _, c := range []struct {
		x        float64
		decimals int
		want     string
	}{
		{-0.0004, 3, "0"}, {2.5, 0, "3"}, {-2.5, 0, "-3"}, {1234.5678, 2, "1234.57"}, {0.30000000000000004, 4, "0.3"}, {1e6, 1, "1000000"},
	} {
		if got := provenance.Text(c.x, c.decimals); got != c.want {
			t.Errorf("Text(%v, %d) = %q, want %q", c.x, c.decimals, got, c.want)
		}
		if math.Signbit(provenance.Round(c.x, c.decimals)) && provenance.Round(c.x, c.decimals) == 0 {
			t.Errorf("Round(%v) is a negative zero", c.x)
		}
	}
	if got := provenance.Percent(0.0794); got != "7.9 %" {
		t.Errorf("Percent = %q", got)
	}
}
