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
		return 0, provenance.NewRefusal(message.New("endurance.no-spells", message.Word("field", "spells")))
	}
	var force, time float64
	still := message.New("endurance.still-other-spells")
	for i, s := range spells {
		err := provenance.First(
			provenance.Between("spell-share", s.Share, 0, 1, "", still),
			provenance.AboveZero("spell-time", s.Seconds, mostSeconds, "s", still),
		)
		if err != nil {
			return 0, provenance.InPart("spell", i+1, err)
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
	h.Within = mean <= h.Limit
	h.Say = h.say(mean)
	return h, nil
}

func (h *HourLimit) say(mean float64) message.Message {
	codes := [...]string{"endurance.hour-within", "endurance.hour-above"}
	if h.Sustained {
		codes = [...]string{"endurance.hour-unbroken-within", "endurance.hour-unbroken-above"}
	}
	code := codes[0]
	if !h.Within {
		code = codes[1]
	}
	limit := percent(h.Limit)
	return message.New(code, message.Number("mean", 100*mean), message.Number("limit", limit), message.Count("places", provenance.Apart(100*mean, 1, limit)))
}

const hourSource = "source.one-hour"

func hourProvenance() provenance.Provenance {
	return provenance.Of("formula.one-hour-mean", hourSource, provenance.Published)
}
