package endurance_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"doorsill/internal/engine/endurance"
	"doorsill/internal/engine/provenance"
	"doorsill/internal/phrase"
)

var english = phrase.NewWriter(phrase.English(), nil)

// refused checks that an error names its field and what was expected, and that
// its sentence begins with words.
func refused(t *testing.T, name string, err error, field, words string) {
	t.Helper()
	var r *provenance.Refusal
	if !errors.As(err, &r) {
		t.Errorf("%s: got %v, want a refusal", name, err)
		return
	}
	m := &r.Message
	for m.Arg("why") != nil { // the refusal in a part
		m = &m.Arg("why").Messages[0]
	}
	if got := m.Arg("field"); got == nil || got.Word != field {
		t.Errorf("%s: refusal %v, want the field %s", name, r, field)
	}
	if got := english.Text(&r.Message); !strings.HasPrefix(got, words+": expected ") {
		t.Errorf("%s: the refusal says %q, want %q and what was expected", name, got, words)
	}
}

var bad = []float64{0, -1, math.NaN(), math.Inf(1), math.Inf(-1)}

func TestNoNumberIsMadeUp(t *testing.T) {
	good := endurance.Task{Site: "thumb-left", Share: 0.2, PerMinute: 10, Seconds: 2, Bend: endurance.Flexion, Hours: 4}
	for _, x := range bad {
		_, err := endurance.ShareOf(x, 100)
		refused(t, "needed force", err, "force-needed", "force that the control needs")
		_, err = endurance.ShareOf(50, x)
		refused(t, "usable force", err, "usable-force", "usable force")
		_, err = endurance.HoldingTime(endurance.Hand, x)
		refused(t, "holding time", err, "share-of-strength", "share of strength")
		_, err = endurance.OneHour(x, false)
		refused(t, "one hour", err, "mean-share-of-strength", "mean share of strength")
		_, err = endurance.Potvin(x)
		refused(t, "Potvin", err, "duty-cycle", "part of the time")
		_, err = endurance.ACGIH(x)
		refused(t, "ACGIH", err, "duty-cycle", "part of the time")
		_, err = endurance.DutyCycle(x, 1)
		refused(t, "duty cycle", err, "commands-a-minute", "commands a minute")
		_, err = endurance.DutyCycle(1, x)
		refused(t, "duty cycle", err, "seconds-a-command", "seconds a command")
		_, err = endurance.Cumulative([]endurance.DayTask{{Index: x, Hours: 1}})
		refused(t, "cumulative", err, "task-index", "task 1, index")
		for field, task := range map[string]endurance.Task{
			"share of strength": {Site: "thumb-left", Share: x, PerMinute: 10, Seconds: 2, Bend: endurance.Flexion, Hours: 4},
			"commands a minute": {Site: "thumb-left", Share: 0.2, PerMinute: x, Seconds: 2, Bend: endurance.Flexion, Hours: 4},
			"seconds a command": {Site: "thumb-left", Share: 0.2, PerMinute: 10, Seconds: x, Bend: endurance.Flexion, Hours: 4},
			"hours a day":       {Site: "thumb-left", Share: 0.2, PerMinute: 10, Seconds: 2, Bend: endurance.Flexion, Hours: x},
		} {
			_, err = endurance.StrainIndex(task)
			refused(t, "strain index", err, strings.ReplaceAll(field, " ", "-"), field)
		}
	}
	for name, c := range map[string]func(*endurance.Task){
		"wrist":       func(t *endurance.Task) { t.Bend = "sideways" },
		"wrist angle": func(t *endurance.Task) { t.Degrees = math.NaN() },
		"site":        func(t *endurance.Task) { t.Site = "chin" },
	} {
		task := good
		c(&task)
		_, err := endurance.StrainIndex(task)
		refused(t, name, err, strings.ReplaceAll(name, " ", "-"), name)
	}
	good.Seconds = 6.1 // 61 s in a minute
	_, err := endurance.StrainIndex(good)
	refused(t, "a full minute", err, "time-of-commands", "commands a minute and seconds a command")
}

func TestRangesEndWhereTheyWerePublished(t *testing.T) {
	_, err := endurance.HoldingTime(endurance.Hand, 0.0999)
	refused(t, "share below a tenth", err, "share-of-strength", "share of strength")
	if err != nil && !strings.Contains(err.Error(), "still=[endurance.still-other-limits]") {
		t.Errorf("%v does not say what can still be said", err)
	}
	_, err = endurance.HoldingTime(endurance.Hand, 1.01)
	refused(t, "share above 1", err, "share-of-strength", "share of strength")
	_, err = endurance.HoldingTime("neck", 0.5)
	refused(t, "neck", err, "region", "region")
	_, err = endurance.ACGIH(0.95)
	refused(t, "duty above 90 %", err, "duty-cycle", "part of the time")
	_, err = endurance.Allowed("chin", 0.2)
	refused(t, "chin", err, "site", "site")
	_, err = endurance.RegionOf("ear-left")
	refused(t, "ear", err, "site", "site")
	_, err = endurance.Composite(nil)
	refused(t, "no commands", err, "kinds-of-command", "kinds of command")
	_, err = endurance.Cumulative([]endurance.DayTask{{5, 13}, {5, 12}})
	refused(t, "25 hours", err, "hours-of-all-tasks", "hours a day of all tasks")
}

func TestASiteWithoutACurveSaysSo(t *testing.T) {
	for _, c := range []struct {
		site   string
		fit    endurance.Fit
		words  string
		curves int
	}{
		{"hand-left", endurance.Own, "hand/grip", 1},
		{"thumb-right", endurance.Borrowed, "borrowed", 1},
		{"little-left", endurance.Borrowed, "hand/grip", 1},
		{"foot-left", endurance.Own, "ankle", 1},
		{"chin", endurance.NoModel, "they were not made for the neck", 2},
		{"head-back", endurance.NoModel, "no curve for the jaw, neck, lips or tongue", 2},
		{"tongue", endurance.NoModel, "time a hold", 2},
	} {
		got, err := endurance.HoldAt(c.site, 0.3)
		if err != nil {
			t.Fatal(err)
		}
		say := english.Text(&got.Say)
		if got.Fit != c.fit || len(got.Holds) != c.curves || !strings.Contains(say, c.words) {
			t.Errorf("%s: fit %q, %d curves, %q; want %q, %d, words %q", c.site, got.Fit, len(got.Holds), say, c.fit, c.curves, c.words)
		}
		for _, h := range got.Holds {
			if h.Low < got.Low || h.High > got.High {
				t.Errorf("%s: the band %v to %v leaves out a curve", c.site, got.Low, got.High)
			}
		}
	}
}

func TestTheHourCountsPauses(t *testing.T) {
	// A minute at 10 %, a minute's pause, a minute at 10 %.
	const mean = 0.20 / 3
	unbroken, broken := must[endurance.HourLimit](t)(endurance.OneHour(0.10, true)), must[endurance.HourLimit](t)(endurance.OneHour(mean, false))
	if unbroken.Within || !strings.Contains(english.Text(&unbroken.Say), "above the one-hour limit of 7.9 %") {
		t.Errorf("10 %% without a break: %+v, want above the 7.9 %% limit", unbroken)
	}
	if !broken.Within || !strings.Contains(english.Text(&broken.Say), "6.7 % of the strength, pauses included") {
		t.Errorf("10 %% with a pause: %+v, want within the 14 %% limit", broken)
	}
}

func TestOnlyOneLimitMayApply(t *testing.T) {
	a, err := endurance.Allowed("index-right", 0.95)
	if err != nil {
		t.Fatal(err)
	}
	const want = "endurance.allowed-few-studied allowed=[endurance.allowed-by-one duty=95 share=1.2 by=potvin]"
	if a.By != endurance.LimitPotvin || len(a.Limits) != 1 || a.Say.String() != want {
		t.Errorf("%+v: want Potvin alone, and %s", a, want)
	}
	for _, l := range a.Limits {
		if l.Status != provenance.FromMemory {
			t.Errorf("%s is called %q", l.ID, l.Status)
		}
	}
}
