package endurance_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"doorsill/internal/engine/endurance"
)

// TestNoHoldIsPromisedLongerThanTheBand: both ends are rounded down, once, in the
// number and in the words.
func TestNoHoldIsPromisedLongerThanTheBand(t *testing.T) {
	for share := 0.1; share <= 1; share += 0.0131 {
		h := must[endurance.Hold](t)(endurance.HoldingTime(endurance.Hand, share))
		mean := 33.55 * math.Pow(share, -1.61) // hand/grip, Table 2
		if low, high := mean*(1-endurance.BandWide), mean*(1+endurance.BandWide); h.Low > low+1e-6 || h.High > high+1e-6 || low-h.Low > 0.1+1e-6 || high-h.High > 0.1+1e-6 {
			t.Errorf("%.4f of the strength: %v to %v s, the band is %v to %v", share, h.Low, h.High, low, high)
		}
	}
	h := must[endurance.Hold](t)(endurance.HoldingTime(endurance.Hand, 0.5)) // 102.41 s: 54.28 to 150.54
	if text := english.Text(&h.Say); !strings.Contains(text, "about 54 to 150 s") {
		t.Errorf("%q", text)
	}
}

// TestAJustPassedLimitIsPassedAndSaidSo: what is compared is not what is shown.
func TestAJustPassedLimitIsPassedAndSaidSo(t *testing.T) {
	hour := must[endurance.HourLimit](t)(endurance.OneHour(0.14003, false))
	if text := english.Text(&hour.Say); hour.Within || !strings.Contains(text, "on average 14.003 % of the strength") || !strings.Contains(text, "above the one-hour limit of 14 %") {
		t.Errorf("%v, %q", hour.Within, text)
	}
	low, high := 5.0, 30.0
	task := endurance.Task{Site: "thumb-left", Share: 0.3, Seconds: 1, Hours: 4, Bend: endurance.Flexion}
	for range 60 {
		task.PerMinute = (low + high) / 2
		if s := must[endurance.Strain](t)(endurance.StrainIndex(task)); s.Index > 10.002 {
			high = task.PerMinute
		} else {
			low = task.PerMinute
		}
	}
	task.PerMinute = high
	s := must[endurance.Strain](t)(endurance.StrainIndex(task))
	if text := english.Text(&s.Say); !s.Over || s.Index > 10.004 || !strings.Contains(text, "Strain of the hand 10.00") || !strings.Contains(text, "above the mark of 10") {
		t.Errorf("%v: over %v, %q", s.Index, s.Over, text)
	}
}

// TestWhatIsAllowedIsNeverRoundedUp: 25 commands a minute of a second allow
// 18.95 % of the strength.
func TestWhatIsAllowedIsNeverRoundedUp(t *testing.T) {
	for _, c := range []struct{ duty, most float64 }{{25.0 / 60, 18.9}, {50.0 / 60, 4.2}} {
		a := must[endurance.Allowance](t)(endurance.Allowed("hand-left", c.duty))
		want := fmt.Sprintf("at most %g %% of the strength", c.most)
		if say := english.Text(&a.Say); !strings.Contains(say, want) {
			t.Errorf("%s does not say %q", say, want)
		}
	}
}
