package engine_test

import (
	"strings"
	"testing"

	"doorsill/internal/engine"
)

func TestALineOfAdviceHasFiveFields(t *testing.T) {
	for _, problem := range []string{"long-stop", "lurch"} {
		first, text, _ := strings.Cut(engine.Advice(problem), "\n")
		if !strings.HasPrefix(first, "basis\tCommon practice, no source.") {
			t.Errorf("%s: %q", problem, first)
		}
		for line := range strings.SplitSeq(strings.TrimSuffix(text, "\n"), "\n") {
			f := strings.Split(line, "\t")
			if len(f) != 5 || (f[4] != "-" && f[4] != "ctl-release,saf-stopcall") {
				t.Errorf("%s: %q", problem, line)
			}
		}
	}
}

func TestAnUnknownProblemIsSaid(t *testing.T) {
	got := engine.Advice("flies\taway")
	if !strings.HasPrefix(got, "error\tNo advice for “flies?away”") || strings.Count(got, "\t") != 1 {
		t.Errorf("got %q", got)
	}
}
