package engine_test

import (
	"math"
	"strings"
	"testing"

	"doorsill/internal/engine"
	"doorsill/internal/engine/enginetest"
	"doorsill/internal/model"
	"doorsill/internal/phrase"
	"doorsill/internal/validation"
)

func TestRepeatsWhileTheyAreTaken(t *testing.T) {
	for name, c := range map[string]struct{ in, want string }{
		"none yet":               {"force\tgf", "0\t-\t-\t3\t0\t-\tNot measured yet."},
		"one of three":           {"force\tgf\t64", "1\t64\t-\t2\t0\t-\tOne reading only, 64 gf: it counts, but how steady it is cannot be said. Take two more."},
		"steady":                 {"force\tgf\t95\t100\t105", "3\t100\t10\t0\t0\t-\tMean of 3, 100 gf, spread 10 %; the true mean probably lies between 87.6 and 112.4 gf."},
		"far apart":              {"force\tgf\t80\t100\t120", "3\t100\t40\t0\t2\t-\t"},
		"far apart but two":      {"force\tgf\t10\t100", "2\t55\t163.6\t1\t0\t-\t"},
		"weak is read coarsely":  {"force\tgf\t35\t40\t45", "3\t40\t25\t0\t0\t-\t"},
		"weak in newton":         {"force\tN\t0.35\t0.4\t0.45", "3\t0.4\t25\t0\t0\t-\tMean of 3, 0.4 N, spread 25 %; the true mean probably lies between 0.28 and 0.52 N."},
		"strong in newton":       {"force\tN\t3.5\t4\t4.5", "3\t4\t25\t0\t2\t-\t"},
		"one more after a rest":  {"force\tgf\t80\t100\t120\t100", "4\t100\t40\t0\t1\t-\t"},
		"five are enough":        {"force\tgf\t80\t100\t120\t100\t100", "5\t100\t40\t0\t0\t-\t"},
		"an odd one":             {"switch-force\tgf\t50\t52\t420", "3\t174\t212.6\t0\t2\t2\t"},
		"under half of the rest": {"force\tgf\t50\t20\t52", "3\t40.666667\t78.7\t0\t2\t1\t"},
		"nothing came":           {"force\tgf\t0\t0\t0", "3\t0\t-\t0\t0\t-\tTried 3 times and nothing came: 0 gf."},
		"travel needs one":       {"travel\tmm", "0\t-\t-\t1\t0\t-\tNot measured yet."},
		"travel":                 {"travel\tmm\t11\t13", "2\t12\t-\t0\t0\t-\tMean of 2, 12 mm."},
		"the largest not meant":  {"unintended\tgf\t4\t30\t2", "3\t30\t-\t0\t0\t-\tLargest of 3: 30 gf."},
	} {
		if got := enginetest.Repeats(c.in); !strings.HasPrefix(got, c.want) || strings.HasSuffix(c.want, ".") && got != c.want+"\n" {
			t.Errorf("%s: %q\nwant %q", name, got, c.want)
		}
	}
	if got := enginetest.Repeats("force\tgf\t64\ntravel\tmm\t9\n"); strings.Count(got, "\n") != 2 {
		t.Errorf("two series gave %q", got)
	}
}

// TestFarApartIsSaidAtOnce: from the second reading on, with both figures.
func TestFarApartIsSaidAtOnce(t *testing.T) {
	for name, c := range map[string]struct {
		values []float64
		want   string
	}{
		"one":         {[]float64{124}, ""},
		"two near":    {[]float64{124, 120}, ""},
		"two":         {[]float64{124, 62}, "62 and 124 lie far apart. Rest two minutes before the next. All are kept."},
		"three":       {[]float64{124, 62, 90}, "62 and 124 lie far apart. Rest two minutes, then two more. All are kept."},
		"four":        {[]float64{124, 62, 90, 95.5}, "62 and 124 lie far apart. Rest two minutes, then one more. All are kept."},
		"five":        {[]float64{124, 62, 90, 95, 92}, "62 and 124 lie far apart, also after a rest. All are kept."},
		"three alike": {[]float64{100, 105, 110}, ""},
	} {
		list, bad := engine.SummariseSeries([]model.Series{{What: "force", Unit: "gf", Values: c.values}})
		if bad != nil {
			t.Fatal(bad)
		}
		if got := phrase.NewWriter(phrase.English(), nil).Text(&list[0].Apart); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// TestValueBesideOthers: twice the others is asked about, with what a digit less or
// more makes of it where that is near them.
func TestValueBesideOthers(t *testing.T) {
	for name, c := range map[string]struct {
		q    model.PlausibleQuestion
		want string
	}{
		"first":                        {model.PlausibleQuestion{Value: 250}, ""},
		"near":                         {model.PlausibleQuestion{Value: 250, Others: []float64{240, 260}}, ""},
		"just twice":                   {model.PlausibleQuestion{Value: 500, Others: []float64{250}}, ""},
		"over twice":                   {model.PlausibleQuestion{Value: 501, Others: []float64{250}}, "501 gf? The others are near 250 gf."},
		"a digit too many":             {model.PlausibleQuestion{Value: 1900, Others: []float64{240, 250, 260}}, "1900 gf? The others are near 250 gf. 190 gf"},
		"a digit too few":              {model.PlausibleQuestion{Value: 25, Others: []float64{240, 250, 260}}, "25 gf? The others are near 250 gf. 250 gf"},
		"beside one that was nothing":  {model.PlausibleQuestion{Value: 25, Others: []float64{0}}, "25 gf? The others are near 0 gf."},
		"other directions are weaker":  {model.PlausibleQuestion{Value: 640, Directions: []float64{250, 260}}, ""},
		"a digit more than directions": {model.PlausibleQuestion{Value: 1900, Directions: []float64{250, 260}}, "1900 gf? The other directions are near 250 gf. 190 gf"},
		"weaker than other directions": {model.PlausibleQuestion{Value: 25, Directions: []float64{250, 260}}, ""},
		"its own before directions":    {model.PlausibleQuestion{Value: 1900, Others: []float64{1800}, Directions: []float64{250}}, ""},
		"what was not meant varies":    {model.PlausibleQuestion{What: "unintended", Value: 90, Others: []float64{4}}, ""},
		"in newton":                    {model.PlausibleQuestion{Unit: "N", Value: 19.5, Others: []float64{2}}, "19.5 N? The others are near 2 N. 1.95 N"},
	} {
		c.q.Site = "hand-right"
		if c.q.What == "" {
			c.q.What = "force"
		}
		if c.q.Unit == "" {
			c.q.Unit = "gf"
		}
		p := engine.Plausible(&c.q)
		got := phrase.NewWriter(phrase.English(), nil).Text(&p.Message)
		if p.Suggestion != nil {
			got += " " + p.Suggestion.Text() + " " + p.SuggestionUnit
		}
		if got != c.want || (p.Verdict == "ask") != (c.want != "") {
			t.Errorf("%s: %s %q, want %q", name, p.Verdict, got, c.want)
		}
	}
}

func TestRunWhileItIsDriven(t *testing.T) {
	for name, c := range map[string]struct {
		in   string
		want []string
	}{
		"indoors": {"run\tindoors\trested\t600\t100\t3\t0\t4\t0\t1\t0", []string{
			"figure\tcontacts\t-\t-\t1.5\tper 50 m\tmeasured\t", "figure\tprompts\t-\t-\t4\tper 10 min\tmeasured\t", "figure\tpresses\t-\t-\t0\tper 10 min\tmeasured\t",
		}},
		"too short": {"run\tindoors\trested\t20\t0\t1\t0\t0\t0\t0\t0", []string{
			"figure\tcontacts\t-\t-\t-\tper 50 m\tmissing\t1 contact with a thing in 0 m indoors. That is too little to say how often; drive at least 50 m.\n",
			"figure\tprompts\t-\t-\t-", "figure\tpresses\t-\t-\t-",
		}},
		"rough":    {"run\trough\ttired\t600\t100\t9\t0\t9\t0\t1\t2", []string{"figure\trough\t-\t-\t0.2\tper 20 m\t", "figure\tpresses\t-\t-\t2\t"}},
		"outdoors": {"run\toutdoors\ttired\t600\t100\t9\t0\t9\t0\t1\t2", []string{"figure\tpresses\t-\t-\t2\t"}},
	} {
		got := strings.SplitAfter(enginetest.Run(c.in), "\n")
		if len(got) != len(c.want)+1 {
			t.Errorf("%s: %q", name, got)
			continue
		}
		for i, want := range c.want {
			if !strings.HasPrefix(got[i], want) {
				t.Errorf("%s: %q, want %q", name, got[i], want)
			}
		}
	}
}

// TestConvertedForces uses NIST SP 811 (2008) App. B: 1 gf is 9.80665 mN, an
// ounce is a sixteenth of a pound of 453.59237 g.
func TestConvertedForces(t *testing.T) {
	for in, want := range map[string]string{
		"N\tgf\t1\t0.49": "101.972\t49.966", "lbf\tgf\t1": "453.592", "ozf\tgf\t1": "28.35", "gf\tgf\t12.3456": "12.346",
		"gf\tN\t49.966\t102": "0.49\t1", "gf\tlbf\t0.045": "0.0001", "gf\tN": "",
	} {
		if got := enginetest.Convert(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
	for _, unit := range []string{"gf", "N", "ozf", "lbf"} {
		for _, typed := range []string{"0.001", "0.007", "0.25", "2.345", "12.34"} {
			if got := enginetest.Convert("gf\t" + unit + "\t" + enginetest.Convert(unit+"\tgf\t"+typed)); got != typed {
				t.Errorf("%s %s came back as %s", typed, unit, got)
			}
		}
	}
}

func TestMeasuringCallsSayWhatWasWrong(t *testing.T) {
	series := func(what, unit string, values ...float64) error {
		_, err := engine.SummariseSeries([]model.Series{{What: "force", Unit: "gf"}, {What: what, Unit: unit, Values: values}})
		return orNil(err)
	}
	run := func(r model.RunTimed) error {
		_, err := engine.RunQuantities(&r)
		return orNil(err)
	}
	convert := func(to string, values ...float64) error {
		_, err := engine.Convert(values, "gf", to)
		return orNil(err)
	}
	for name, c := range map[string]struct {
		err  error
		want string
	}{
		"no number":     {series("force", "gf", 1, math.NaN()), "series[1].values: expected a number of 0 or more"},
		"below zero":    {series("force", "gf", -1), "series[1].values: expected a number of 0 or more"},
		"wrong unit":    {series("force", "mm", 1), "series[1].unit: expected gf, N, ozf or lbf"},
		"half a run":    {run(model.RunTimed{Place: "indoors"}), "state: expected rested or tired"},
		"unknown place": {run(model.RunTimed{Place: "moon", State: "tired"}), "place: expected indoors, outdoors or rough"},
		"unit in words": {convert("pound", 1), "unit: expected gf, N, ozf or lbf"},
		"infinite":      {convert("N", 1, math.Inf(1)), "values[1]: expected a number of 0 or more"},
	} {
		if c.err == nil || !strings.HasPrefix(c.err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, c.err, c.want)
		}
	}
}

func orNil(err *validation.Error) error {
	if err == nil {
		return nil
	}
	return err
}
