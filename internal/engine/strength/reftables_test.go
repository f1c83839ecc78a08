package strength

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"doorsill/internal/reftables"
)

// referenceRows reads a table of testdata/reftables by column name. Every row names
// its source first.
func referenceRows(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "..", "testdata", "reftables", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if rows[0][0] != "source" || len(rows) < 2 {
		t.Fatalf("%s: expected a first column source and rows", name)
	}
	var list []map[string]string
	for _, row := range rows[1:] {
		fields := map[string]string{}
		for i, column := range rows[0] {
			fields[column] = row[i]
		}
		if figure := fields["figure"]; figure != reftables.Printed && figure != reftables.Computed && figure != reftables.Recalled {
			t.Fatalf("%s: %v does not say where the figure comes from", name, row)
		}
		list = append(list, fields)
	}
	return list
}

func parse(t *testing.T, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func near(got, want, tolerance float64) bool { return math.Abs(got-want) <= tolerance }

func TestUnitsAgainstTheSI(t *testing.T) {
	for _, row := range referenceRows(t, "units.csv") {
		value, newton, gf := parse(t, row["value"]), parse(t, row["newton"]), parse(t, row["gram_force"])
		got, err := ToGF(value, row["unit"])
		if err != nil {
			t.Fatal(err)
		}
		if !near(got, gf, gf*1e-15) {
			t.Errorf("%v %s is %v gf, want %v (%s)", value, row["unit"], got, gf, row["source"])
		}
		n, err := FromGF(got, "N")
		if err != nil || !near(n, newton, newton*1e-15) {
			t.Errorf("%v %s is %v N (%v), want %v (%s)", value, row["unit"], n, err, newton, row["source"])
		}
		back, err := FromGF(got, row["unit"])
		if err != nil || !near(back, value, value*1e-15) {
			t.Errorf("%v %s comes back as %v (%v)", value, row["unit"], back, err)
		}
	}
}

func TestStudentAgainstTheTable(t *testing.T) {
	for _, row := range referenceRows(t, "student_t.csv") {
		df := int(parse(t, row["df"]))
		got := tTwoSided(df)
		if row["upper_tail"] == "0.05" {
			got = tOneSided(df)
		}
		if !near(got, parse(t, row["t"]), 0.0005) {
			t.Errorf("t for %d degrees of freedom and upper tail %s is %.4f, want %s", df, row["upper_tail"], got, row["t"])
		}
	}
}

// TestStudentAgainstGonum compares with gonum.org/v1/gonum/stat/distuv.
func TestStudentAgainstGonum(t *testing.T) {
	for df := 1; df <= 500; df++ {
		dist := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(df)}
		if got, want := tTwoSided(df), dist.Quantile(0.975); !near(got, want, 2e-8*want) {
			t.Errorf("two-sided, df %d: %.10f, gonum %.10f", df, got, want)
		}
		if got, want := tOneSided(df), dist.Quantile(0.95); !near(got, want, 2e-8*want) {
			t.Errorf("one-sided, df %d: %.10f, gonum %.10f", df, got, want)
		}
	}
}

func TestRepeatsAgainstWorkedExamples(t *testing.T) {
	for _, row := range referenceRows(t, "repeats.csv") {
		if row["values"] == "" {
			handbook(t, row)
			continue
		}
		r := summarised(t, row["values"])
		for column, got := range map[string]float64{
			"n": float64(r.N), "mean": r.Mean, "sd": r.SD, "cv_percent": r.CV, "low": r.Low, "high": r.High, "lower": r.Lower,
		} {
			if want := parse(t, row[column]); !near(got, want, parse(t, row["tolerance"])) {
				t.Errorf("%s of %s is %v, want %v", column, row["values"], got, want)
			}
		}
	}
}

// handbook checks the interval alone, from summary numbers.
func handbook(t *testing.T, row map[string]string) {
	n, mean, sd := parse(t, row["n"]), parse(t, row["mean"]), parse(t, row["sd"])
	half := tTwoSided(int(n)-1) * sd / math.Sqrt(n)
	if low, high := parse(t, row["low"]), parse(t, row["high"]); !near(mean-half, low, 2e-6) || !near(mean+half, high, 2e-6) {
		t.Errorf("interval %.6f to %.6f, want %v to %v", mean-half, mean+half, low, high)
	}
}

func summarised(t *testing.T, values string) Repeats {
	t.Helper()
	var list []float64
	for _, field := range strings.Fields(values) {
		list = append(list, parse(t, field))
	}
	r, err := Summarise(list)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// TestRepeatsAgainstGonum compares mean, SD and interval with
// gonum.org/v1/gonum/stat on readings of many sizes.
func TestRepeatsAgainstGonum(t *testing.T) {
	seed := uint64(1)
	next := func() float64 {
		seed = seed*6364136223846793005 + 1442695040888963407
		return float64(seed>>40) / 100
	}
	for n := 2; n <= 60; n++ {
		values := make([]float64, n)
		for i := range values {
			values[i] = next()
		}
		r, err := Summarise(values)
		if err != nil {
			t.Fatal(err)
		}
		mean, sd := stat.MeanStdDev(values, nil)
		half := distuv.StudentsT{Sigma: 1, Nu: float64(n - 1)}.Quantile(0.975) * stat.StdErr(sd, float64(n))
		for _, c := range []struct{ got, want float64 }{{r.Mean, mean}, {r.SD, sd}, {r.CV, 100 * sd / mean}, {r.Low, mean - half}, {r.High, mean + half}} {
			if !near(c.got, c.want, 1e-7*math.Abs(c.want)+1e-9) {
				t.Errorf("n %d: got %v, gonum %v", n, c.got, c.want)
			}
		}
	}
}

// TestTheLastTermOfStudent by hand: (79z⁹ + 776z⁷ + 1482z⁵ − 1920z³ − 945z)/92160
// (Abramowitz and Stegun 1964, 26.7.5) is −528/92160 at 1 and 169950/92160 at 2.
// Beyond 30 degrees of freedom no comparison of quantiles would notice a mistake in it.
func TestTheLastTermOfStudent(t *testing.T) {
	for z, want := range map[float64]float64{1: -0.005729166667, 2: 1.844075520833} {
		if got := g4(z); !near(got, want, 1e-11) {
			t.Errorf("the last term at %v is %.12f, want %.12f", z, got, want)
		}
	}
}
