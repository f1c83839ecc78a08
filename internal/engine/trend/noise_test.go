package trend_test

import (
	"math"
	"slices"
	"testing"

	"doorsill/internal/engine/trend"
)

func TestNoiseIsNotChange(t *testing.T) {
	for _, c := range []struct {
		name          string
		change        func(before, after float64) (trend.Change, error)
		before, after float64
		want          string
	}{
		{"a fifth of a force", trend.ForceChange, 100, 120, trend.Same},
		{"more than a fifth", trend.ForceChange, 100, 121, trend.Up},
		{"a fifth less", trend.ForceChange, 100, 80, trend.Same},
		{"more than a fifth less", trend.ForceChange, 100, 79, trend.Down},
		{"3 gf of a small force", trend.ForceChange, 8, 11, trend.Same},
		{"4 gf of a small force", trend.ForceChange, 8, 12, trend.Up},
		{"from nothing", trend.ForceChange, 0, 4, trend.Up},
		{"1 mm of travel", trend.TravelChange, 3, 4, trend.Same},
		{"2 mm of travel", trend.TravelChange, 3, 5, trend.Up},
		{"0.3 s", trend.TimeChange, 0.3, 0.6, trend.Same},
		{"0.4 s", trend.TimeChange, 1.5, 1.1, trend.Down},
	} {
		got := must[trend.Change](t)(c.change(c.before, c.after))
		if got.Direction != c.want {
			t.Errorf("%s: from %v to %v is %q, want %q", c.name, c.before, c.after, got.Direction, c.want)
		}
	}
	for _, x := range []float64{-1, math.NaN(), math.Inf(1)} {
		_, err := trend.ForceChange(x, 100)
		refused(t, "earlier force", err, "force-earlier", "force at the earlier visit")
		_, err = trend.TravelChange(10, x)
		refused(t, "later travel", err, "travel-later", "travel at the later visit")
		_, err = trend.TimeChange(x, 1)
		refused(t, "earlier time", err, "time-earlier", "time at the earlier visit")
	}
}

func TestWhatIsTooLargeIsNotCompared(t *testing.T) {
	must[trend.Change](t)(trend.ForceChange(10000, 10000))
	_, err := trend.ForceChange(10000.1, 1)
	refused(t, "force", err, "force-earlier", "force at the earlier visit")
	must[trend.Change](t)(trend.TravelChange(150, 150))
	_, err = trend.TravelChange(150.1, 1)
	refused(t, "travel", err, "travel-earlier", "travel at the earlier visit")
	must[trend.Change](t)(trend.TimeChange(600, 600))
	_, err = trend.TimeChange(1, 600.1)
	refused(t, "time", err, "time-later", "time at the later visit")
}

func TestADomainNeedsItsCoverage(t *testing.T) {
	got := must[trend.Change](t)(trend.DomainChange(trend.Score{Points: 60, Coverage: 80}, trend.Score{Points: 71, Coverage: 95}))
	if got.Direction != trend.Up {
		t.Errorf("11 points more are %q", got.Direction)
	}
	got = must[trend.Change](t)(trend.DomainChange(trend.Score{Points: 60, Coverage: 80}, trend.Score{Points: 70, Coverage: 95}))
	if got.Direction != trend.Same {
		t.Errorf("10 points more are %q", got.Direction)
	}
	_, err := trend.DomainChange(trend.Score{Points: 60, Coverage: 79}, trend.Score{Points: 90, Coverage: 95})
	refused(t, "coverage", err, "coverage-earlier", "answered part at the earlier visit")
	_, err = trend.DomainChange(trend.Score{Points: 60, Coverage: 90}, trend.Score{Points: 101, Coverage: 95})
	refused(t, "points", err, "score-later", "domain score at the later visit")
}

func TestLevelsOfHelpNeedTwoSteps(t *testing.T) {
	for _, c := range []struct {
		before, after []int
		want          string
	}{
		{[]int{2, 2, 2}, []int{3, 2, 2}, trend.Same},
		{[]int{2, 2, 2}, []int{3, 3, 2}, trend.Up},
		{[]int{2, 2, 2}, []int{4, 2, 2}, trend.Up},
		{[]int{2, 2, 2}, []int{0, 2, 2}, trend.Down},
		{[]int{2, 2, 2}, []int{1, 3, 2}, trend.Same},
		{[]int{2, 2, 2, 2}, []int{1, 1, 3, 3}, trend.Mixed},
	} {
		if got := must[trend.Change](t)(trend.HelpChange(c.before, c.after)); got.Direction != c.want {
			t.Errorf("%v to %v is %q, want %q", c.before, c.after, got.Direction, c.want)
		}
	}
	_, err := trend.HelpChange([]int{1, 2}, []int{1})
	refused(t, "other items", err, "help", "levels of help")
	_, err = trend.HelpChange([]int{1, 2}, []int{1, 5})
	refused(t, "level 5", err, "help", "levels of help, item 2")
}

func TestOtherConditionsAreNamed(t *testing.T) {
	a := trend.Conditions{Support: "on", Site: "chin", Control: "small", Settings: "3", TimeOfDay: "morning", Rater: "A", Checklist: "2026.1"}
	b := a
	if got := trend.Differences(a, b); got != nil {
		t.Errorf("equal conditions differ in %q", got)
	}
	b.Support, b.TimeOfDay, b.Checklist, b.Rater = "off", "evening", "2026.2", ""
	if got := trend.Differences(a, b); !slices.Equal(got, []string{"support", "time-of-day", "checklist"}) {
		t.Errorf("the differences are %q", got)
	}
}
