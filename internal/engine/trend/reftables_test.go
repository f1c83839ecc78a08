package trend_test

import (
	"strconv"
	"strings"
	"testing"

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

// points reads x and y, parted by a semicolon.
func points(t *testing.T, text string) (x, y []float64) {
	t.Helper()
	xs, ys, _ := strings.Cut(text, ";")
	return numbers(t, xs), numbers(t, ys)
}

// TestLinesAsPublished checks the line, its bounds and what a forecast makes of
// it against figures from outside.
func TestLinesAsPublished(t *testing.T) {
	data := map[string]string{}
	for _, row := range reftables.Rows(t, "trend.csv") {
		what, args := row.Text("what"), row.Text("args")
		if what == "data" {
			name, values, _ := strings.Cut(args, ";")
			data[name] = values
			continue
		}
		if named, is := data[args]; is {
			args = named
		}
		x, y := points(t, args)
		part := strings.Split(what, "-")
		if part[0] == "reach" || part[0] == "chance" {
			row.Close(foreseen(t, x, y, part))
			continue
		}
		line := must[trend.Line](t)(trend.LeastSquares(x, y))
		switch part[0] {
		case "slope":
			row.Close(line.Slope)
		case "intercept":
			row.Close(line.Intercept)
		case "scatter":
			row.Close(line.Scatter)
		default: // such as low-975-12: the lower bound at 12 that holds with 97.5 %
			of := numbers(t, part[1]+" "+part[2])
			low, mid, high := line.Bound(of[1], of[0]/1000)
			row.Close(map[string]float64{"low": low, "mid": mid, "high": high}[part[0]])
		}
	}
}

// foreseen forecasts from reserves at weeks, and counts from the first.
func foreseen(t *testing.T, weeks, reserves []float64, part []string) float64 {
	t.Helper()
	c := trend.Course{Kind: "slow", Needed: 1, JudgedLoss: none, WaitWeeks: none, Series: []trend.Series{{}}}
	for i, week := range weeks {
		c.Series[0].Visits = append(c.Series[0].Visits, trend.Visit{Day: int(7 * week), Rested: reserves[i], Tired: reserves[i]})
	}
	last := weeks[len(weeks)-1]
	if part[0] == "chance" {
		c.WaitWeeks = numbers(t, part[1])[0] - last
		return must[trend.Forecast](t)(trend.ForecastOf(c)).Chances[0].Percent
	}
	u := must[trend.Forecast](t)(trend.ForecastOf(c)).To2
	return last + map[string]float64{"early": u.Early, "mid": u.Mid, "late": u.Late}[part[1]]
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
