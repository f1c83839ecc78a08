package provenance_test

import (
	"testing"

	"doorsill/internal/engine/provenance"
)

func TestApartShowsThatAFigureIsNotTheMark(t *testing.T) {
	for _, c := range []struct {
		x     float64
		least int
		marks []float64
		want  int
	}{
		{13, 0, []float64{12.7}, 1}, {12.7, 0, []float64{12.7}, 0}, {14, 0, []float64{12.7}, 0},
		{11.98, 1, []float64{12, 10, 8}, 2}, {11, 1, []float64{12, 10, 8}, 1}, {9.9999, 1, []float64{12, 10}, 4},
		{5 + 1e-9, 0, []float64{5}, 0}, {5.000001, 0, []float64{5}, 6}, {5, 0, []float64{provenance.NotMeasured(), 5.04}, 2}, {provenance.NotMeasured(), 2, []float64{5}, 2},
		{provenance.NotMeasured(), 2, []float64{0.001}, 2}, {0.001, 2, []float64{provenance.NotMeasured()}, 2}, // what was not measured is not 0
	} {
		if got := provenance.Apart(c.x, c.least, c.marks...); got != c.want {
			t.Errorf("%v beside %v: %d decimals, want %d", c.x, c.marks, got, c.want)
		}
	}
}

func TestFloorNeverGivesMoreThanThereIs(t *testing.T) {
	for _, c := range []struct {
		x        float64
		decimals int
		want     float64
	}{{48.96, 1, 48.9}, {-0.04, 1, -0.1}, {0.3, 1, 0.3}, {59.5, 0, 59}, {0.1 + 0.2, 1, 0.3}, {119, 1, 119}, {-12, 0, -12}} {
		if got := provenance.Floor(c.x, c.decimals); got != c.want {
			t.Errorf("%v to %d decimals: %v, want %v", c.x, c.decimals, got, c.want)
		}
	}
}
