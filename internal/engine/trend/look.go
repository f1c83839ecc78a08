package trend

import (
	"math"

	"doorsill/internal/message"
)

// Weeks to the next look that a forecast asks for at the soonest: a visit more
// says little sooner.
const (
	LookRunsOut = 4 // reserve 3 may be reached, or reserve 2 before the control comes
	LookShort   = 2 // reserve 2 may be reached
)

// Look is when to look again, and what set the date.
type Look struct {
	// Weeks from the visit whose interval was given.
	Weeks int
	// ByForecast says that the forecast brought the date forward.
	ByForecast bool
	Say        message.Message
}

// Look brings the date of the next look forward where reserve 3 or 2 may be
// reached before the ordinary interval has passed. Interval is in weeks from a
// visit that was since weeks after the last one with forces; the early end of
// the band counts. A forecast without a line changes nothing.
//
// Proposal, not validated.
func (f *Forecast) Look(interval int, since float64) Look {
	l, why := Look{Weeks: interval}, reason{}
	for _, one := range [...]struct {
		until   *Until
		soonest int
	}{{&f.To3, LookRunsOut}, {&f.To2, LookShort}} {
		if u := one.until; u.EarlyKnown && !u.Already {
			l.sooner(max(one.soonest, int(math.Floor(u.Early-since))), &why, reason{"trend.look-reserve", u.Reserve})
		}
	}
	if f.To2.Already {
		l.sooner(LookShort, &why, reason{code: "trend.look-reached"})
	} else if f.RunsOut {
		l.sooner(LookRunsOut, &why, reason{code: "trend.look-runs-out"})
	}
	weeks := message.Count("weeks", l.Weeks)
	switch {
	case l.ByForecast:
		l.Say = why.sentence(weeks, message.Count("interval", interval))
	case f.To3.Already:
		l.Say = message.New("trend.look-interval-reached", weeks)
	case f.Line == NoLine:
		l.Say = message.New("trend.look-interval-only", weeks)
	default:
		l.Say = message.New("trend.look-interval", weeks)
	}
	return l
}

// reason is why the forecast sets the date.
type reason struct {
	// code is that of the sentence.
	code string
	// reserve is the one that may be reached, or 0.
	reserve float64
}

func (r reason) sentence(args ...message.Arg) message.Message {
	if r.reserve > 0 {
		args = append(args, message.Number("reserve", r.reserve))
	}
	return message.New(r.code, args...)
}

// sooner takes a number of weeks and its reason where they bring the date
// forward.
func (l *Look) sooner(weeks int, why *reason, because reason) {
	if weeks < l.Weeks {
		l.Weeks, l.ByForecast, *why = weeks, true, because
	}
}
