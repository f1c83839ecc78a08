package trend

import (
	"math"

	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// until is the time to a reserve from a force at the last visit.
func (f *Forecast) until(reserve, at, needed float64) Until {
	u := Until{Reserve: reserve}
	spare := at - reserve*needed
	if spare <= 0 {
		u.Already = true
		u.Say = message.New("trend.reserve-reached", message.Number("reserve", reserve))
		return u
	}
	u.Mid, u.MidKnown = weeksTo(spare, f.exact[0])
	u.Early, u.EarlyKnown = weeksTo(spare, f.exact[1])
	u.Late, u.LateKnown = weeksTo(spare, f.exact[2])
	u.Say = u.sentence()
	return u
}

// weeksTo is how long a slope takes to use up what is spare.
func weeksTo(spare, slope float64) (float64, bool) {
	if slope >= 0 {
		return 0, false
	}
	weeks := provenance.Round(spare/-slope, 1)
	return weeks, weeks <= FarthestWeeks
}

// sentence gives the band in whole weeks.
func (u Until) sentence() message.Message {
	reserve := message.Number("reserve", u.Reserve)
	early, late := provenance.Round(u.Early, 0), provenance.Round(u.Late, 0)
	switch {
	case !u.EarlyKnown:
		return message.New("trend.reserve-not-in-sight", reserve)
	case !u.LateKnown:
		return message.New("trend.reserve-perhaps", reserve, message.Number("early", early))
	case late == 0:
		return message.New("trend.reserve-within-a-week", reserve)
	case early == late:
		return message.New("trend.reserve-about", reserve, message.Number("weeks", late))
	}
	return message.New("trend.reserve-between", reserve, message.Number("early", early), message.Number("late", late))
}

// before says whether the early end of the band comes within some weeks.
func (u Until) before(weeks float64) bool {
	return u.Already || u.EarlyKnown && u.Early < weeks
}

// weigh compares the forecast with the wait.
func (f *Forecast) weigh(wait float64) {
	if math.IsNaN(wait) {
		return
	}
	f.RunsOut = f.To2.before(wait)
	f.LighterClass = f.To3.before(wait + DeliverySlack)
	if f.RunsOut {
		f.Advice = []message.Message{
			message.New("trend.plan-lighter-class"),
			message.New("trend.ask-for-electronics"),
			message.New("trend.try-second-site"),
			message.New("trend.look-for-loan"),
			message.New("trend.look-every-4-weeks"),
		}
	}
}

func (f *Forecast) sentence() message.Message {
	var parts []message.Message
	if f.TiredAssumed {
		parts = append(parts, message.New("trend.tired-assumed", message.Number("tired", TiredFactor)))
	}
	if f.exact[0] >= 0 {
		parts = append(parts, message.New("trend.no-fall"))
		if f.To3.Already {
			parts = append(parts, f.To3.Say)
		}
	} else {
		parts = append(parts, f.To3.Say, f.To2.Say)
		if f.RunsOut {
			parts = append(parts, message.New("trend.before-control"))
		}
	}
	if f.Line == Judged {
		return message.New("trend.forecast-judged", message.List("parts", parts))
	}
	return message.New("trend.forecast", message.List("parts", parts))
}
