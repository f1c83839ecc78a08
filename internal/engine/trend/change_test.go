package trend_test

import (
	"slices"
	"strings"
	"testing"

	"doorsill/internal/engine/trend"
)

// TestTheLeastDifferenceThatCounts is the larger of a fifth of the earlier value
// and 3 gf or 1 mm, or 0.3 s, or 10 points: so much is no change, a thousandth more
// is one, up and down.
func TestTheLeastDifferenceThatCounts(t *testing.T) {
	points := func(before, after float64) (trend.Change, error) {
		return trend.DomainChange(trend.Score{Points: before, Coverage: 80}, trend.Score{Points: after, Coverage: 100})
	}
	for _, c := range []struct {
		name   string
		change func(before, after float64) (trend.Change, error)
		before float64
		noise  float64
		say    string
	}{
		{"force", trend.ForceChange, 100, 20, "trend.change before=100 after=120 unit=gf direction=same"},
		{"a force where both are 3 gf", trend.ForceChange, 15, 3, "trend.change before=15 after=18 unit=gf direction=same"},
		{"a weak force", trend.ForceChange, 10, 3, "trend.change before=10 after=13 unit=gf direction=same"},
		{"travel", trend.TravelChange, 10, 2, "trend.change before=10 after=12 unit=mm direction=same"},
		{"a short travel", trend.TravelChange, 4, 1, "trend.change before=4 after=5 unit=mm direction=same"},
		{"time", trend.TimeChange, 1.5, 0.3, "trend.change before=1.5 after=1.8 unit=s direction=same"},
		{"score", points, 60, 10, "trend.change before=60 after=70 unit=points direction=same"},
	} {
		for by, want := range map[float64]string{0: trend.Same, 1: trend.Same, -1: trend.Same, 1.001: trend.Up, -1.001: trend.Down} {
			got := must[trend.Change](t)(c.change(c.before, c.before+by*c.noise))
			if got.Direction != want || got.Noise != c.noise || got.Before != c.before || got.After != c.before+by*c.noise {
				t.Errorf("%s by %v times its noise: %+v, want %s with a noise of %v", c.name, by, got, want, c.noise)
			}
			if by == 1 && got.Say.String() != c.say {
				t.Errorf("%s: %s, want %s", c.name, got.Say.String(), c.say)
			}
		}
	}
	got := must[trend.Change](t)(trend.ForceChange(33.333, 50.06))
	if got.Noise != 6.667 || got.Say.String() != "trend.change before=33.3 after=50.1 unit=gf direction=up" {
		t.Errorf("%v, %s", got.Noise, got.Say.String())
	}
}

// TestBoundsOfWhatIsCompared: from nothing to the most that there is.
func TestBoundsOfWhatIsCompared(t *testing.T) {
	domain := func(a, b trend.Score) error { _, err := trend.DomainChange(a, b); return err }
	full := trend.Score{Points: 100, Coverage: 100}
	for _, c := range []struct {
		err  error
		want string
	}{
		{domain(full, trend.Score{Coverage: 80}), ""},
		{domain(full, trend.Score{Coverage: 79.9}), "refusal.between-unit-still field=coverage-later least=80 most=100 unit=% still=[trend.still-without-arrow]"},
		{domain(trend.Score{Coverage: 79.9}, full), "refusal.between-unit-still field=coverage-earlier least=80 most=100 unit=% still=[trend.still-without-arrow]"},
		{domain(trend.Score{Coverage: 100.1}, full), "refusal.between-unit-still field=coverage-earlier least=80 most=100 unit=% still=[trend.still-without-arrow]"},
		{domain(full, trend.Score{Coverage: 100.1}), "refusal.between-unit-still field=coverage-later least=80 most=100 unit=% still=[trend.still-without-arrow]"},
		{domain(trend.Score{Points: 100.1, Coverage: 100}, full), "refusal.between-unit-still field=score-earlier least=0 most=100 unit=points still=[trend.still-other-visit]"},
		{domain(full, trend.Score{Points: -0.1, Coverage: 100}), "refusal.between-unit-still field=score-later least=0 most=100 unit=points still=[trend.still-other-visit]"},
	} {
		if got := refusalOf(c.err); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// TestHelpAddsUp, and moves of two items or of two levels count, each way by
// itself.
func TestHelpAddsUp(t *testing.T) {
	for _, c := range []struct {
		before, after []int
		from, to      float64
		want          string
	}{
		{[]int{0, 4, 2}, []int{4, 4, 1}, 6, 9, trend.Up}, {[]int{4, 4, 2}, []int{0, 4, 3}, 10, 7, trend.Down}, {[]int{4, 0}, []int{2, 2}, 4, 4, trend.Mixed},
		{[]int{1, 1}, []int{1, 2}, 2, 3, trend.Same}, {[]int{3}, []int{3}, 3, 3, trend.Same}, {[]int{1, 1, 1}, []int{0, 0, 2}, 3, 2, trend.Down},
	} {
		got := must[trend.Change](t)(trend.HelpChange(c.before, c.after))
		if got.Direction != c.want || got.Before != c.from || got.After != c.to || got.Say.String() != "trend.help-change direction="+c.want {
			t.Errorf("%v to %v: %+v, %s; want %v to %v, %s", c.before, c.after, got, got.Say.String(), c.from, c.to, c.want)
		}
	}
}

// TestEachConditionIsNamed where both are known and differ.
func TestEachConditionIsNamed(t *testing.T) {
	names := strings.Fields("support site control settings time-of-day rater checklist")
	fields := func(c *trend.Conditions) []*string {
		return []*string{&c.Support, &c.Site, &c.Control, &c.Settings, &c.TimeOfDay, &c.Rater, &c.Checklist}
	}
	same := trend.Conditions{}
	for _, f := range fields(&same) {
		*f = "x"
	}
	for i, name := range names {
		other, unknown := same, same
		*fields(&other)[i], *fields(&unknown)[i] = "y", ""
		if got := trend.Differences(same, other); !slices.Equal(got, []string{name}) {
			t.Errorf("another %s: %q", name, got)
		}
		if a, b := trend.Differences(same, unknown), trend.Differences(unknown, same); a != nil || b != nil {
			t.Errorf("no %s: %q and %q", name, a, b)
		}
	}
}

// TestTheDateOfTheNextLookAtItsBounds: of a line that falls by 2 gf a week from 76,
// exactly: to reserve 3 and 2 of so much.
func TestTheDateOfTheNextLookAtItsBounds(t *testing.T) {
	for _, c := range []struct {
		name         string
		needed, wait float64
		interval     int
		since        float64
		want         int
		say          string
	}{
		// Reserve 3 of 20 gf is 8 weeks away, reserve 2 18.
		{"just before the interval", 20, none, 9, 0, 8, "trend.look-reserve weeks=8 interval=9 reserve=3"},
		{"at the interval", 20, none, 8, 0, 8, "trend.look-interval weeks=8"},
		{"a part of a week", 20, none, 9, 0.5, 7, "trend.look-reserve weeks=7 interval=9 reserve=3"},
		{"no sooner than four weeks", 20, none, 9, 6, 4, "trend.look-reserve weeks=4 interval=9 reserve=3"},
		{"reserve 2 no sooner than two", 20, none, 9, 17, 2, "trend.look-reserve weeks=2 interval=9 reserve=2"},
		{"reserve 2 in three", 20, none, 9, 15, 3, "trend.look-reserve weeks=3 interval=9 reserve=2"},
		// Reserve 3 of 25.333 is behind, reserve 2 is 12.7 weeks away.
		{"reserve 3 is behind", 25.4, none, 9, 0, 9, "trend.look-interval-reached weeks=9"},
		{"reserve 2 is behind", 38, none, 9, 0, 2, "trend.look-reached weeks=2 interval=9"},
		{"reserve 2 is behind, and the interval is as short", 38, none, 2, 0, 2, "trend.look-interval-reached weeks=2"},
		{"it runs out", 20, 18.1, 9, 0, 4, "trend.look-runs-out weeks=4 interval=9"},
		{"it does not", 20, 18, 9, 0, 8, "trend.look-reserve weeks=8 interval=9 reserve=3"},
		{"not in sight", 0.001, none, 9, 0, 9, "trend.look-interval weeks=9"},
	} {
		f := must[trend.Forecast](t)(trend.ForecastOf(onALine(c.needed, c.wait)))
		look := f.Look(c.interval, c.since)
		if look.Weeks != c.want || look.Say.String() != c.say || look.ByForecast != (c.want < c.interval) {
			t.Errorf("%s: %+v, %s; want %s", c.name, look, look.Say.String(), c.say)
		}
	}
}
