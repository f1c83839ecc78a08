package endurance

import (
	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// Limits of the mean force over one hour.
const (
	HourIntermittent = 0.140
	HourSustained    = 0.079
)

// HourLimit compares a mean share with the limit for one hour.
type HourLimit struct {
	// Mean is the mean share over time, pauses included, 4 decimals.
	Mean float64
	// Limit is HourIntermittent, or HourSustained for an unbroken hold.
	Limit float64
	// Sustained is true for an unbroken hold.
	Sustained bool
	// Within is true when Mean is not above Limit.
	Within bool
	// Say tells the mean share and on which side of the limit it lies.
	Say message.Message
	provenance.Provenance
}

// OneHour compares a mean share with the limit that held for an hour: 14.0 %
// of maximum on and off, 7.9 % without a break. The mean includes pauses and
// is above 0 and at most 1. Björkstén and Jonsson, Scand J Work Environ Health
// 1977;3(1):23–27. Published; not measured with wheelchair controls.
func OneHour(mean float64, sustained bool) (HourLimit, error) {
	err := provenance.AboveZero("mean-share-of-strength", mean, 1, "all-of-strength", message.New("endurance.still-hour-limits"))
	if err != nil {
		return HourLimit{}, err
	}
	h := HourLimit{Mean: provenance.Round(mean, 4), Limit: HourIntermittent, Sustained: sustained, Provenance: hourProvenance()}
	if sustained {
		h.Limit = HourSustained
	}
	h.Within = h.Mean <= h.Limit
	h.Say = h.say()
	return h, nil
}

func (h *HourLimit) say() message.Message {
	codes := [...]string{"endurance.hour-within", "endurance.hour-above"}
	if h.Sustained {
		codes = [...]string{"endurance.hour-unbroken-within", "endurance.hour-unbroken-above"}
	}
	code := codes[0]
	if !h.Within {
		code = codes[1]
	}
	return message.New(code, message.Number("mean", percent(h.Mean)), message.Number("limit", percent(h.Limit)))
}

const hourSource = "source.one-hour"

func hourProvenance() provenance.Provenance {
	return provenance.Of("formula.one-hour-mean", hourSource, provenance.Published)
}
