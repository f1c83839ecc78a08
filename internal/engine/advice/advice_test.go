package advice_test

import (
	"slices"
	"strings"
	"testing"

	"doorsill/internal/engine/advice"
)

// problems are all that the visit record can name.
var problems = []string{
	"overshoots-turns", "contacts", "stalls-on-sill", "head-thrown-back", "trunk-falls-on-stop", "long-stop", "jerky-turns",
	"wobble-on-straight", "lurch", "stuck-on-carpet", "tremor-path", "late-stop", "creeps", "unintended-starts", "short-travel",
	"weak-direction", "arm-lies-turned", "weak-reverse", "drifts-on-camber", "helper-dragged",
}

// keys are all that a setting-changed can name.
var keys = []string{
	"fwd_speed_max", "rev_speed_max", "turn_speed", "accel", "decel", "turn_accel", "turn_decel", "min_speed", "power",
	"tremor_damping", "dead_zone", "throw_forward", "throw_reverse", "throw_left", "throw_right", "axis_rotation",
	"active_directions", "latched_drive", "standby_time", "sleep_on_tilt", "attendant_speed", "tracking",
}

func TestEveryObservedProblemHasSomethingToTry(t *testing.T) {
	for _, problem := range problems {
		changes := advice.For(problem)
		if len(changes) == 0 {
			t.Errorf("%s: nothing to try", problem)
		}
		seen := map[string]bool{}
		for _, c := range changes {
			if !slices.Contains(keys, c.Key) {
				t.Errorf("%s: %q is not a setting key", problem, c.Key)
			}
			if seen[c.Key] {
				t.Errorf("%s: %s is named twice", problem, c.Key)
			}
			seen[c.Key] = true
			if !slices.Contains([]string{advice.Up, advice.Down, advice.Set}, c.Way) || c.Step == "" {
				t.Errorf("%s, %s: way %q, step %q", problem, c.Key, c.Way, c.Step)
			}
			if !strings.HasSuffix(c.Sentence, ".") || strings.ContainsAny(c.Sentence, "\t\n") {
				t.Errorf("%s, %s: %q is not one line that ends a sentence", problem, c.Key, c.Sentence)
			}
		}
	}
}

func TestAdviceGoesTheUsualWay(t *testing.T) {
	for _, c := range []struct{ problem, first string }{
		{"overshoots-turns", "turn_speed\tdown\t3 to 5 % at a time"},
		{"contacts", "fwd_speed_max\tdown"},
		{"stalls-on-sill", "power\tup"},
		{"head-thrown-back", "accel\tdown"},
		{"long-stop", "decel\tup"},
		{"trunk-falls-on-stop", "decel\tdown"},
		{"wobble-on-straight", "turn_accel\tdown"},
		{"lurch", "min_speed\tdown"},
		{"stuck-on-carpet", "power\tup"},
		{"tremor-path", "tremor_damping\tup"},
		{"late-stop", "tremor_damping\tdown"},
		{"unintended-starts", "dead_zone\tup"},
		{"short-travel", "dead_zone\tdown"},
		{"arm-lies-turned", "axis_rotation\tset"},
		{"weak-reverse", "active_directions\tset"},
		{"drifts-on-camber", "tracking\tset\tin one go"},
		{"helper-dragged", "attendant_speed\tdown"},
	} {
		if got := advice.Advice(c.problem); !strings.HasPrefix(got, "basis\t"+advice.Provenance+"\n"+c.first+"\t") {
			t.Errorf("%s: got %q, want it to begin with %q", c.problem, got, c.first)
		}
	}
}

func TestDampingDeadZoneBrakingAndSpeedMakeTheStopDueAgain(t *testing.T) {
	due := []string{"tremor_damping", "dead_zone", "decel", "turn_decel", "fwd_speed_max", "rev_speed_max", "turn_speed"}
	for _, key := range keys {
		want := []string(nil)
		if slices.Contains(due, key) {
			want = []string{"ctl-release", "saf-stopcall"}
		}
		if got := advice.Retests(key); !slices.Equal(got, want) {
			t.Errorf("%s: re-tests %q, want %q", key, got, want)
		}
	}
}

func TestALineHasFiveFields(t *testing.T) {
	for _, problem := range problems {
		_, text, _ := strings.Cut(advice.Advice(problem), "\n")
		for line := range strings.SplitSeq(strings.TrimSuffix(text, "\n"), "\n") {
			f := strings.Split(line, "\t")
			if len(f) != 5 || (f[4] != "-" && f[4] != "ctl-release,saf-stopcall") {
				t.Errorf("%s: %q", problem, line)
			}
		}
	}
}

func TestAnUnknownProblemIsSaid(t *testing.T) {
	got := advice.Advice("flies\taway")
	if !strings.HasPrefix(got, "error\tNo advice for “flies?away”") || strings.Count(got, "\t") != 1 {
		t.Errorf("got %q", got)
	}
	if advice.For("") != nil {
		t.Error("no problem, but advice")
	}
}
