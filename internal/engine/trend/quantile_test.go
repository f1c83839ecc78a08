package trend_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"doorsill/internal/engine/trend"
)

// TestQuantilesAgreeWithAReferenceLibrary compares with gonum's distuv, which
// inverts the incomplete beta function in another way.
func TestQuantilesAgreeWithAReferenceLibrary(t *testing.T) {
	freedoms := []float64{1, 1.7, 2, 3, 5, 9.25, 20, 63.5, 120, 1000}
	for _, p := range []float64{0.01, 0.025, 0.05, 0.3, 0.5, 0.7, 0.95, 0.975, 0.99} {
		for _, d1 := range freedoms {
			near(t, "t", p, d1, 0, must[float64](t)(trend.TQuantile(p, d1)), distuv.StudentsT{Mu: 0, Sigma: 1, Nu: d1}.Quantile(p))
			for _, d2 := range freedoms {
				near(t, "F", p, d1, d2, must[float64](t)(trend.FQuantile(p, d1, d2)), distuv.F{D1: d1, D2: d2}.Quantile(p))
			}
		}
	}
}

func near(t *testing.T, name string, p, d1, d2, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-6*(1+math.Abs(want)) {
		t.Errorf("%s quantile of %v with %v and %v degrees of freedom is %v, gonum says %v", name, p, d1, d2, got, want)
	}
}

// TestQuantilesOfThreeReadings checks the figures that everybody knows from
// tables.
func TestQuantilesOfThreeReadings(t *testing.T) {
	for _, c := range []struct{ p, want float64 }{{0.975, 4.3027}, {0.95, 2.9200}, {0.90, 1.8856}} {
		if got := must[float64](t)(trend.TQuantile(c.p, 2)); math.Abs(got-c.want) > 5e-5 {
			t.Errorf("t of %v with 2 degrees of freedom is %v, tables say %v", c.p, got, c.want)
		}
	}
}

func TestQuantilesRefuseWhatCannotBe(t *testing.T) {
	_, err := trend.TQuantile(1, 2)
	refused(t, "certainty", err, "probability")
	_, err = trend.TQuantile(0.9, 0)
	refused(t, "no freedom", err, "degrees of freedom")
	_, err = trend.FQuantile(0.9, 3, math.NaN())
	refused(t, "no number", err, "degrees of freedom")
}
