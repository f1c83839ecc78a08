package trend

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// TestQuantilesAgreeWithAReferenceLibrary compares with gonum's distuv, which
// inverts the incomplete beta function in another way.
func TestQuantilesAgreeWithAReferenceLibrary(t *testing.T) {
	freedoms := []float64{1, 1.7, 2, 3, 5, 9.25, 20, 63.5, 120, 1000}
	for _, p := range []float64{0.01, 0.025, 0.05, 0.3, 0.5, 0.7, 0.95, 0.975, 0.99} {
		for _, d1 := range freedoms {
			for _, d2 := range freedoms {
				got, want := fQuantile(p, d1, d2), distuv.F{D1: d1, D2: d2}.Quantile(p)
				if math.Abs(got-want) > 1e-6*(1+math.Abs(want)) {
					t.Errorf("F quantile of %v with %v and %v degrees of freedom is %v, gonum says %v", p, d1, d2, got, want)
				}
			}
		}
	}
}

// TestQuantilesOfTables checks figures that printed tables of F give.
func TestQuantilesOfTables(t *testing.T) {
	for _, c := range []struct{ p, d1, d2, want float64 }{
		{0.95, 1, 2, 18.5128}, {0.95, 2, 3, 9.5521}, {0.95, 5, 10, 3.3258}, {0.975, 5, 10, 4.2361},
	} {
		if got := fQuantile(c.p, c.d1, c.d2); math.Abs(got-c.want) > 5.1e-5 {
			t.Errorf("F of %v with %v and %v degrees of freedom is %v, tables say %v", c.p, c.d1, c.d2, got, c.want)
		}
	}
}

// TestFarQuantilesKeepTheirDigits: with 2 and 2 degrees of freedom F is p/(1 − p),
// with 1 and 1 the square of Cauchy's tan(π·p/2).
func TestFarQuantilesKeepTheirDigits(t *testing.T) {
	for _, p := range []float64{1 - 1e-10, 1 - 1e-7, 0.999, 0.5, 0.001, 1e-7} {
		if got, want := fQuantile(p, 2, 2), p/(1-p); math.Abs(got/want-1) > 1e-9 {
			t.Errorf("F of %v with 2 and 2 degrees of freedom is %v, want %v", p, got, want)
		}
	}
	if got, want := fQuantile(0.9, 1, 1), math.Pow(math.Tan(math.Pi*0.45), 2); math.Abs(got/want-1) > 1e-9 {
		t.Errorf("F of 0.9 with 1 and 1 degrees of freedom is %v, want %v", got, want)
	}
}
