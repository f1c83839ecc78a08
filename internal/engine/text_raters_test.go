package engine_test

import (
	"strings"
	"testing"

	"doorsill/internal/engine"
)

// [[20,5],[10,15]] has kappa 0.4; with two levels the weighted is the same.
func TestAgreementWritesWhatTheAnswerHolds(t *testing.T) {
	text := strings.Repeat("pair\tx\t2\t0\t0\t0\t0\n", 20) + strings.Repeat("pair\tx\t2\t0\t1\t0\t0\n", 5) +
		strings.Repeat("pair\tx\t2\t1\t0\t0\t0\n", 10) + strings.Repeat("pair\tx\t2\t1\t1\t1\t0\n", 15) + "force\tk\t60\t80\n"
	lines := strings.Split(strings.TrimSuffix(engine.Agreement(text), "\n"), "\n")
	if line := strings.Split(lines[0], "\t"); line[10] != "0.4" || line[13] != "0.4" || line[16] != "fair" || line[17] != "0" {
		t.Errorf("got %q", line)
	}
	for _, want := range []string{"item\tall\t2\t50\t70\t", "icc\t1\t-\t-\t-\ttargets: expected at least 2.", "apart\tk\t28.6\t1\tThe raters' forces are 29 % apart", "discuss\tx"} {
		wantLine(t, lines, want)
	}
}

func TestAgreementRefusesWhatItCannotRead(t *testing.T) {
	for text, want := range map[string]string{
		"pair\tx\t5\t5\t0\t0\t0": "a:", "pair\tx\t1\t0\t0\t0\t0": "levels", "pair\tx\t5\t0\t0\t2\t0": "stop a",
		"force\tk\tx\t1": "a:", "sum\t1": "kind",
	} {
		if got := engine.Agreement(text); !strings.HasPrefix(got, "error\t") || !strings.Contains(got, want) {
			t.Errorf("%q gave %q", text, got)
		}
	}
	if got := engine.Agreement(""); got != "" {
		t.Errorf("no pairs gave %q", got)
	}
}
