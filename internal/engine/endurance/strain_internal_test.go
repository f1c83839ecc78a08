package endurance

import (
	"math"
	"testing"

	"doorsill/internal/reftables"
)

// factors are those that the strain index is the product of.
var factors = map[string]func(float64) float64{
	"intensity": intensityFactor, "efforts": effortsFactor, "duration": durationFactor, "hours": hoursFactor,
	"flexion":   func(degrees float64) float64 { return postureFactor(Flexion, degrees) },
	"extension": func(degrees float64) float64 { return postureFactor(Extension, degrees) },
}

func TestStrainFactorsAsComputedElsewhere(t *testing.T) {
	seen := map[string]bool{}
	for _, row := range reftables.Rows(t, "strain.csv") {
		what := row.Text("what")
		if factor, is := factors[what]; is {
			seen[what] = true
			row.Close(factor(row.Number("args")))
		}
	}
	if len(seen) != len(factors) {
		t.Errorf("rows only for %v", seen)
	}
}

// TestStrainFactorsJoin checks that the two pieces of each factor meet, as the
// authors' own figures do; the hours step at 0.05 h in the published form.
func TestStrainFactorsJoin(t *testing.T) {
	for _, c := range []struct {
		factor   string
		at, jump float64
	}{
		{"intensity", 0.4, 0.001}, {"efforts", 90, 0.01}, {"duration", 60, 0.01}, {"extension", 30, 0.0001}, {"hours", 0.05, 0.0105},
	} {
		below, above := factors[c.factor](c.at*(1-1e-9)), factors[c.factor](c.at*(1+1e-9))
		if math.Abs(above-below) > c.jump {
			t.Errorf("%s jumps from %v to %v at %v", c.factor, below, above, c.at)
		}
	}
	for _, bend := range []string{"flexion", "extension"} {
		if got := factors[bend](0); math.Abs(got-1) > 1e-12 {
			t.Errorf("a straight wrist gives %v in %s, want 1", got, bend)
		}
	}
}
