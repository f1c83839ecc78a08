package passage

import (
	"math"

	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
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
	// ChairLimitMM is the highest step that the chair's manual allows, or
	// provenance.NotMeasured().
	ChairLimitMM float64
}

// DoorThresholdResult is the judgement of a door threshold.
type DoorThresholdResult struct {
	Verdict string
	// Word is "low", "bump", "wedge" or "ramp", the last two for what it needs.
	Word string
	// OverLimit says that the height is above the chair's limit.
	OverLimit bool
	Say       message.Message
	Compared  []Compared
	Assumes   []message.Message
	provenance.Provenance
}

// DoorThresholdFor judges a door threshold: not feasible above the limit of the
// chair's manual, marginal above 13 mm, else feasible. Where the limit is not
// known it is not feasible above 50 mm, which hardly a chair climbs, and unknown
// below. Words: to 13 mm low, to 20 bump, to 50 wedge, above ramp (proposal
// after 2010 ADA 404.2.5, 13 mm). It refuses a height of zero.
func DoorThresholdFor(s DoorThreshold) (*DoorThresholdResult, error) {
	err := provenance.First(
		provenance.AboveZero("threshold-height", s.HeightMM, 400, "mm", message.New("passage.still-level-floor")),
		optional(s.ChairLimitMM, provenance.AboveZero("step-limit", s.ChairLimitMM, 400, "mm", message.New("passage.still-height"))),
	)
	if err != nil {
		return nil, err
	}
	t := &DoorThresholdResult{Verdict: Feasible, Word: thresholdWord(s.HeightMM),
		Assumes:    []message.Message{message.New("passage.assumes-square-on")},
		Provenance: provenance.Of("formula.door-threshold", "source.own-door-threshold", provenance.Proposal)}
	if s.HeightMM > LowThreshold {
		t.Verdict = Marginal
	}
	limit := t.limit(s)
	marks := []float64{LowThreshold, BumpThreshold, WedgeThreshold}
	if t.OverLimit {
		marks = append(marks, s.ChairLimitMM)
	}
	t.Say = message.New("passage.threshold", message.Number("height", s.HeightMM), message.Count("places", provenance.Apart(s.HeightMM, 0, marks...)),
		message.Word("word", t.Word), message.Inner("limit", limit))
	t.Compared = []Compared{compared("level-change", s.HeightMM), compared("door-threshold", s.HeightMM)}
	return t, nil
}

// limit holds the height against the limit of the chair's manual.
func (t *DoorThresholdResult) limit(s DoorThreshold) message.Message {
	switch {
	case math.IsNaN(s.ChairLimitMM) && s.HeightMM > WedgeThreshold:
		t.Verdict = NotFeasible
		return message.New("passage.step-too-high-for-most", message.Count("most", WedgeThreshold))
	case math.IsNaN(s.ChairLimitMM):
		t.Verdict = Unknown
		return message.New("passage.step-limit-unknown")
	case s.HeightMM > s.ChairLimitMM:
		t.Verdict, t.OverLimit = NotFeasible, true
		return message.New("passage.step-limit-passed", message.Number("limit", s.ChairLimitMM),
			message.Count("places", provenance.Apart(s.HeightMM, 0, s.ChairLimitMM)))
	}
	return message.New("passage.step-limit-kept", message.Number("limit", s.ChairLimitMM))
}

func thresholdWord(height float64) string {
	switch {
	case height <= LowThreshold:
		return "low"
	case height <= BumpThreshold:
		return "bump"
	case height <= WedgeThreshold:
		return "wedge"
	}
	return "ramp"
}
