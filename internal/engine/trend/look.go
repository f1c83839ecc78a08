package trend

import (
	"math"

	"doorsill/internal/engine/provenance"
)

// Weeks to the next look that a forecast can ask for.
const (
	LookRunsOut = 4 // reserve 2 may come before the control
	LookShort   = 2 // reserve 2 is already reached
	LookSoonest = 1
)

// Look is when to look again, and what set the date.
type Look struct {
	// Weeks from the visit whose interval was given.
	Weeks int
	// ByForecast says that the forecast brought the date forward.
	ByForecast bool
	Say        string
}

// Look brings the date of the next look forward where reserve 3 or 2 may be
// reached before the ordinary interval has passed. Interval is in weeks from a
// visit that was since weeks after the last one with forces; the early end of
// the band counts. A forecast without a line changes nothing.
//
// Proposal, not validated.
func (f *Forecast) Look(interval int, since float64) Look {
	l := Look{Weeks: interval}
	why := ""
	sooner := func(weeks int, reason string) {
		if weeks = max(weeks, LookSoonest); weeks < l.Weeks {
			l.Weeks, l.ByForecast, why = weeks, true, reason
		}
	}
	if f.Line != NoLine {
		for _, u := range [...]*Until{&f.To3, &f.To2} {
			if u.EarlyKnown && !u.Already {
				sooner(int(math.Floor(u.Early-since)), "reserve "+provenance.Text(u.Reserve, 0)+" may be reached then")
			}
		}
		if f.To2.Already {
			sooner(LookShort, "reserve 2 is already reached")
		} else if f.RunsOut {
			sooner(LookRunsOut, "reserve 2 may be reached before the control comes")
		}
	}
	l.Say = "Look again in " + weeksText(l.Weeks) + " after the last visit: "
	switch {
	case l.ByForecast:
		l.Say += "the forecast sets the date, because " + why + "; the ordinary interval is " + weeksText(interval) + "."
	case f.Line == NoLine:
		l.Say += "the ordinary interval sets the date; there is no forecast."
	default:
		l.Say += "the ordinary interval sets the date; by the forecast neither reserve 3 nor 2 is reached before."
	}
	if !l.ByForecast && f.To3.Already {
		l.Say = "Look again in " + weeksText(l.Weeks) + " after the last visit: the ordinary interval sets the date; reserve 3 is already reached, and by the forecast reserve 2 is not before."
	}
	return l
}

func weeksText(weeks int) string {
	if weeks == 1 {
		return "1 week"
	}
	return provenance.Whole(weeks) + " weeks"
}
