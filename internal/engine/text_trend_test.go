package engine_test

import (
	"slices"
	"strings"
	"testing"

	"doorsill/internal/engine"
)

const same = "\theld|chin|small 50|0|morning|p|h"

func wantLine(t *testing.T, lines []string, start string) {
	t.Helper()
	if !slices.ContainsFunc(lines, func(line string) bool { return strings.HasPrefix(line, start) }) {
		t.Errorf("no line begins with %q in\n%s", start, strings.Join(lines, "\n"))
	}
}

func TestTrendWritesWhatTheAnswerHolds(t *testing.T) {
	text := "course\tslow\nneeded\t50\n" +
		"point\t1000\tforce-rested\t200\tgf" + same + "\npoint\t1000\tforce-tired\t200\tgf" + same + "\n" +
		"point\t1000\tdomain-pos\t70/95\tpoints" + same + "\n" +
		"point\t1035\tforce-rested\t190\tgf" + same + "\npoint\t1035\tforce-tired\t190\tgf" + same + "\n" +
		"point\t1070\tforce-rested\t180\tgf\theld|lip|small 50|2|evening|q|h\npoint\t1070\tforce-tired\t180\tgf" + same + "\n" +
		"point\t1070\tdomain-pos\t81/100\tpoints" + same + "\n"
	lines := strings.Split(strings.TrimSuffix(engine.Trend(text), "\n"), "\n")
	for _, want := range []string{
		"conditions\t1035\t1070\tsite, settings, time of day, rater",
		"change\tforce-rested\t1035\t1070\tsame\tFrom 190 to 180 gf: within measuring noise.",
		"change\tdomain-pos\t1000\t1070\tup\tFrom 70 to 81 points: up.",
		"usable\t1070\t180",
		"line\town data\t-2\t-3\t-1\t180",
		"weeks\t3\t0\t15\t10\t30\tReserve 3: in 10 to 30 weeks.",
		"say\tReserve 3: in 10 to 30 weeks.",
		"note\tForecasts are estimates",
		"basis\tslope = ",
	} {
		wantLine(t, lines, want)
	}
}

func TestTrendRefusesWhatItCannotRead(t *testing.T) {
	for text, want := range map[string]string{
		"point\t100\tforce-rested\tNaN\tgf" + same:                               "line 1: value",
		"point\t100\tforce-rested\t64\tkg" + same:                                "line 1: unit: expected gf",
		"point\t100\tdomain-pos\t64\tpoints" + same:                              "line 1: coverage",
		"point\t100\ttravel\t6\tmm" + same + "\npoint\t99\ttravel\t6\tmm" + same: "line 2: day",
		"needed\t0":    "line 1: force",
		"wait\t-1":     "line 1: weeks",
		"tablet\t1":    "line 1: kind",
		"course\ta\tb": "line 1: end",
	} {
		if got := engine.Trend(text); !strings.HasPrefix(got, "error\t") || !strings.Contains(got, want) {
			t.Errorf("%q gave %q, want an error with %q", text, got, want)
		}
	}
}

func FuzzTrend(f *testing.F) {
	f.Add("course\tslow\nneeded\t50\nwait\t12\njudged\t1\npoint\t1000\tforce-rested\t200\tgf" + same + "\npoint\t1035\tforce-rested\t190\tgf" + same + "\n")
	f.Add("point\t1\thelp-a\t9\tlevel\t|||||||\npoint\t2\thelp-a\t0\tlevel\t\n")
	f.Fuzz(func(t *testing.T, text string) {
		if got := engine.Trend(text); got != engine.Trend(text) || strings.Contains(got, "NaN") {
			t.Errorf("%q", got)
		}
	})
}
