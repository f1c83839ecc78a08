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
		answer     string
		want       string // start of the sentence
		suggestion string
	}{
		{"force", "index-right", 60, "gf", "ok", "", ""},
		{"force", "index-right", 0.6, "N", "ok", "", ""},
		{"force", "index-right", 1501, "gf", "ask", "Is 1501 gf at the right index finger right?", ""},
		{"force", "chin", 2001, "gf", "ask", "", ""},
		{"force", "hand-left", 3001, "gf", "ask", "", ""},
		{"force", "foot-left", 6001, "gf", "ask", "", ""},
		{"force", "elbow-left", 6001, "gf", "ok", "", ""},
		{"force", "index-right", 1.5, "gf", "ask", "Is 1.5 gf at the right index finger right? Usual there is 2 to 1500 gf.", "153 gf"},
		{"force", "index-right", 60, "N", "ask", "Is 60 N, which is 6118 gf,", "60 gf"},
		{"force", "index-right", 350, "N", "refuse", "The limit is 10000 gf; 350 N, which is 35690 gf, is above it. Was it 350 gf?", ""},
		{"force", "index-right", 0, "gf", "ask", "0 means that it was tried and nothing came.", ""},
		{"force", "index-right", 10001, "gf", "refuse", "The limit is 10000 gf", ""},
		{"force", "index-right", -1, "gf", "refuse", "The value is below 0", ""},
		{"force", "index-right", math.NaN(), "gf", "refuse", "The value is not a number", ""},
		{"force", "index-right", 5, "", "refuse", "The force has no unit that is known", ""},
		{"force", "nose", 5, "gf", "refuse", "Unknown site “nose”", ""},
		{"speed", "chin", 5, "gf", "refuse", "Unknown reading “speed”", ""},
		{"travel", "index-right", 41, "mm", "ask", "Is 41 mm at the right index finger right? Usual there is up to 40 mm.", ""},
		{"travel", "index-right", 40, "mm", "ok", "", ""},
		{"travel", "chin", 151, "mm", "refuse", "The limit is 150 mm", ""},
		{"travel", "chin", 10, "cm", "refuse", "The unit is “cm”: expected mm.", ""},
		{"hold", "chin", 121, "s", "ask", "Counting can stop at 120 s.", "120 s"},
		{"hold", "chin", 601, "s", "refuse", "", ""},
		{"release", "chin", 2.6, "s", "ask", "", ""},
		{"release", "chin", 20.1, "s", "refuse", "", ""},
		{"unintended", "chin", 0, "gf", "ok", "", ""},
		{"unintended", "chin", 5001, "gf", "refuse", "", ""},
		{"switch-force", "thumb-left", 200, "gf", "ok", "", ""},
		{"switch-press", "", 501, "gf", "ask", "", ""},
		{"switch-press", "", 2001, "gf", "refuse", "", ""},
	} {
		got := strength.Plausible(c.what, c.site, c.value, c.unit)
		if say := said(got.Say); got.Answer != c.answer || !strings.HasPrefix(say, c.want) || (say == "") != (c.answer == strength.PlausibleOK) {
			t.Errorf("%s %s %v %s: %s, %q, want %s, %q…", c.what, c.site, c.value, c.unit, got.Answer, say, c.answer, c.want)
		}
		suggestion := ""
		if got.Unit != "" {
			suggestion = got.Suggested.Text() + " " + got.Unit
		}
		if suggestion != c.suggestion {
			t.Errorf("%s %s %v %s: suggests %q, want %q", c.what, c.site, c.value, c.unit, suggestion, c.suggestion)
		}
	}
}
