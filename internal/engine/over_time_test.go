package engine_test

import (
	"slices"
	"strings"
	"testing"

	"doorsill/internal/engine"
)

const same = "\theld|chin|small 50|0|morning|p|h"

func trendLines(t *testing.T, text string) []string {
	t.Helper()
	answer := engine.Trend(text)
	if strings.HasPrefix(answer, "error\t") {
		t.Fatal(answer)
	}
	return strings.Split(strings.TrimSuffix(answer, "\n"), "\n")
}

func wantLine(t *testing.T, lines []string, start string) {
	t.Helper()
	if !slices.ContainsFunc(lines, func(line string) bool { return strings.HasPrefix(line, start) }) {
		t.Errorf("no line begins with %q in\n%s", start, strings.Join(lines, "\n"))
	}
}

func TestTrendTellsChangeFromNoise(t *testing.T) {
	lines := trendLines(t, "course\tslow\n"+
		"point\t100\tforce-rested\t100\tgf"+same+"\n"+
		"point\t100\ttravel\t10\tmm"+same+"\n"+
		"point\t100\trelease\t0.8\ts"+same+"\n"+
		"point\t100\tdomain-pos\t70/95\tpoints"+same+"\n"+
		"point\t100\tdomain-ctl\t70/82\tpoints"+same+"\n"+
		"point\t100\thelp-a\t3\tlevel"+same+"\npoint\t100\thelp-b\t3\tlevel"+same+"\n"+
		"point\t130\tforce-rested\t79\tgf\theld|lip|small 50|2|evening|q|h\n"+
		"point\t130\ttravel\t12\tmm\theld|lip|small 50|2|evening|q|h\n"+
		"point\t130\trelease\t1.2\ts\theld|lip|small 50|2|evening|q|h\n"+
		"point\t130\tdomain-pos\t81/100\tpoints\theld|lip|small 50|2|evening|q|h\n"+
		"point\t130\tdomain-ctl\t40/79\tpoints\theld|lip|small 50|2|evening|q|h\n"+
		"point\t130\thelp-a\t2\tlevel\theld|lip|small 50|2|evening|q|h\npoint\t130\thelp-b\t2\tlevel\theld|lip|small 50|2|evening|q|h\n")
	for _, want := range []string{
		"conditions\t100\t130\tsite, settings, time of day, rater",
		"change\tforce-rested\t100\t130\tdown\tFrom 100 to 79 gf",
		"change\ttravel\t100\t130\tsame\t",
		"change\trelease\t100\t130\tup\t",
		"change\tdomain-pos\t100\t130\tup\t",
		"change\thelp\t100\t130\tdown\t",
		"say\tThere are no forces at the site of the planned control, or no control is chosen",
	} {
		wantLine(t, lines, want)
	}
	for _, line := range lines {
		if strings.HasPrefix(line, "change\tdomain-ctl") {
			t.Errorf("a score with less than 80 %% answered was compared: %s", line)
		}
	}
}

func course(kind, more string, forces ...string) string {
	text := "course\t" + kind + "\nneeded\t50\n" + more
	for i, force := range forces {
		day := []string{"1000", "1035", "1070", "1105"}[i]
		text += "point\t" + day + "\tforce-rested\t" + force + "\tgf" + same + "\npoint\t" + day + "\tforce-tired\t" + force + "\tgf" + same + "\n"
	}
	return text
}

func TestTrendSeesASlowChangeOverTheWholeTime(t *testing.T) {
	lines := trendLines(t, course("slow", "", "100", "90", "79"))
	wantLine(t, lines, "change\tforce-rested\t1035\t1070\tsame\t")
	wantLine(t, lines, "change\tforce-rested\t1000\t1070\tdown\t")
}

// 200, 190, 180 gf over ten weeks lose 2 gf a week. From 180 to 150 (reserve 3
// of 50 gf) are 15 weeks; with half and one and a half of the loss 30 and 10.
func TestTrendForeseesABandAndNoDate(t *testing.T) {
	lines := trendLines(t, course("slow", "wait\t45\n", "200", "190", "180"))
	for _, want := range []string{
		"usable\t1070\t180",
		"line\town data\t-2\t-3\t-1\t180",
		"weeks\t3\t0\t15\t10\t30\tReserve 3: in 10 to 30 weeks.",
		"weeks\t2\t0\t40\t26.7\t80\tReserve 2: in 27 to 80 weeks.",
		"advice\tPlan a lighter class of control now.",
		"note\tForecasts are estimates",
		"basis\t",
	} {
		wantLine(t, lines, want)
	}
}

func TestTrendDrawsNoLineWhereThereIsNone(t *testing.T) {
	for name, c := range map[string]struct{ text, say string }{
		"improving":        {course("improving", "", "100", "110", "120"), "say\tNo straight line is drawn for a condition that is improving"},
		"fluctuating":      {course("fluctuating", "", "120", "100", "130"), "say\tNo straight line is drawn for a condition that is fluctuating"},
		"too few":          {course("slow", "", "120"), "say\tA line needs 3 visits over at least 8 weeks"},
		"course not known": {course("", "", "120", "110", "100"), "say\tcourse of the condition"},
	} {
		lines := trendLines(t, c.text)
		wantLine(t, lines, c.say)
		for _, line := range lines {
			if strings.HasPrefix(line, "weeks\t") {
				t.Errorf("%s: %s", name, line)
			}
		}
	}
	wantLine(t, trendLines(t, course("slow", "judged\t2\n", "180")), "line\tjudged\t-2\t-3\t-1\t180")
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
	f.Add(course("slow", "wait\t12\njudged\t1\n", "200", "190", "180"))
	f.Add("point\t1\thelp-a\t9\tlevel\t|||||||\npoint\t2\thelp-a\t0\tlevel\t\n")
	f.Fuzz(func(t *testing.T, text string) {
		if got := engine.Trend(text); got != engine.Trend(text) || strings.Contains(got, "NaN") {
			t.Errorf("%q", got)
		}
	})
}
