package strength_test

import (
	"math"
	"strings"
	"testing"

	"doorsill/internal/engine/strength"
)

func TestPlausible(t *testing.T) {
	for _, c := range []struct {
		what, site string
		value      float64
		unit       string
		want       string // start of the answer
		suggestion string // last field of an "ask"
	}{
		{"force", "index-right", 60, "gf", "ok", ""},
		{"force", "index-right", 0.6, "N", "ok", ""},
		{"force", "index-right", 1501, "gf", "ask\tIs 1501 gf at the right index finger right?", "-"},
		{"force", "chin", 2001, "gf", "ask", "-"},
		{"force", "hand-left", 3001, "gf", "ask", "-"},
		{"force", "foot-left", 6001, "gf", "ask", "-"},
		{"force", "elbow-left", 6001, "gf", "ok", ""},
		{"force", "index-right", 1.5, "gf", "ask\tIs 1.5 gf at the right index finger right? Usual there is 2 to 1500 gf.", "153 gf"},
		{"force", "index-right", 60, "N", "ask\tIs 60 N, which is 6118 gf,", "60 gf"},
		{"force", "index-right", 350, "N", "refuse\tThe limit is 10000 gf; 350 N, which is 35690 gf, is above it. Was it 350 gf?", ""},
		{"force", "index-right", 0, "gf", "ask\t0 means that it was tried and nothing came.", "-"},
		{"force", "index-right", 10001, "gf", "refuse\tThe limit is 10000 gf", ""},
		{"force", "index-right", -1, "gf", "refuse\tThe value is below 0", ""},
		{"force", "index-right", math.NaN(), "gf", "refuse\tThe value is not a number", ""},
		{"force", "index-right", 5, "", "refuse\tThe force has no unit that is known", ""},
		{"force", "nose", 5, "gf", "refuse\tUnknown site “nose”", ""},
		{"speed", "chin", 5, "gf", "refuse\tUnknown reading “speed”", ""},
		{"travel", "index-right", 41, "mm", "ask\tIs 41 mm at the right index finger right? Usual there is up to 40 mm.", "-"},
		{"travel", "index-right", 40, "mm", "ok", ""},
		{"travel", "chin", 151, "mm", "refuse\tThe limit is 150 mm", ""},
		{"travel", "chin", 10, "cm", "refuse\tThe unit is “cm”: expected mm.", ""},
		{"hold", "chin", 121, "s", "ask\tCounting can stop at 120 s.", "120 s"},
		{"hold", "chin", 601, "s", "refuse", ""},
		{"release", "chin", 2.6, "s", "ask", "-"},
		{"release", "chin", 20.1, "s", "refuse", ""},
		{"unintended", "chin", 0, "gf", "ok", ""},
		{"unintended", "chin", 5001, "gf", "refuse", ""},
		{"switch-force", "thumb-left", 200, "gf", "ok", ""},
		{"switch-press", "", 501, "gf", "ask", "-"},
		{"switch-press", "", 2001, "gf", "refuse", ""},
	} {
		got := strength.Plausible(c.what, c.site, c.value, c.unit)
		if !strings.HasPrefix(got, c.want) {
			t.Errorf("%s %s %v %s: %q, want %q…", c.what, c.site, c.value, c.unit, got, c.want)
		}
		if c.suggestion != "" && !strings.HasSuffix(got, "\t"+c.suggestion) {
			t.Errorf("%s %s %v %s: %q, want suggestion %q", c.what, c.site, c.value, c.unit, got, c.suggestion)
		}
	}
}
