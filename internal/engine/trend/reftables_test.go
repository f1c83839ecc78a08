package trend_test

import (
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat"

	"doorsill/internal/engine/trend"
	"doorsill/internal/reftables"
)

func must[T any](t *testing.T) func(T, error) T {
	return func(x T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
}

func numbers(t *testing.T, text string) []float64 {
	t.Helper()
	var list []float64
	for _, f := range strings.Fields(text) {
		x, err := strconv.ParseFloat(f, 64)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, x)
	}
	return list
}

func TestSlopesAsPublished(t *testing.T) {
	for _, row := range reftables.Rows(t, "trend.csv") {
		xs, ys, _ := strings.Cut(row.Text("args"), ";")
		x, y := numbers(t, xs), numbers(t, ys)
		line := must[trend.Line](t)(trend.TheilSen(x, y))
		switch row.Text("what") {
		case "slope":
			row.Close(line.Slope)
		case "intercept":
			row.Close(line.Intercept)
		case "low":
			row.Close(line.Low)
		case "high":
			row.Close(line.High)
		case "least-squares": // what a bad visit does to the ordinary line
			_, slope := stat.LinearRegression(x, y, nil, false)
			row.Close(slope)
		default:
			t.Errorf("unknown row %q", row.Text("what"))
		}
	}
}

// grid reads rows parted by a slash.
func grid(t *testing.T, text string) [][]float64 {
	t.Helper()
	var rows [][]float64
	for part := range strings.SplitSeq(text, "/") {
		rows = append(rows, numbers(t, part))
	}
	return rows
}

func counts(t *testing.T, text string) [][]int {
	t.Helper()
	var rows [][]int
	for _, row := range grid(t, text) {
		var whole []int
		for _, x := range row {
			whole = append(whole, int(x))
		}
		rows = append(rows, whole)
	}
	return rows
}

func TestAgreementAsPublished(t *testing.T) {
	for _, row := range reftables.Rows(t, "agreement.csv") {
		what, args := row.Text("what"), row.Text("args")
		name, part, _ := strings.Cut(what, "-")
		switch name {
		case "wilson":
			x := numbers(t, args)
			p := must[trend.Proportion](t)(trend.Wilson(int(x[0]), int(x[1])))
			row.Close(map[string]float64{"low": p.Low, "high": p.High}[part])
		case "icc", "msb", "msj", "mse":
			r := must[trend.Reliability](t)(trend.ICC(grid(t, args)))
			row.Close(map[string]float64{"icc": r.ICC, "icc-low": r.Low, "icc-high": r.High,
				"msb": r.BetweenTargets, "msj": r.BetweenRaters, "mse": r.Rest}[what])
		case "cohen": // weights of its own: see kappa_internal_test.go
		default:
			c := must[trend.Coefficient](t)(trend.Kappa(counts(t, args), trend.Weights(name)))
			row.Close(map[string]float64{"": c.Kappa, "se": c.SE, "low": c.Low, "high": c.High}[part])
		}
	}
}
