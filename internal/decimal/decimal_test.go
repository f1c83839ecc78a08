package decimal_test

import (
	"math"
	"testing"

	"doorsill/internal/decimal"
)

func TestRoundingTakesTheAskedSide(t *testing.T) {
	for _, c := range []struct {
		x              float64
		decimals       int
		down, up, near string
	}{
		{0.29, 2, "0.29", "0.29", "0.29"}, // 0.29*100 is 28.99… in binary
		{2.999999, 1, "2.9", "3.0", "3.0"},
		{2.9999999, 1, "3.0", "3.0", "3.0"}, // six decimals first
		{0.254, 2, "0.25", "0.26", "0.25"},
		{-0.5, 0, "-1", "0", "-1"},
		{-12.34, 1, "-12.4", "-12.3", "-12.3"},
		{1.25, 1, "1.2", "1.3", "1.3"},
		{0, 3, "0.000", "0.000", "0.000"},
		{999.9996, 3, "999.999", "1000.000", "1000.000"},
	} {
		m, ok := decimal.Of(c.x)
		if !ok {
			t.Fatalf("Of(%v) refused", c.x)
		}
		got := [3]string{m.Down(c.decimals).Fixed(c.decimals), m.Up(c.decimals).Fixed(c.decimals), m.Fixed(c.decimals)}
		if want := [3]string{c.down, c.up, c.near}; got != want {
			t.Errorf("%v at %d decimals: down, up, near = %q, want %q", c.x, c.decimals, got, want)
		}
	}
}

func TestShortDropsZerosOnlyBehindThePoint(t *testing.T) {
	for x, want := range map[float64]string{100: "100", 2.5: "2.5", 0: "0", -3: "-3", 0.000001: "0.000001", 1200.1200: "1200.12"} {
		if m, _ := decimal.Of(x); m.Text() != want {
			t.Errorf("%v is written %q, want %q", x, m.Text(), want)
		}
	}
}

func TestWhatIsNoNumberIsRefused(t *testing.T) {
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e13} {
		if m, ok := decimal.Of(x); ok {
			t.Errorf("Of(%v) = %v, want a refusal", x, m)
		}
	}
	if _, ok := decimal.Ratio(1, 0); ok {
		t.Error("a ratio to zero was given a number")
	}
}

func TestParse(t *testing.T) {
	for text, want := range map[string]decimal.Micro{
		"0": 0, "-0": 0, "1": 1_000_000, "-2.5": -2_500_000, "0.000001": 1, "1000000000000": 1e18, "-1000000000000": -1e18, "007": 7_000_000,
	} {
		if got, ok := decimal.Parse(text); !ok || got != want {
			t.Errorf("%q: got %d, %v, want %d", text, got, ok, want)
		}
	}
	for _, text := range []string{"", "-", ".", "1.", ".5", "1e3", "0.1234567", "1.2.3", "+1", "1000000000000.000001", "999999999999999999", "99999999999999999999", "x", "1 "} {
		if got, ok := decimal.Parse(text); ok {
			t.Errorf("%q was read as %d", text, got)
		}
	}
}
