package basis_test

import (
	"errors"
	"math"
	"testing"

	"doorsill/internal/engine/basis"
)

func TestARefusalSaysFieldExpectationAndWhatIsLeft(t *testing.T) {
	err := basis.Above("door width", 0, 3000, "mm", "The corridor can still be judged.")
	const want = "door width: expected a number above 0 and at most 3000 mm. The corridor can still be judged."
	if err == nil || err.Error() != want {
		t.Errorf("got %v, want %q", err, want)
	}
	var refusal *basis.Refusal
	if !errors.As(err, &refusal) || refusal.Field != "door width" {
		t.Errorf("%v does not name its field", err)
	}
}

func TestOnlyNumbersInRangePass(t *testing.T) {
	for _, x := range []float64{0, -1, 11, math.NaN(), math.Inf(1), math.Inf(-1)} {
		if basis.Above("x", x, 10, "", "") == nil {
			t.Errorf("Above let %v pass", x)
		}
	}
	for _, x := range []float64{-1, 11, math.NaN(), math.Inf(1), math.Inf(-1)} {
		if basis.Within("x", x, 0, 10, "", "") == nil {
			t.Errorf("Within let %v pass", x)
		}
		if basis.Measured(x) != (x == -1 || x == 11) {
			t.Errorf("Measured(%v) is wrong", x)
		}
	}
	if basis.First(nil, basis.Within("x", 0, 0, 10, "", ""), basis.Above("x", 10, 10, "", "")) != nil {
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
		if got := basis.Text(c.x, c.decimals); got != c.want {
			t.Errorf("Text(%v, %d) = %q, want %q", c.x, c.decimals, got, c.want)
		}
		if math.Signbit(basis.Round(c.x, c.decimals)) && basis.Round(c.x, c.decimals) == 0 {
			t.Errorf("Round(%v) is a negative zero", c.x)
		}
	}
	if got := basis.Percent(0.0794); got != "7.9 %" {
		t.Errorf("Percent = %q", got)
	}
}
