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
	// Bevelled is true when its edges slope 1 in 2 or flatter.
	Bevelled bool
	// ChairLimitMM is the highest step that the chair's manual allows, or
	// provenance.NotMeasured().
	ChairLimitMM float64
}

// DoorThresholdResult is the judgement of a door threshold.
type DoorThresholdResult struct {
	Verdict string
	// Word is "low", "bump", "wedge" or "ramp", the last two for what it needs.
	Word string
	// LeftMM is the chair's limit less the height; it has a meaning when
	// LimitKnown.
	LeftMM     float64
	LimitKnown bool
	Say        message.Message
	Compared   []Compared
	Assumes    []message.Message
	provenance.Provenance
}

// DoorThresholdFor judges a door threshold: not feasible above the limit of the
// chair's manual, marginal above 13 mm or when the limit is not known, else
// feasible. Words: to 13 mm low, to 20 bump, to 50 wedge, above ramp (proposal
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
	t.Say = message.New("passage.threshold", message.Number("height", provenance.Round(s.HeightMM, 0)), message.Word("word", t.Word),
		message.Inner("limit", t.limit(s)))
	id := "level-change"
	if s.Bevelled {
		id = "level-change-bevelled"
	}
	t.Compared = []Compared{compared(id, s.HeightMM), compared("door-threshold", s.HeightMM)}
	return t, nil
}

// limit holds the height against the limit of the chair's manual.
func (t *DoorThresholdResult) limit(s DoorThreshold) message.Message {
	if math.IsNaN(s.ChairLimitMM) {
		if t.Verdict == Feasible && s.HeightMM <= LowThreshold {
			return message.New("passage.step-limit-unknown")
		}
		t.Verdict = Marginal
		return message.New("passage.step-limit-unknown-read-manual")
	}
	t.LimitKnown = true
	t.LeftMM = provenance.Round(s.ChairLimitMM-s.HeightMM, 1)
	if t.LeftMM < 0 {
		t.Verdict = NotFeasible
		return message.New("passage.step-limit-passed", message.Number("over", -t.LeftMM))
	}
	return message.New("passage.step-limit-kept", message.Number("limit", provenance.Round(s.ChairLimitMM, 0)))
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
