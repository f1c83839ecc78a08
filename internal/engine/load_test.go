package engine_test

import (
	"path/filepath"
	"strings"
	"testing"

	"doorsill/internal/engine"
)

// TestWhatIsMissingIsNamed changes one thing of a whole visit: no number is made
// up, and the sentence says what is missing and what can still be said.
func TestWhatIsMissingIsNamed(t *testing.T) {
	v := readVector(t, filepath.Join(vectorDir, "day-and-home.json"))
	for name, c := range map[string]struct{ from, to, want string }{
		"no commands a minute": {"need\tcommands-per-min\t6\n", "", "figure\tstrain-index\tindex-right\t-\t-\t-\tmissing\tThe strain index needs: commands a minute. "},
		"no hours":             {"need\thours-driving\t4\n", "", "The strain index needs: hours of driving a day. The share of strength can still be given."},
		"no wrist":             {"need\twrist-deg\t20\n", "", "The strain index needs: the wrist's angle."},
		"commands fill more":   {"need\tseconds-per-command\t4\n", "need\tseconds-per-command\t12\n", "together at most 60 s in a minute, not 72 s"},
		"more than there is":   {"\t4\t10\t3\t100", "\t4\t90\t3\t100", "load\tsetup\tindex-right\tforward\t166.7\tForward asks 166.7 % of the strength: more than there is."},
		"a light touch":        {"\t4\t10\t3\t100", "\t2\t4\t3\t100", "figure\thold-time-low\tindex-right\tforward\t-\ts\tmissing\tShare of strength: expected a number from 0.1 to 1. Below a tenth no holding time is claimed"},
		"half a task":          {"need\tcourse", "need\ttask-share\t30\nneed\ttask-hours\t2\nneed\tcourse", "strain-cumulative\tindex-right\t-\t-\t-\tmissing\tStrain with the other task needs: pressings a minute, seconds a pressing, the wrist's angle. Driving by itself is judged above."},
		"a task that is full":  {"need\tcourse", "need\ttask-share\t30\nneed\ttask-per-min\t10\nneed\ttask-seconds\t5\nneed\ttask-wrist-deg\t0\nneed\tcourse", "strain-composite\tindex-right\t-\t-\t-\tmissing\tCommands a minute and seconds a command: expected together at most 60 s in a minute"},
		"no chair":             {"chair\t1150\t650\tmid\t575\t50\t9\t120\t70\n", "", "passage\tp-front\tunknown\t-\tLength of chair with feet: expected"},
		"ramp without a chair": {"chair\t1150\t650\tmid\t575\t50\t9\t120\t70\n", "", "passage\tp-ramp\tunknown\t-\tLength of chair with feet: expected a number from 400 to 2500 mm. Clear width against the widest point can be judged by hand. The slope is 1 in 10."},
		"no person's mass":     {"\t9\t120\t70\n", "\t9\t120\t0\n", "passage\tp-lift\tunknown\t-\tMass of the person: expected"},
		"slope of zero":        {"\t100\t1000\t", "\t0\t1000\t", "passage\tp-ramp\tunknown\t-\tRise: expected a number above 0"},
		"narrow corridor":      {"corner\t0\t900\t900", "corner\t0\t900\t600", "passage\tp-hall\tdoes not fit\t-183\t183 mm are missing"},
	} {
		text := strings.Replace(v.Text, c.from, c.to, 1)
		if text == v.Text {
			t.Errorf("%s: %q is not in the visit", name, c.from)
			continue
		}
		result, err := engine.Score(v.list(t), []byte(text))
		if err != nil || !strings.Contains(string(result), c.want) {
			t.Errorf("%s (%v): no %q in\n%s", name, err, c.want, linesOf(result, "load", "figure\tstrain", "figure\thold-time", "figure\tlimit", "passage"))
		}
	}
}

func linesOf(result []byte, starts ...string) string {
	var out strings.Builder
	for line := range strings.Lines(string(result)) {
		for _, start := range starts {
			if strings.HasPrefix(line, start) {
				out.WriteString(line)
			}
		}
	}
	return out.String()
}

// TestAVisitTextOfAHomeIsRefusedByLine: what is no chair, place or due line.
func TestAVisitTextOfAHomeIsRefusedByLine(t *testing.T) {
	set := readVector(t, filepath.Join(vectorDir, "empty.json")).list(t)
	for text, want := range map[string]string{
		"chair\t1150\t650\ttop\t0\t0\t0\t0\t0\n":                                               "line 2: drive: expected front, mid or rear, got “top”",
		"chair\t1150\tInf\tmid\t0\t0\t0\t0\t0\n":                                               "line 2: width: expected a number",
		"place\tp\tstairs\t0\t0\t0\t0\t0\t0\t0\t0\n":                                           "line 2: kind of place: expected a kind such as door, corner or ramp, got “stairs”",
		"place\tp\tdoor\t-1\t0\t0\t0\t0\t0\t0\t0\n":                                            "line 2: width: expected a number from 0",
		"place\tp\tdoor\t800\t0\t0\t0\t0\t0\t0\t0\nplace\tp\tdoor\t700\t0\t0\t0\t0\t0\t0\t0\n": "line 3: id: expected each place once, got “p”",
		"switch\tmode\t30\n":                                                                   "line 2: kind: expected a set-up before its switches, got “none”",
		"setup\tsmall\tchin\t0\t50\t0\t100\t100\t100\t100\t-\t0\nswitch\thorn\t30\n":           "line 3: purpose: expected power or mode, got “horn”",
		"ruled-out\tnose\tlong\n":                                                              "line 2: site: expected a body site such as chin or index-right, got “nose”",
		"ruled-out\tchin\ta\nruled-out\tchin\tb\n":                                             "line 3: site: expected each site once, got “chin”",
		"need\ttask-share\t0\n":                                                                "line 2: value: expected a number from 1 to 100",
		"due\t\n":                                                                              "line 2: item: expected the id of an item",
	} {
		_, err := engine.Score(set, []byte("doorsill-visit\t1\n"+text))
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}
