package advice_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"doorsill/internal/engine/advice"
	"doorsill/internal/message"
	"doorsill/internal/model"
	"doorsill/internal/phrase"
	"doorsill/internal/validation"
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

// adviceOf returns the advice on a problem that is known.
func adviceOf(t *testing.T, problem string) model.Advice {
	t.Helper()
	a, err := advice.Of(problem)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func TestEveryObservedProblemHasSomethingToTry(t *testing.T) {
	english := phrase.NewWriter(phrase.English(), nil)
	for _, problem := range problems {
		a := adviceOf(t, problem)
		if len(a.Changes) == 0 || !strings.HasPrefix(english.Text(&a.Rests), "Common practice, no source.") {
			t.Errorf("%s: %d changes, rests on %v", problem, len(a.Changes), &a.Rests)
		}
		seen := map[string]bool{}
		for _, c := range a.Changes {
			if !slices.Contains(keys, c.Key) {
				t.Errorf("%s: %q is not a setting key", problem, c.Key)
			}
			if seen[c.Key] {
				t.Errorf("%s: %s is named twice", problem, c.Key)
			}
			seen[c.Key] = true
			if !slices.Contains([]string{advice.Up, advice.Down, advice.Set}, c.Way) {
				t.Errorf("%s, %s: way %q", problem, c.Key, c.Way)
			}
			if !slices.Equal(c.Retests, advice.Retests(c.Key)) {
				t.Errorf("%s, %s: re-tests %q", problem, c.Key, c.Retests)
			}
			for _, m := range []message.Message{c.Step, c.Message} {
				if text := english.Text(&m); text == m.Code || strings.ContainsAny(text, "{}\t") {
					t.Errorf("%s, %s: %s is worded %q", problem, c.Key, m.Code, text)
				}
			}
			if text := english.Text(&c.Message); !strings.HasSuffix(text, ".") {
				t.Errorf("%s, %s: %q does not end a sentence", problem, c.Key, text)
			}
		}
	}
}

func TestAdviceGoesTheUsualWay(t *testing.T) {
	for _, c := range []struct{ problem, key, way, step string }{
		{"overshoots-turns", "turn_speed", advice.Down, "advice.step-turn"},
		{"contacts", "fwd_speed_max", advice.Down, "advice.step-small"},
		{"stalls-on-sill", "power", advice.Up, "advice.step-small"},
		{"head-thrown-back", "accel", advice.Down, "advice.step-small"},
		{"long-stop", "decel", advice.Up, "advice.step-small"},
		{"trunk-falls-on-stop", "decel", advice.Down, "advice.step-small"},
		{"wobble-on-straight", "turn_accel", advice.Down, "advice.step-small"},
		{"lurch", "min_speed", advice.Down, "advice.step-small"},
		{"stuck-on-carpet", "power", advice.Up, "advice.step-small"},
		{"tremor-path", "tremor_damping", advice.Up, "advice.step-small"},
		{"late-stop", "tremor_damping", advice.Down, "advice.step-small"},
		{"unintended-starts", "dead_zone", advice.Up, "advice.step-zone"},
		{"short-travel", "dead_zone", advice.Down, "advice.step-zone"},
		{"arm-lies-turned", "axis_rotation", advice.Set, "advice.step-whole"},
		{"weak-reverse", "active_directions", advice.Set, "advice.step-whole"},
		{"drifts-on-camber", "tracking", advice.Set, "advice.step-whole"},
		{"helper-dragged", "attendant_speed", advice.Down, "advice.step-small"},
	} {
		got := adviceOf(t, c.problem).Changes[0]
		if got.Key != c.key || got.Way != c.way || got.Step.Code != c.step {
			t.Errorf("%s: first %s %s, %s; want %s %s, %s", c.problem, got.Key, got.Way, got.Step.Code, c.key, c.way, c.step)
		}
		if len(got.Message.Args) > 0 {
			t.Errorf("%s: about no one direction, and said of %v", c.problem, &got.Message)
		}
	}
}

func TestAWeakDirectionIsNamed(t *testing.T) {
	for i, direction := range []string{"forward", "reverse", "left", "right"} {
		c := adviceOf(t, "weak-direction").Changes[i]
		if c.Key != "throw_"+direction || c.Message.String() != "advice.weak-direction.throw direction="+direction {
			t.Errorf("%s: key %s, %v", direction, c.Key, &c.Message)
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

func TestAnUnknownProblemIsRefused(t *testing.T) {
	for problem, code := range map[string]string{"flies-away": validation.CodeWrongType, "": validation.CodeRequired} {
		_, err := advice.Of(problem)
		var bad *validation.Error
		if !errors.As(err, &bad) || bad.Code != code || bad.Path != "problem" {
			t.Errorf("%q: got %v, want %s", problem, err, code)
		}
	}
}
