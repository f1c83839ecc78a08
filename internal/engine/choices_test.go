package engine_test

import (
	"strconv"
	"strings"
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/engine"
)

// line returns the first line of a result that begins with the fields.
func line(t *testing.T, text string, start string) string {
	t.Helper()
	result, err := engine.Score(authoring.Standard(), []byte(text))
	if err != nil {
		t.Fatalf("%v in\n%s", err, text)
	}
	for row := range strings.Lines(string(result)) {
		if strings.HasPrefix(row, start) {
			return strings.TrimSuffix(row, "\n")
		}
	}
	t.Fatalf("no line %q in\n%s", start, result)
	return ""
}

const kitSmall = "kit\tk1\tsmall\t20\t50\t4\t0\t-\t1\t1\t0\n"

// forcesOf writes the same force in every direction.
func forcesOf(value, unit string, states ...string) string {
	text := ""
	for _, d := range []string{"forward", "reverse", "left", "right"} {
		for _, state := range states {
			text += "reading\tforce\thand-right\t" + d + "\t" + state + "\t1\t" + value + "\t" + unit + "\t0\n"
		}
	}
	return text
}

// TestVerdictsDoNotDependOnTheUnit: the same force in another unit gives the
// same verdict.
func TestVerdictsDoNotDependOnTheUnit(t *testing.T) {
	const gfPerN, gfPerOZF = 101.97162129779282, 28.349523125
	for _, gf := range []float64{20, 99, 101, 149, 151, 400} {
		want := ""
		for unit, size := range map[string]float64{"gf": 1, "N": gfPerN, "ozf": gfPerOZF, "lbf": 16 * gfPerOZF} {
			value := strconv.FormatFloat(gf/size, 'f', 12, 64)
			got := line(t, "doorsill-visit\t1\n"+forcesOf(value, unit, "rested", "tired")+kitSmall, "why\tk1\thand-right\tforce")
			if want == "" {
				want = got
			}
			if got != want {
				t.Errorf("%v gf in %s: %s, else %s", gf, unit, got, want)
			}
		}
	}
}

// TestPoorReadingsSayWhatIsMissing: each says what can be said and what not.
func TestPoorReadingsSayWhatIsMissing(t *testing.T) {
	for _, c := range []struct{ name, text, start, want string }{
		{"nothing came", forcesOf("0", "gf", "tired") + kitSmall, "why\tk1\thand-right\tforce\tboth\tnot-feasible", "0 gf usable for 50 gf asked"},
		{"one reading", forcesOf("200", "gf", "tired") + kitSmall, "verdict\tk1\thand-right\tunknown", "travel"},
		{"no tired reading", forcesOf("200", "gf", "rested") + kitSmall, "why\tk1\thand-right\tforce\tboth\tmarginal", "no tired reading, so 0.7 of it counts (assumed)"},
		{"fading without a tired reading", forcesOf("300", "gf", "rested") + kitSmall, "why\tk1\thand-right\tfading\tboth\tunknown", "rested and tired"},
		{"one direction only", "reading\tforce\thand-right\tleft\ttired\t1\t200\tgf\t0\n" + kitSmall, "why\tk1\thand-right\tforce\tboth\tunknown", "No force reading at the right hand for: forward, reverse, right."},
		{"one direction that is too weak", "reading\tforce\thand-right\tleft\ttired\t1\t20\tgf\t0\n" + kitSmall, "why\tk1\thand-right\tforce\tboth\tnot-feasible", "reserve 0.4"},
		{"more travel than the control has", forcesOf("200", "gf", "tired") + "reading\ttravel\thand-right\tforward\trested\t1\t90\tmm\t0\n" + kitSmall,
			"why\tk1\thand-right\ttravel\tboth\tunknown", "No travel reading at the right hand for: reverse, left, right."},
		{"a control without its force", forcesOf("200", "gf", "tired") + "kit\tk1\tsmall\t0\t0\t0\t0\t-\t0\t0\t0\n", "why\tk1\thand-right\tforce\tboth\tunknown", "is not entered"},
	} {
		if got := line(t, "doorsill-visit\t1\n"+c.text, c.start); !strings.Contains(got, c.want) {
			t.Errorf("%s: %s, want %q", c.name, got, c.want)
		}
	}
}
