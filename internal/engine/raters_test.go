package engine_test

import (
	"strings"
	"testing"

	"doorsill/internal/engine"
)

func agreementLines(t *testing.T, text string) []string {
	t.Helper()
	answer := engine.Agreement(text)
	if strings.HasPrefix(answer, "error\t") {
		t.Fatal(answer)
	}
	return strings.Split(strings.TrimSuffix(answer, "\n"), "\n")
}

// Three of four the same, all within one: Wilson's interval of 3 of 4 is 30.06
// to 95.44 %, of 4 of 4 it is 51.01 to 100 %.
func TestAgreementCountsEachItemAndAllTogether(t *testing.T) {
	lines := agreementLines(t, "pair\tsaf-look\t5\t4\t4\t0\t0\npair\tsaf-look\t5\t3\t3\t0\t0\n"+
		"pair\tsaf-look\t5\t0\t1\t1\t0\npair\tind-door\t5\t2\t2\t0\t0\n")
	for _, want := range []string{
		"item\tsaf-look\t5\t3\t66.7\t",
		"item\tind-door\t5\t1\t100\t",
		"item\tall\t5\t4\t75\t30.06\t95.44\t100\t51.01\t100\t-\t-\t-\t-\t-\t-\t-\t1\tSame answer in 75 %",
		"discuss\tsaf-look",
	} {
		wantLine(t, lines, want)
	}
}

func TestAgreementGivesKappaFromThirtyPairsOn(t *testing.T) {
	// [[20,5],[10,15]] has kappa 0.4; with two levels the weighted is the same.
	text := strings.Repeat("pair\tx\t2\t0\t0\t0\t0\n", 20) + strings.Repeat("pair\tx\t2\t0\t1\t0\t0\n", 5) +
		strings.Repeat("pair\tx\t2\t1\t0\t0\t0\n", 10) + strings.Repeat("pair\tx\t2\t1\t1\t0\t0\n", 15)
	line := strings.Split(agreementLines(t, text)[0], "\t")
	if line[10] != "0.4" || line[13] != "0.4" || line[16] != "fair" || line[17] != "0" {
		t.Errorf("got %q", line)
	}
	few := strings.Split(agreementLines(t, strings.Repeat("pair\tx\t2\t0\t1\t0\t0\npair\tx\t2\t1\t1\t0\t0\n", 14))[0], "\t")
	if few[10] != "-" || few[13] != "-" || few[16] != "-" {
		t.Errorf("28 pairs got a coefficient: %q", few)
	}
}

func TestAgreementDoesNotMindWhoIsFirst(t *testing.T) {
	one := agreementLines(t, "pair\tx\t4\t0\t2\t1\t0\npair\tx\t4\t3\t3\t0\t0\nforce\tk\t60\t80\nforce\tl\t20\t22\n")
	other := agreementLines(t, "pair\tx\t4\t2\t0\t0\t1\npair\tx\t4\t3\t3\t0\t0\nforce\tk\t80\t60\nforce\tl\t22\t20\n")
	if strings.Join(one, "\n") != strings.Join(other, "\n") {
		t.Errorf("got\n%q and\n%q", one, other)
	}
	wantLine(t, one, "icc\t2\t")
	wantLine(t, one, "apart\tk\t28.6\t1\t")
	wantLine(t, one, "apart\tl\t9.5\t0\t")
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
