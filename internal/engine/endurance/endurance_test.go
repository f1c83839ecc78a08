package endurance_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"doorsill/internal/engine/endurance"
	"doorsill/internal/engine/provenance"
)

// refused checks that an error names its field and what was expected.
func refused(t *testing.T, name string, err error, field string) {
	t.Helper()
	var r *provenance.Refusal
	if !errors.As(err, &r) {
		t.Errorf("%s: got %v, want a refusal", name, err)
		return
	}
	if !strings.Contains(r.Field, field) || r.Want == "" {
		t.Errorf("%s: refusal %q does not name %q and what was expected", name, r.Error(), field)
	}
}

var bad = []float64{0, -1, math.NaN(), math.Inf(1), math.Inf(-1)}

func TestNoNumberIsMadeUp(t *testing.T) {
	good := endurance.Task{Site: "thumb-left", Share: 0.2, PerMinute: 10, Seconds: 2, Bend: endurance.Flexion, Hours: 4}
	for _, x := range bad {
		_, err := endurance.ShareOf(x, 100)
		refused(t, "needed force", err, "needs")
		_, err = endurance.ShareOf(50, x)
		refused(t, "usable force", err, "usable force")
		_, err = endurance.HoldingTime(endurance.Hand, x)
		refused(t, "holding time", err, "share of strength")
		_, err = endurance.HoldableShare(endurance.Hand, x)
		refused(t, "holdable share", err, "holding time")
		_, err = endurance.OneHour(x, false)
		refused(t, "one hour", err, "mean share")
		_, err = endurance.MeanShare([]endurance.Spell{{Share: 0.1, Seconds: 10}, {Share: 0.1, Seconds: x}})
		refused(t, "mean share", err, "spell 2")
		_, err = endurance.Potvin(x)
		refused(t, "Potvin", err, "duty")
		_, err = endurance.PotvinDuty(x)
		refused(t, "Potvin duty", err, "share")
		_, err = endurance.ACGIH(x)
		refused(t, "ACGIH", err, "duty")
		_, err = endurance.ACGIHDuty(x)
		refused(t, "ACGIH duty", err, "share")
		_, err = endurance.DutyCycle(x, 1)
		refused(t, "duty cycle", err, "commands a minute")
		_, err = endurance.DutyCycle(1, x)
		refused(t, "duty cycle", err, "seconds a command")
		_, err = endurance.Cumulative([]endurance.DayTask{{Index: x, Hours: 1}})
		refused(t, "cumulative", err, "task 1, index")
		for field, task := range map[string]endurance.Task{
			"share of strength": {Site: "thumb-left", Share: x, PerMinute: 10, Seconds: 2, Bend: endurance.Flexion, Hours: 4},
			"commands a minute": {Site: "thumb-left", Share: 0.2, PerMinute: x, Seconds: 2, Bend: endurance.Flexion, Hours: 4},
			"seconds a command": {Site: "thumb-left", Share: 0.2, PerMinute: 10, Seconds: x, Bend: endurance.Flexion, Hours: 4},
			"hours a day":       {Site: "thumb-left", Share: 0.2, PerMinute: 10, Seconds: 2, Bend: endurance.Flexion, Hours: x},
		} {
			_, err = endurance.StrainIndex(task)
			refused(t, "strain index", err, field)
		}
	}
	for name, c := range map[string]func(*endurance.Task){
		"wrist":        func(t *endurance.Task) { t.Bend = "sideways" },
		"wrist angle":  func(t *endurance.Task) { t.Degrees = math.NaN() },
		"site":         func(t *endurance.Task) { t.Site = "chin" },
		"seconds a co": func(t *endurance.Task) { t.Seconds = 6.1 }, // 61 s in a minute
	} {
		task := good
		c(&task)
		_, err := endurance.StrainIndex(task)
		refused(t, name, err, name)
	}
}

func TestRangesEndWhereTheyWerePublished(t *testing.T) {
	_, err := endurance.HoldingTime(endurance.Hand, 0.0999)
	refused(t, "share below a tenth", err, "share")
	if err != nil && !strings.Contains(err.Error(), "no holding time is claimed") {
		t.Errorf("%q does not say what can still be said", err)
	}
	_, err = endurance.HoldingTime(endurance.Hand, 1.01)
	refused(t, "share above 1", err, "share")
	_, err = endurance.HoldingTime("neck", 0.5)
	refused(t, "neck", err, "region")
	_, err = endurance.ACGIH(0.95)
	refused(t, "duty above 90 %", err, "duty")
	_, err = endurance.HoldableShare(endurance.Shoulder, 5)
	refused(t, "shorter than a full effort", err, "holding time")
	_, err = endurance.Allowed("chin", 0.2)
	refused(t, "chin", err, "site")
	_, err = endurance.RegionOf("ear-left")
	refused(t, "ear", err, "site")
	_, err = endurance.MeanShare(nil)
	refused(t, "no spells", err, "spells")
	_, err = endurance.Composite(nil)
	refused(t, "no commands", err, "command")
	_, err = endurance.Cumulative([]endurance.DayTask{{5, 13}, {5, 12}})
	refused(t, "25 hours", err, "hours a day of all tasks")
}

func TestASiteWithoutACurveSaysSo(t *testing.T) {
	for _, c := range []struct {
		site   string
		fit    endurance.Fit
		words  string
		curves int
		label  string
	}{
		{"hand-left", endurance.Own, "hand/grip", 1, ""},
		{"thumb-right", endurance.Borrowed, "borrowed", 1, ""},
		{"little-left", endurance.Borrowed, "hand/grip", 1, ""},
		{"foot-left", endurance.Own, "ankle", 1, ""},
		{"chin", endurance.NoModel, "not a neck model", 2, endurance.NotANeckModel},
		{"head-back", endurance.NoModel, "no curve for the jaw, neck, lips or tongue", 2, endurance.NotANeckModel},
		{"tongue", endurance.NoModel, "time a hold", 2, endurance.NotANeckModel},
	} {
		got, err := endurance.HoldAt(c.site, 0.3)
		if err != nil {
			t.Fatal(err)
		}
		if got.Fit != c.fit || len(got.Holds) != c.curves || got.Label != c.label || !strings.Contains(got.Say, c.words) {
			t.Errorf("%s: fit %q, %d curves, label %q, %q; want %q, %d, %q, words %q",
				c.site, got.Fit, len(got.Holds), got.Label, got.Say, c.fit, c.curves, c.label, c.words)
		}
		for _, h := range got.Holds {
			if h.Low < got.Low || h.High > got.High {
				t.Errorf("%s: the band %v to %v leaves out a curve", c.site, got.Low, got.High)
			}
		}
	}
}

func TestTheHourCountsPauses(t *testing.T) {
	on := endurance.Spell{Share: 0.10, Seconds: 60}
	mean := must[float64](t)(endurance.MeanShare([]endurance.Spell{on, {Share: 0, Seconds: 60}, on}))
	unbroken, broken := must[endurance.HourLimit](t)(endurance.OneHour(0.10, true)), must[endurance.HourLimit](t)(endurance.OneHour(mean, false))
	if unbroken.Within || !strings.Contains(unbroken.Say, "above the one-hour limit of 7.9 %") {
		t.Errorf("10 %% without a break: %+v, want above the 7.9 %% limit", unbroken)
	}
	if !broken.Within || !strings.Contains(broken.Say, "6.7 % of the strength, pauses included") {
		t.Errorf("10 %% with a pause: %+v, want within the 14 %% limit", broken)
	}
}

func TestOnlyOneLimitMayApply(t *testing.T) {
	a, err := endurance.Allowed("index-right", 0.95)
	if err != nil {
		t.Fatal(err)
	}
	if a.By != "Potvin" || len(a.Limits) != 1 || !strings.Contains(a.Say, "does not cover") {
		t.Errorf("%+v: want Potvin alone, and words for it", a)
	}
	for _, l := range a.Limits {
		if l.Status != provenance.FromMemory {
			t.Errorf("%s is called %q", l.Name, l.Status)
		}
	}
}
