package engine_test

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"doorsill/internal/engine"
	"doorsill/internal/model"
)

// TestARaisedExposureIsLookedAtEarly: one line of the card is enough, none is not, and a
// limit that was passed before stays passed.
func TestARaisedExposureIsLookedAtEarly(t *testing.T) {
	for _, c := range []struct {
		name           string
		hours, perMin  float64
		strength, pain float64
		want           bool
	}{
		{"60 commands a day", 1, 1, 20, 1, false},
		{"1200 commands a day", 10, 2, 20, 1, true},
		{"a force that is a third of the strength", 1, 1, 1, 1, true},
	} {
		v := readVector(t, filepath.Join(vectorDir, "chin-exposure.json"))
		for i := range v.Visit.Readings {
			if r := &v.Visit.Readings[i]; r.What == model.ReadForce {
				r.Value *= c.strength
			}
		}
		if c.strength == 1 {
			v.Visit.Setup.OperateGF = 70
		}
		answered(&v.Visit, "ctl-pain", model.AnswerGiven{Number: new(c.pain)})
		answered(&v.Visit, "ctl-strain", model.AnswerGiven{Level: "3"})
		v.Visit.Needs.HoursDriving, v.Visit.Needs.CommandsPerMin, v.Visit.Needs.SecondsPerCommand = &c.hours, &c.perMin, new(1.0)
		v.Visit.Needs.Course = "fast" // four weeks, as for what is raised
		result, err := engine.New(v.list(t)).Score(&v.Visit)
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Contains(result.Recheck.Message.String(), "endurance.recheck-raised"); got != c.want {
			t.Errorf("%s: raised %v, want %v: %s", c.name, got, c.want, result.Recheck.Message.String())
		}
	}
}

// TestTheCardOfADriverByChin has its figures to four decimals, and says why where it
// cannot be made.
func TestTheCardOfADriverByChin(t *testing.T) {
	card := func(change func(*model.Visit)) model.Result {
		v := readVector(t, filepath.Join(vectorDir, "chin-exposure.json"))
		change(&v.Visit)
		result, err := engine.New(v.list(t)).Score(&v.Visit)
		if err != nil {
			t.Fatal(err)
		}
		return result
	}
	result := card(func(v *model.Visit) { v.Needs.HoursDriving = new(0.0) })
	if say := result.Exposure.Message.String(); !strings.Contains(say, "refusal.") || slices.ContainsFunc(result.Limits, func(q model.Quantity) bool { return strings.HasPrefix(q.Name, "exposure-") }) {
		t.Errorf("no hours: %s", say)
	}
	result = card(func(*model.Visit) {})
	if say := result.Exposure.Message.String(); strings.Contains(say, "refusal.") || !slices.ContainsFunc(result.Limits, func(q model.Quantity) bool { return q.Name == "exposure-share-of-strength" }) {
		t.Errorf("%s", say)
	}
}
