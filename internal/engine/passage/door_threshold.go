package passage

import (
	"math"

	"doorsill/internal/engine/provenance"
)

// Heights of a door threshold in mm.
const (
	LowThreshold   = 13
	BumpThreshold  = 20
	WedgeThreshold = 50
)

// DoorThreshold is a threshold that is driven over.
type DoorThreshold struct {
	// HeightMM is above 0, at most 400.
	HeightMM float64
	// Bevelled is true when its edges slope 1 in 2 or flatter.
	Bevelled bool
	// ChairLimitMM is the highest step that the chair's manual allows, or
	// provenance.NotMeasured().
	ChairLimitMM float64
}

// DoorThresholdResult is the judgement of a door threshold.
type DoorThresholdResult struct {
	Verdict string
	// Word is "low", "bump", "needs a wedge" or "needs a ramp".
	Word string
	// LeftMM is the chair's limit less the height; it has a meaning when
	// LimitKnown.
	LeftMM     float64
	LimitKnown bool
	Say        string
	Compared   []Compared
	Assumes    []string
	provenance.Provenance
}

// DoorThresholdFor judges a door threshold: not feasible above the limit of the chair's
// manual, marginal above 13 mm or when the limit is not known, else feasible.
// Words: to 13 mm low, to 20 bump, to 50 needs a wedge, above needs a ramp
// (proposal after 2010 ADA 404.2.5, 13 mm). It refuses a height of zero.
func DoorThresholdFor(s DoorThreshold) (*DoorThresholdResult, error) {
	err := provenance.First(
		provenance.Above("height of the threshold", s.HeightMM, 400, "mm", "A level floor needs no judgement."),
		optional(s.ChairLimitMM, provenance.Above("step limit of the chair", s.ChairLimitMM, 400, "mm", "The height itself can still be judged.")),
	)
	if err != nil {
		return nil, err
	}
	t := &DoorThresholdResult{Verdict: Feasible, Word: thresholdWord(s.HeightMM),
		Assumes: []string{"The chair meets the threshold square on and slowly; both castors together."},
		Provenance: provenance.Provenance{Formula: "height against 13, 20 and 50 mm and the limit of the chair's manual",
			Source: "own proposal; 13 mm after 2010 ADA Standards 404.2.5 (1/2 in)", Status: provenance.Proposal}}
	t.Say = provenance.Text(s.HeightMM, 0) + " mm: " + t.Word + "."
	if s.HeightMM > LowThreshold {
		t.Verdict = Marginal
	}
	t.limit(s)
	id := "level-change"
	if s.Bevelled {
		id = "level-change-bevelled"
	}
	t.Compared = []Compared{compared(id, s.HeightMM), compared("door-threshold", s.HeightMM)}
	return t, nil
}

func (t *DoorThresholdResult) limit(s DoorThreshold) {
	if math.IsNaN(s.ChairLimitMM) {
		if t.Verdict == Feasible && s.HeightMM <= LowThreshold {
			t.Say += " The step limit of this chair is not known."
			return
		}
		t.Verdict = Marginal
		t.Say += " The step limit of this chair is not known: read its manual before driving here."
		return
	}
	t.LimitKnown = true
	t.LeftMM = provenance.Round(s.ChairLimitMM-s.HeightMM, 1)
	if t.LeftMM < 0 {
		t.Verdict = NotFeasible
		t.Say += " That is " + provenance.Text(-t.LeftMM, 0) + " mm more than the chair's manual allows."
		return
	}
	t.Say += " The chair's manual allows " + provenance.Text(s.ChairLimitMM, 0) + " mm."
}

func thresholdWord(height float64) string {
	switch {
	case height <= LowThreshold:
		return "low"
	case height <= BumpThreshold:
		return "bump"
	case height <= WedgeThreshold:
		return "needs a wedge"
	}
	return "needs a ramp"
}
