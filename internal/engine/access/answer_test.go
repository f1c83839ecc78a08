package access_test

import (
	"strconv"
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/decimal"
	"doorsill/internal/engine/access"
)

// TestOfOneAnswer: what an answer about the control means for it, at each bound and
// just beyond (TRADE.md 4, rules 1 to 5, 12 and 13). A short hold refuses nothing.
func TestOfOneAnswer(t *testing.T) {
	for _, c := range []struct {
		from, id   string
		good, just float64
		high       bool
		worst      access.Verdict
	}{
		{checklist.FromForceReserve, "ctl-reserve", 3, 2, true, access.NotFeasible},
		{checklist.FromTravelReserve, "ctl-travel", 1.25, 1, true, access.NotFeasible},
		{checklist.FromNoise, "ctl-noise", 0.5, 0.99, false, access.NotFeasible},
		{checklist.FromRelease, "ctl-release", 1.5, 2.5, false, access.NotFeasible},
		{checklist.FromHold, "ctl-hold", 30, 10, true, access.Marginal},
		{"", "ctl-pain", 3, 6, false, access.NotFeasible},
		{"", "saf-hazard", 1, 1, true, access.Feasible},
		{"", "saf-hazard", 8, 8, false, access.Feasible},
		{checklist.FromTiredRatio, "ctl-tired", 1, 1, true, access.Feasible},
	} {
		item := checklist.Item{ID: c.id, From: c.from}
		beyond := decimal.Micro(1)
		if c.high {
			beyond = -1
		}
		good, _ := decimal.Of(c.good)
		just, _ := decimal.Of(c.just)
		marginal := min(access.Marginal, c.worst)
		for value, want := range map[decimal.Micro]access.Verdict{
			good: access.Feasible, good + beyond: marginal, just: marginal, just + beyond: c.worst, just + 1_000_000*beyond: c.worst,
		} {
			if got := access.OfValue(&item, value); got != want {
				t.Errorf("%s of %v: %v, want %v", c.id, value, got, want)
			}
		}
	}
	grade, other := checklist.Item{ID: "ctl-grade"}, checklist.Item{ID: "ind-door"}
	for help, want := range []access.Verdict{access.NotFeasible, access.Marginal, access.Marginal, access.Feasible, access.Feasible} {
		if got := access.OfLevel(&grade, strconv.Itoa(help)); got != want {
			t.Errorf("grading with level %d: %v, want %v", help, got, want)
		}
		if got := access.OfLevel(&other, strconv.Itoa(help)); got != access.Feasible {
			t.Errorf("another item with level %d: %v", help, got)
		}
	}
	for _, level := range []string{"", "yes", "-1", "5"} {
		if got := access.OfLevel(&grade, level); got != access.Feasible {
			t.Errorf("grading with level %q: %v", level, got)
		}
	}
}
