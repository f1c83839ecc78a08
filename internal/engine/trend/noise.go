package trend

import (
	"math"

	"doorsill/internal/engine/provenance"
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
	Same  = "within measuring noise"
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
	Say   string
	provenance.Provenance
}

func noiseProvenance(rule string) provenance.Provenance {
	return provenance.Provenance{Formula: rule,
		Source: "own proposal; published grip work gives a smallest detectable change of about 15 % with three tries",
		Status: provenance.Proposal}
}

// ForceChange compares two forces in gf, 0 to 10,000. A change counts when it
// is larger than the larger of 20 % of the earlier value and 3 gf. It refuses
// missing and negative values. Proposal.
func ForceChange(before, after float64) (Change, error) {
	return measured("force", "gf", before, after, 10000, NoiseForceGF,
		"counts when larger than the larger of 20 % of the earlier value and 3 gf")
}

// TravelChange compares two travels in mm, 0 to 150, as ForceChange with 1 mm.
func TravelChange(before, after float64) (Change, error) {
	return measured("travel", "mm", before, after, 150, NoiseTravelMM,
		"counts when larger than the larger of 20 % of the earlier value and 1 mm")
}

func measured(name, unit string, before, after, most, least float64, rule string) (Change, error) {
	return compare(name, unit, before, after, most, max(NoiseShare*before, least), rule)
}

// TimeChange compares two times in s, 0 to 600. A change counts when it is
// larger than 0.3 s. It refuses missing and negative values. Proposal.
func TimeChange(before, after float64) (Change, error) {
	return compare("time", "s", before, after, 600, NoiseTimeS, "counts when larger than 0.3 s")
}

func compare(name, unit string, before, after, most, noise float64, rule string) (Change, error) {
	const still = "The value of the other visit can still be shown."
	err := provenance.First(
		provenance.Within(name+" at the earlier visit", before, 0, most, unit, still),
		provenance.Within(name+" at the later visit", after, 0, most, unit, still),
	)
	if err != nil {
		return Change{}, err
	}
	c := Change{Direction: Same, Before: before, After: after, Noise: provenance.Round(noise, 3), Provenance: noiseProvenance(rule)}
	// Rounded, so that 0.6 less 0.3 is not a hair more than 0.3.
	switch diff := provenance.Round(after-before, 6); {
	case diff > provenance.Round(noise, 6):
		c.Direction = Up
	case diff < -provenance.Round(noise, 6):
		c.Direction = Down
	}
	c.Say = "From " + provenance.Text(before, 1) + " to " + provenance.Text(after, 1) + " " + unit + ": " + c.Direction + "."
	return c, nil
}

// Score is a domain score with its coverage, both of 100.
type Score struct{ Points, Coverage float64 }

// DomainChange compares two domain scores. A change counts when it is more
// than 10 points; both coverages must be at least 80 %, or it refuses.
// Proposal.
func DomainChange(before, after Score) (Change, error) {
	const still = "The scores can be shown side by side, without an arrow."
	err := provenance.First(
		provenance.Within("coverage at the earlier visit", before.Coverage, LeastCoverage, 100, "%", still),
		provenance.Within("coverage at the later visit", after.Coverage, LeastCoverage, 100, "%", still),
	)
	if err != nil {
		return Change{}, err
	}
	return compare("domain score", "points", before.Points, after.Points, 100, NoiseDomain, "counts when more than 10 points, with a coverage of at least 80 % both times")
}

// HelpChange compares levels of help (0 to 4, 4 is alone) of the same items at
// two visits. It counts when two items moved by a level the same way, or one
// by two; Before and After are the sums. Mixed means both ways. It refuses
// lists of different length and levels outside 0 to 4. Proposal.
func HelpChange(before, after []int) (Change, error) {
	if len(before) != len(after) || len(before) == 0 {
		return Change{}, provenance.Refuse("levels of help", "the same items at both visits, at least one", "Items that were answered both times can still be compared.")
	}
	var up, down moveCount
	c := Change{Direction: Same, Provenance: noiseProvenance("counts when two items moved by a level the same way, or one by two")}
	for i := range before {
		if before[i] < 0 || before[i] > 4 || after[i] < 0 || after[i] > 4 {
			return Change{}, provenance.Refuse("levels of help, item "+provenance.Whole(i+1), "a level from 0 to 4", "The other items can still be compared.")
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
	c.Say = "Levels of help: " + c.Direction + "."
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

// Differences names what was not the same at two visits, in a fixed order.
// With any, the visits are marked "not the same conditions"; another checklist
// version means that the earlier visit is computed again beside.
func Differences(a, b Conditions) []string {
	var out []string
	for _, d := range []struct{ name, a, b string }{
		{"support", a.Support, b.Support}, {"site", a.Site, b.Site}, {"control", a.Control, b.Control},
		{"settings", a.Settings, b.Settings}, {"time of day", a.TimeOfDay, b.TimeOfDay},
		{"rater", a.Rater, b.Rater}, {"checklist version", a.Checklist, b.Checklist},
	} {
		if d.a != "" && d.b != "" && d.a != d.b {
			out = append(out, d.name)
		}
	}
	return out
}

// isNumber says whether x is a finite number.
func isNumber(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
