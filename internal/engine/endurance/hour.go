package endurance

import (
	"doorsill/internal/engine/provenance"
)

// Limits of the mean force over one hour.
const (
	HourIntermittent = 0.140
	HourSustained    = 0.079
)

// Spell is a stretch of time at one share of strength; a pause has share 0.
type Spell struct {
	// Share is 0 to 1.
	Share float64
	// Seconds is above 0.
	Seconds float64
}

// MeanShare returns the mean force over time, pauses included:
//
//	mean = Σ(share · seconds) / Σ seconds
//
// rounded to 4 decimals. It refuses an empty list, shares outside 0 to 1 and
// times that are not above 0, and names the spell. This is how the one-hour
// limits count: Björkstén and Jonsson 1977. Published.
func MeanShare(spells []Spell) (float64, error) {
	if len(spells) == 0 {
		return 0, provenance.Refuse("spells", "at least one spell of driving with its share and seconds",
			"The share of a single command can still be given.")
	}
	var force, time float64
	for i, s := range spells {
		name := "spell " + provenance.Whole(i+1)
		err := provenance.First(
			provenance.Within(name+", share", s.Share, 0, 1, "", "The other spells can still be counted."),
			provenance.Above(name+", time", s.Seconds, mostSeconds, "s", "The other spells can still be counted."),
		)
		if err != nil {
			return 0, err
		}
		force += float64(s.Share * s.Seconds)
		time += s.Seconds
	}
	return provenance.Round(force/time, 4), nil
}

// HourLimit compares a mean share with the limit for one hour.
type HourLimit struct {
	// Mean is the mean share over time, pauses included, 4 decimals.
	Mean float64
	// Limit is HourIntermittent, or HourSustained for an unbroken hold.
	Limit     float64
	Sustained bool
	// Within is true when Mean is not above Limit.
	Within bool
	Say    string
	provenance.Provenance
}

// OneHour compares a mean share with the limit that held for an hour: 14.0 %
// of maximum on and off, 7.9 % without a break. The mean includes pauses and
// is above 0 and at most 1. Björkstén and Jonsson, Scand J Work Environ Health
// 1977;3(1):23–27. Published; not measured with wheelchair controls.
func OneHour(mean float64, sustained bool) (HourLimit, error) {
	err := provenance.Above("mean share of strength", mean, 1, "(all of the strength)",
		"The limits themselves are 14.0 % on and off and 7.9 % without a break.")
	if err != nil {
		return HourLimit{}, err
	}
	h := HourLimit{Mean: provenance.Round(mean, 4), Limit: HourIntermittent, Sustained: sustained, Provenance: hourProvenance()}
	if sustained {
		h.Limit = HourSustained
	}
	h.Within = h.Mean <= h.Limit
	h.Say = h.sentence()
	return h, nil
}

func (h HourLimit) sentence() string {
	kind, side := "on-and-off", "within"
	if h.Sustained {
		kind = "unbroken"
	}
	if !h.Within {
		side = "above"
	}
	return "On average " + provenance.Percent(h.Mean) + " of the strength, pauses included: " + side +
		" the one-hour limit of " + provenance.Percent(h.Limit) + " for " + kind + " effort."
}

const hourSource = "Björkstén M, Jonsson B. Scand J Work Environ Health 1977;3(1):23–27"

func hourProvenance() provenance.Provenance {
	return provenance.Provenance{
		Formula: "mean = Σ(share · seconds)/Σ seconds, pauses included; limit 14.0 % on and off, 7.9 % without a break",
		Source:  hourSource,
		Status:  provenance.Published,
	}
}
