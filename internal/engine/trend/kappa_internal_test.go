package trend

import (
	"strings"
	"testing"

	"doorsill/internal/reftables"
)

// TestWeightsOfAnyShape checks the sum behind Kappa with the uneven weights of
// Cohen's own example.
func TestWeightsOfAnyShape(t *testing.T) {
	disagreement := [][]float64{{0, 1, 3}, {1, 0, 6}, {3, 6, 0}}
	found := false
	for _, row := range reftables.Rows(t, "agreement.csv") {
		if row.Text("what") != "cohen-1968" {
			continue
		}
		found = true
		if !strings.HasPrefix(row.Text("args"), "44 7 9") {
			t.Fatal("the table is not Cohen's")
		}
		c, err := kappaWith([][]int{{44, 7, 9}, {5, 20, 5}, {1, 3, 6}}, func(i, j int) float64 { return 1 - disagreement[i][j]/6 })
		if err != nil {
			t.Fatal(err)
		}
		row.Close(c.Kappa)
	}
	if !found {
		t.Error("the table has lost Cohen's example")
	}
}

// TestWordsOfKappaAtTheirBounds: the usual words begin above 0.20, 0.40, 0.60 and
// 0.80.
func TestWordsOfKappaAtTheirBounds(t *testing.T) {
	for kappa, want := range map[float64]string{
		-0.3: "slight", 0.2: "slight", 0.2001: "fair", 0.4: "fair", 0.4001: "moderate", 0.6: "moderate",
		0.6001: "substantial", 0.8: "substantial", 0.8001: "almost-perfect", 1: "almost-perfect",
	} {
		if got := kappaWord(kappa).Code; got != "trend.kappa-"+want {
			t.Errorf("%v is called %s, want %s", kappa, got, want)
		}
	}
}
