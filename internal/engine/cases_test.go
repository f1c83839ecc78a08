package engine_test

import (
	"slices"
	"strings"
	"testing"
)

// TestHandWorkedLevels holds level, interim, the gate that failed and the
// control verdicts of the shared vectors, each worked out by hand; the vector's
// own "why" has the sums.
func TestHandWorkedLevels(t *testing.T) {
	for _, c := range []struct{ name, level, interim, failed, indoors, outdoors string }{
		{"full-ninety", "wider-ground", "0", "", "feasible", "feasible"},
		{"high-average-open-stop", "pause", "0", "stop", "feasible", "feasible"},
		{"outdoor-not-tested", "home-ground", "0", "control-outdoors", "feasible", "unknown"},
		{"outdoor-not-applicable", "home-ground", "0", "control-outdoors", "feasible", "unknown"},
		{"answers-apart", "accompanied", "0", "limit-accompanied", "feasible", "feasible"},
		{"override-over-stop", "pause", "0", "stop", "feasible", "feasible"},
		{"override-accepted", "accompanied", "0", "control-feasible", "marginal", "marginal"},
		{"range-below-coverage", "practise", "0", "stops-answered", "feasible", "feasible"},
		{"interim", "home-ground", "1", "runs", "feasible", "unknown"},
		{"marginal-cap", "accompanied", "0", "control-feasible", "marginal", "marginal"},
		{"sixty-gf-standard", "pause", "0", "stop-control", "not-feasible", "not-feasible"},
		{"sixty-gf-very-light", "accompanied", "0", "tired-force", "feasible", "feasible"},
		{"stop-not-shown", "none", "0", "stop-shown", "feasible", "feasible"},
		{"release-missed", "pause", "0", "stop-control", "not-feasible", "not-feasible"},
		{"chin-no-rough-trial", "home-ground", "0", "control-outdoors", "feasible", "unknown"},
		{"head-one-at-chin", "pause", "0", "stop-control", "feasible", "feasible"},
		{"facts", "accompanied", "0", "limit-accompanied", "feasible", "feasible"},
		{"empty", "none", "0", "stop-shown", "unknown", "unknown"},
		{"units-and-support", "wider-ground", "0", "", "feasible", "feasible"},
		{"rounding", "accompanied", "0", "control-feasible", "marginal", "marginal"},
		{"person-contact", "practise", "0", "limit-practise", "feasible", "feasible"},
		{"own-checklist", "none", "0", "stop-shown", "unknown", "unknown"},
		{"kit-two-sites", "pause", "0", "control", "not-feasible", "not-feasible"},
		{"reverse-key-and-hours", "accompanied", "0", "control-feasible", "marginal", "marginal"},
		{"base-moves", "practise", "0", "control-known", "unknown", "unknown"},
		{"no-stick-left", "pause", "0", "stop-control", "not-feasible", "not-feasible"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := scored(t, c.name)
			if level := got["level"][0]; level[0] != c.level || level[1] != c.interim {
				t.Errorf("level %s, interim %s; want %s, %s\n%s", level[0], level[1], c.level, c.interim, level[2])
			}
			if failed := got.failed(); failed != c.failed {
				t.Errorf("failed gate %q, want %q", failed, c.failed)
			}
			if control := got["control"][0]; control[0] != c.indoors || control[1] != c.outdoors {
				t.Errorf("control indoors %s, outdoors %s; want %s, %s", control[0], control[1], c.indoors, c.outdoors)
			}
		})
	}
}

// TestHandWorkedDomains holds scores, ranges, coverage and counts.
func TestHandWorkedDomains(t *testing.T) {
	for _, c := range []struct{ name, code, want string }{
		{"full-ninety", "pos", "95 95 95 100 9 9"},
		{"full-ninety", "ctl", "97 97 97 100 12 12"},
		{"full-ninety", "saf", "95 95 95 100 9 9"},
		{"full-ninety", "out", "96 96 96 100 9 9"},
		// Home: weights 16; door 70 mm is worth 80 and loses 40, turning at 2
		// loses 60, floor at 1 loses 70: (1600-170)/16 = 89.4.
		{"full-ninety", "hom", "89 89 89 100 8 8"},
		{"high-average-open-stop", "eqp", "84 84 84 100 8 8"},
		{"high-average-open-stop", "ctl", "97 97 97 100 12 12"},
		{"outdoor-not-tested", "out", "- 0 100 0 0 9"},
		{"outdoor-not-applicable", "out", "- 0 0 0 0 0"},
		{"answers-apart", "saf", "99 99 99 100 9 9"},
		{"answers-apart", "pos", "100 91 100 91 8 9"},
		{"range-below-coverage", "pos", "- 53 96 56 5 9"},
		{"marginal-cap", "ctl", "93 93 93 100 12 12"},
		{"sixty-gf-very-light", "ctl", "96 89 97 92 11 12"},
		{"empty", "ind", "- 0 100 0 0 11"},
		{"own-checklist", "pos", "85 85 85 100 2 2"},
	} {
		got := scored(t, c.name).find("domain", c.code)
		if got == nil {
			t.Errorf("%s: no section %s", c.name, c.code)
			continue
		}
		if have := strings.Join(got[1:7], " "); have != c.want {
			t.Errorf("%s %s: score, low, high, coverage, answered, applicable = %s, want %s", c.name, c.code, have, c.want)
		}
	}
}

// TestHandWorkedLines holds single lines; the want is the start of the line
// after its kind.
func TestHandWorkedLines(t *testing.T) {
	for _, c := range []struct {
		name, kind string
		want       []string
	}{
		{"full-ninety", "item", []string{"ctl-reserve", "answered", "4.60", "2", "0.7", "1", "0"}},
		{"full-ninety", "item", []string{"saf-hazard", "answered", "5 of 6", "2", "0.7", "0", "0"}},
		{"full-ninety", "item", []string{"hom-floor", "answered", "-", "1", "0.3", "0", "0"}},
		{"full-ninety", "figure", []string{"tired-ratio", "index-right", "forward", "0.9", "ratio", "measured"}},
		{"full-ninety", "figure", []string{"switch-reserve", "thumb-right", "press", "3.5", "ratio", "measured"}},
		{"full-ninety", "figure", []string{"travel-reserve", "index-right", "forward", "2.033", "ratio", "measured"}},
		{"high-average-open-stop", "effect", []string{"stop", "eqp-brake"}},
		{"answers-apart", "item", []string{"per-tell", "answered", "-", "0", "0", "0", "1"}},
		{"answers-apart", "item", []string{"pos-limb", "not-tested", "-", "-", "-", "0", "1"}},
		{"answers-apart", "effect", []string{"limit:accompanied", "per-tell"}},
		{"override-over-stop", "override", []string{"refused", "practise"}},
		{"override-accepted", "override", []string{"accepted", "home-ground"}},
		{"sixty-gf-standard", "figure", []string{"reserve", "index-right", "forward", "0.168", "ratio", "assumed"}},
		{"sixty-gf-standard", "reason", []string{"force", "not-feasible"}},
		{"sixty-gf-standard", "class", []string{"standard", "not-feasible", "0.16"}},
		{"sixty-gf-standard", "class", []string{"small", "not-feasible", "0.84"}},
		{"sixty-gf-standard", "class", []string{"very-light", "unknown", "4.2"}},
		{"sixty-gf-very-light", "reason", []string{"force", "feasible"}},
		{"sixty-gf-very-light", "item", []string{"ctl-tired", "not-tested", "-", "-", "-", "1", "0"}},
		{"release-missed", "item", []string{"ctl-release", "answered", "0.9 s", "4", "0", "1", "0"}},
		{"release-missed", "effect", []string{"stop-control", "ctl-release"}},
		{"head-one-at-chin", "effect", []string{"stop-control", "pos-head"}},
		{"facts", "effect", []string{"limit:accompanied", "per-sides"}},
		{"facts", "effect", []string{"limit:accompanied", "hom-ramp"}},
		{"units-and-support", "figure", []string{"mean-rested", "index-right", "left", "41.808", "gf", "measured"}},
		{"units-and-support", "figure", []string{"mean-tired", "index-right", "left", "36.287", "gf", "measured"}},
		{"units-and-support", "figure", []string{"count-tired", "index-right", "left", "3", "readings", "measured"}},
		{"rounding", "item", []string{"ctl-reserve", "answered", "2.99", "3", "0.35", "1", "0"}},
		{"rounding", "item", []string{"ctl-noise", "answered", "0.26", "2", "0.7", "1", "0"}},
		{"person-contact", "effect", []string{"limit:practise", "ind-contacts"}},
		{"person-contact", "effect", []string{"limit:accompanied", "ind-rescues"}},
		{"person-contact", "item", []string{"ind-contacts", "answered", "0.3 per 50 m", "2", "0.7", "1", "0"}},
		{"stop-not-shown", "missing", []string{"first", "mnt-stop"}},
		{"interim", "missing", []string{"useful", "reading:run"}},
		{"kit-two-sites", "verdict", []string{"kit-b", "index-right", "feasible", "feasible", "1", "main"}},
		{"kit-two-sites", "verdict", []string{"kit-b", "chin", "feasible", "unknown", "2", "fallback"}},
		{"kit-two-sites", "verdict", []string{"kit-c", "chin", "not-feasible", "not-feasible", "-", "-"}},
		{"kit-two-sites", "why", []string{"kit-c", "chin", "wet", "both", "not-feasible"}},
		{"kit-two-sites", "why", []string{"kit-b", "chin", "rough-head", "outdoors", "unknown"}},
		{"reverse-key-and-hours", "window", []string{"rested", "feasible"}},
		{"reverse-key-and-hours", "window", []string{"tired", "marginal"}},
		{"reverse-key-and-hours", "figure", []string{"reserve", "index-right", "forward", "2.8", "ratio", "measured"}},
		{"base-moves", "verdict", []string{"kit-b", "chin", "unknown", "unknown", "-", "-"}},
		{"base-moves", "reason", []string{"base", "unknown"}},
		{"no-stick-left", "why", []string{"-", "-", "none-left", "both", "not-feasible"}},
		{"no-stick-left", "why", []string{"kit-c", "index-right", "helper", "both", "not-feasible"}},
	} {
		if scored(t, c.name).find(c.kind, c.want...) == nil {
			t.Errorf("%s: no line %s %s", c.name, c.kind, strings.Join(c.want, " "))
		}
	}
}

// TestNothingIsRaisedWithoutCause holds the effects that must not appear.
func TestNothingIsRaisedWithoutCause(t *testing.T) {
	for name, count := range map[string]int{"full-ninety": 0, "facts": 2, "head-one-at-chin": 1, "empty": 0, "person-contact": 2} {
		if got := len(scored(t, name)["effect"]); got != count {
			t.Errorf("%s: %d effects, want %d", name, got, count)
		}
	}
}

// TestCostsNameTheDearestThree checks order and count against the vector's sums.
func TestCostsNameTheDearestThree(t *testing.T) {
	var got []string
	for _, c := range scored(t, "full-ninety")["cost"] {
		if c[0] == "out" || c[0] == "saf" {
			got = append(got, strings.Join(c[:3], " "))
		}
	}
	want := []string{
		"saf saf-hazard 3.6", // 90 of 2500
		"saf saf-look 1.2",   // 30 of 2500
		"out out-road 2.3",   // 45 of 2000, 2.25
		"out out-crowd 1.5",  // 30 of 2000
	}
	if !slices.Equal(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
}

// TestMissingIsSortedByUrgency: what must be known before moving, what can raise
// a STOP, then needed, then useful.
func TestMissingIsSortedByUrgency(t *testing.T) {
	rank := map[string]int{"first": 0, "stop": 1, "needed": 2, "useful": 3}
	for _, name := range []string{"empty", "range-below-coverage", "interim", "outdoor-not-tested"} {
		last := 0
		for _, m := range scored(t, name)["missing"] {
			if rank[m[0]] < last {
				t.Errorf("%s: %s after a less urgent one", name, m[1])
			}
			last = rank[m[0]]
		}
	}
	if first := scored(t, "empty")["missing"][0]; first[0] != "first" {
		t.Errorf("an empty visit first misses %v, want what must be known before moving", first)
	}
}

// TestOwnChecklistSaysWhatItLacks: gates that name an item or a section of the
// standard checklist fail in a sentence.
func TestOwnChecklistSaysWhatItLacks(t *testing.T) {
	got := scored(t, "own-checklist")
	for code, want := range map[string]string{
		"stop-shown": "mnt-stop", "teach-back": "hnd-teach", "limits-written": "hnd-limits",
		"score-ctl": "no section “ctl”", "outdoor-items": "no outdoor section", "outdoor-help": "get help away from home",
	} {
		found := false
		for _, g := range got["gate"] {
			if g[2] == code {
				found = true
				if g[1] != "0" || !strings.Contains(g[3], want) {
					t.Errorf("%s: met %s, %q; want unmet and %q", code, g[1], g[3], want)
				}
			}
		}
		if !found {
			t.Errorf("no gate %s", code)
		}
	}
}

// TestCautionsAreSaid: the assumption, support, and that no score decides.
func TestCautionsAreSaid(t *testing.T) {
	for name, want := range map[string]string{
		"sixty-gf-very-light": "0.7 of the rested force is assumed",
		"units-and-support":   "12 without support are kept apart",
		"empty":               "the licensed therapist who saw the person decides",
		"answers-apart":       "3 questions need your choice",
	} {
		said := ""
		for _, n := range scored(t, name)["note"] {
			said += n[0] + "\n"
		}
		if !strings.Contains(said, want) {
			t.Errorf("%s: no note %q in\n%s", name, want, said)
		}
	}
}
