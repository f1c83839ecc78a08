package trend

import (
	"math"

	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// Marks of change.
const (
	NoiseShare    = 0.20 // of the earlier value, for force and travel
	NoiseForceGF  = 3.0
	NoiseTravelMM = 1.0
	NoiseTimeS    = 0.3
	NoiseDomain   = 10.0 // points of 100
	LeastCoverage = 80.0 // %
)

// Direction of a change beyond noise.
const (
	Up    = "up"
	Down  = "down"
	Same  = "same" // within measuring noise
	Mixed = "mixed"
)

// Change compares a value of two visits.
type Change struct {
	// Direction is Up, Down, Same or Mixed. Up is a larger value, which for
	// times is not the better one.
	Direction string
	Before    float64
	After     float64
	// Noise is the least difference that counts, 3 decimals.
	Noise float64
	Say   message.Message
	provenance.Provenance
}

// noiseProvenance is for a rule that says when a change counts.
func noiseProvenance(formula string) provenance.Provenance {
	return provenance.Of(formula, "source.own-smallest-change", provenance.Proposal)
}

// compared is a quantity of two visits.
type compared struct {
	// earlier and later are the ids of its values.
	earlier, later string
	unit           string
	most           float64
	// formula is the code of the rule that says when a change counts.
	formula string
}

// ForceChange compares two forces in gf, 0 to 10,000. A change counts when it
// is larger than the larger of 20 % of the earlier value and 3 gf. It refuses
// missing and negative values. Proposal.
func ForceChange(before, after float64) (Change, error) {
	return compare(&compared{"force-earlier", "force-later", "gf", 10000, "formula.change-of-force"},
		before, after, max(NoiseShare*before, NoiseForceGF))
}

// TravelChange compares two travels in mm, 0 to 150, as ForceChange with 1 mm.
func TravelChange(before, after float64) (Change, error) {
	return compare(&compared{"travel-earlier", "travel-later", "mm", 150, "formula.change-of-travel"},
		before, after, max(NoiseShare*before, NoiseTravelMM))
}

// TimeChange compares two times in s, 0 to 600. A change counts when it is
// larger than 0.3 s. It refuses missing and negative values. Proposal.
func TimeChange(before, after float64) (Change, error) {
	return compare(&compared{"time-earlier", "time-later", "s", 600, "formula.change-of-time"}, before, after, NoiseTimeS)
}

func compare(q *compared, before, after, noise float64) (Change, error) {
	still := message.New("trend.still-other-visit")
	err := provenance.First(
		provenance.Between(q.earlier, before, 0, q.most, q.unit, still),
		provenance.Between(q.later, after, 0, q.most, q.unit, still),
	)
	if err != nil {
		return Change{}, err
	}
	c := Change{Direction: Same, Before: before, After: after, Noise: provenance.Round(noise, 3), Provenance: noiseProvenance(q.formula)}
	// Rounded, so that 0.6 less 0.3 is not a hair more than 0.3.
	switch diff := provenance.Round(after-before, 6); {
	case diff > provenance.Round(noise, 6):
		c.Direction = Up
	case diff < -provenance.Round(noise, 6):
		c.Direction = Down
	}
	c.Say = message.New("trend.change", message.Number("before", provenance.Round(before, 1)), message.Number("after", provenance.Round(after, 1)),
		message.Word("unit", q.unit), message.Word("direction", c.Direction))
	return c, nil
}

// Score is a domain score with its coverage, both of 100.
type Score struct{ Points, Coverage float64 }

// DomainChange compares two domain scores. A change counts when it is more
// than 10 points; both coverages must be at least 80 %, or it refuses.
// Proposal.
func DomainChange(before, after Score) (Change, error) {
	still := message.New("trend.still-without-arrow")
	err := provenance.First(
		provenance.Between("coverage-earlier", before.Coverage, LeastCoverage, 100, "%", still),
		provenance.Between("coverage-later", after.Coverage, LeastCoverage, 100, "%", still),
	)
	if err != nil {
		return Change{}, err
	}
	return compare(&compared{"score-earlier", "score-later", "points", 100, "formula.change-of-score"}, before.Points, after.Points, NoiseDomain)
}

// HelpChange compares levels of help (0 to 4, 4 is alone) of the same items at
// two visits. It counts when two items moved by a level the same way, or one
// by two; Before and After are the sums. Mixed means both ways. It refuses
// lists of different length and levels outside 0 to 4. Proposal.
func HelpChange(before, after []int) (Change, error) {
	if len(before) != len(after) || len(before) == 0 {
		return Change{}, provenance.NewRefusal(message.New("trend.help-of-other-items", message.Word("field", "help")))
	}
	var up, down moveCount
	c := Change{Direction: Same, Provenance: noiseProvenance("formula.change-of-help")}
	for i := range before {
		if before[i] < 0 || before[i] > 4 || after[i] < 0 || after[i] > 4 {
			return Change{}, provenance.NewRefusal(message.New("trend.help-outside", message.Word("field", "help"), message.Count("n", i+1)))
		}
		c.Before, c.After = c.Before+float64(before[i]), c.After+float64(after[i])
		up.count(after[i] - before[i])
		down.count(before[i] - after[i])
	}
	switch {
	case up.counts() && down.counts():
		c.Direction = Mixed
	case up.counts():
		c.Direction = Up
	case down.counts():
		c.Direction = Down
	}
	c.Say = message.New("trend.help-change", message.Word("direction", c.Direction))
	return c, nil
}

// moveCount counts items that moved one way.
type moveCount struct{ items, most int }

func (t *moveCount) count(levels int) {
	if levels > 0 {
		t.items++
		t.most = max(t.most, levels)
	}
}

func (t moveCount) counts() bool { return t.items >= 2 || t.most >= 2 }

// Conditions of a visit. Empty fields are not known and differ from none.
type Conditions struct {
	Support, Site, Control, Settings, TimeOfDay, Rater, Checklist string
}

// Differences gives the ids of what was not the same at two visits, in a fixed
// order: support, site, control, settings, time-of-day, rater and checklist.
// With any, the visits are marked "not the same conditions"; another checklist
// version means that the earlier visit is computed again beside.
func Differences(a, b Conditions) []string {
	var out []string
	for _, d := range []struct{ id, a, b string }{
		{"support", a.Support, b.Support}, {"site", a.Site, b.Site}, {"control", a.Control, b.Control},
		{"settings", a.Settings, b.Settings}, {"time-of-day", a.TimeOfDay, b.TimeOfDay},
		{"rater", a.Rater, b.Rater}, {"checklist", a.Checklist, b.Checklist},
	} {
		if d.a != "" && d.b != "" && d.a != d.b {
			out = append(out, d.id)
		}
	}
	return out
}

// isNumber says whether x is a finite number.
func isNumber(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
