package engine_test

import (
	"strings"
	"testing"

	"doorsill/internal/engine"
)

func TestRepeatsWhileTheyAreTaken(t *testing.T) {
	for name, c := range map[string]struct{ in, want string }{
		"none yet":               {"force\tgf", "0\t-\t-\t3\t0\t-\tNot measured yet."},
		"one of three":           {"force\tgf\t64", "1\t64\t-\t2\t0\t-\tOne reading only, 64 gf: it stands as it is, but how steady it is cannot be said; two more are wanted."},
		"steady":                 {"force\tgf\t95\t100\t105", "3\t100\t10\t0\t0\t-\tMean of 3, 100 gf, spread 10 %; the true mean probably lies between 87.6 and 112.4 gf."},
		"far apart":              {"force\tgf\t80\t100\t120", "3\t100\t40\t0\t1\t-\t"},
		"far apart but two":      {"force\tgf\t10\t100", "2\t55\t163.6\t1\t0\t-\t"},
		"weak is read coarsely":  {"force\tgf\t35\t40\t45", "3\t40\t25\t0\t0\t-\t"},
		"weak in newton":         {"force\tN\t0.35\t0.4\t0.45", "3\t0.4\t25\t0\t0\t-\tMean of 3, 0.4 N, spread 25 %; the true mean probably lies between 0.28 and 0.52 N."},
		"strong in newton":       {"force\tN\t3.5\t4\t4.5", "3\t4\t25\t0\t1\t-\t"},
		"eight are enough":       {"force\tgf\t10\t100\t10\t100\t10\t100\t10\t100", "8\t55\t163.6\t0\t0\t1,3,5,7\t"},
		"an odd one":             {"switch-force\tgf\t50\t52\t420", "3\t174\t212.6\t0\t1\t2\t"},
		"under half of the rest": {"force\tgf\t50\t20\t52", "3\t40.666667\t78.7\t0\t1\t1\t"},
		"nothing came":           {"force\tgf\t0\t0\t0", "3\t0\t-\t0\t0\t-\tTried 3 times and nothing came: 0 gf."},
		"travel needs one":       {"travel\tmm", "0\t-\t-\t1\t0\t-\tNot measured yet."},
		"travel":                 {"travel\tmm\t11\t13", "2\t12\t-\t0\t0\t-\tMean of 2, 12 mm."},
		"the largest not meant":  {"unintended\tgf\t4\t30\t2", "3\t30\t-\t0\t0\t-\tLargest of 3: 30 gf."},
	} {
		if got := engine.Repeats(c.in); !strings.HasPrefix(got, c.want) || strings.HasSuffix(c.want, ".") && got != c.want+"\n" {
			t.Errorf("%s: %q\nwant %q", name, got, c.want)
		}
	}
	if got := engine.Repeats("force\tgf\t64\ntravel\tmm\t9\n"); strings.Count(got, "\n") != 2 {
		t.Errorf("two series gave %q", got)
	}
}

func TestRunWhileItIsDriven(t *testing.T) {
	for name, c := range map[string]struct {
		in   string
		want []string
	}{
		"indoors": {"run\tindoors\trested\t300\t100\t3\t0\t2\t0\t1\t0", []string{
			"figure\tcontacts\t-\t-\t1.5\tper 50 m\tmeasured\t", "figure\tprompts\t-\t-\t4\tper 10 min\tmeasured\t", "figure\tpresses\t-\t-\t0\tper 10 min\tmeasured\t",
		}},
		"too short": {"run\tindoors\trested\t20\t0\t1\t0\t0\t0\t0\t0", []string{
			"figure\tcontacts\t-\t-\t-\tper 50 m\tmissing\t1 contacts with things in 0 m indoors: too little for a rate; 50 m are wanted, 25 at least.\n",
			"figure\tprompts\t-\t-\t-", "figure\tpresses\t-\t-\t-",
		}},
		"rough":    {"run\trough\ttired\t600\t100\t9\t0\t9\t0\t1\t2", []string{"figure\trough\t-\t-\t0.2\tper 20 m\t", "figure\tpresses\t-\t-\t2\t"}},
		"outdoors": {"run\toutdoors\ttired\t600\t100\t9\t0\t9\t0\t1\t2", []string{"figure\tpresses\t-\t-\t2\t"}},
	} {
		got := strings.SplitAfter(engine.Run(c.in), "\n")
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
		if got := engine.Convert(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
	for _, unit := range []string{"gf", "N", "ozf", "lbf"} {
		for _, typed := range []string{"0.001", "0.007", "0.25", "2.345", "12.34"} {
			if got := engine.Convert("gf\t" + unit + "\t" + engine.Convert(unit+"\tgf\t"+typed)); got != typed {
				t.Errorf("%s %s came back as %s", typed, unit, got)
			}
		}
	}
}

func TestMeasuringCallsSayWhatWasWrong(t *testing.T) {
	for name, c := range map[string]struct{ got, want string }{
		"no number":     {engine.Repeats("force\tgf\tmany"), "value: expected a number"},
		"below zero":    {engine.Repeats("force\tgf\t-1"), "value: expected a number"},
		"wrong unit":    {engine.Repeats("force\tmm\t1"), "expected gf, N, ozf or lbf"},
		"travel in gf":  {engine.Repeats("travel\tgf\t1"), "no unit that is known"},
		"what":          {engine.Repeats("weight\tgf\t1"), "no unit that is known"},
		"empty line":    {engine.Repeats("\n"), "unit: expected one more field"},
		"no run":        {engine.Run("reading\tforce"), "kind: expected run"},
		"half a run":    {engine.Run("run\tindoors\trested"), "seconds: expected one more field"},
		"long run":      {engine.Run("run\trough\ttired\t6\t1\t9\t0\t9\t0\t1\t2\t7"), "expected no further field"},
		"unit in words": {engine.Convert("gf\tpound\t1"), "expected gf, N, ozf or lbf"},
		"nothing":       {engine.Convert(""), "to: expected one more field"},
	} {
		if !strings.HasPrefix(c.got, "error\t") || !strings.Contains(c.got, c.want) {
			t.Errorf("%s: %q, want %q", name, c.got, c.want)
		}
	}
}
