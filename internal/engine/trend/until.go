package trend

import (
	"math"

	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// untilOf is the time to a reserve by an outlook.
func untilOf(on outlook, reserve, needed float64) Until {
	u, when := Until{Reserve: reserve}, on.reaches(reserve*needed)
	u.Early, u.EarlyKnown = known(when.low)
	u.Mid, u.MidKnown = known(when.mid)
	u.Late, u.LateKnown = known(when.high)
	u.Already = when.mid == 0
	u.Say = u.sentence()
	return u
}

// known rounds a time that comes.
func known(weeks float64) (float64, bool) {
	if math.IsInf(weeks, 1) {
		return 0, false
	}
	return provenance.Round(weeks, 1), true
}

// sentence gives the band in whole weeks, the early end rounded down.
func (u Until) sentence() message.Message {
	reserve := message.Number("reserve", u.Reserve)
	early, late := message.Number("early", math.Floor(u.Early)), message.Number("late", math.Ceil(u.Late))
	switch {
	case u.Already:
		return message.New("trend.reserve-reached", reserve)
	case !u.EarlyKnown:
		return message.New("trend.reserve-not-in-sight", reserve)
	case !u.LateKnown && u.Early < 1:
		return message.New("trend.reserve-perhaps-now", reserve)
	case !u.LateKnown:
		return message.New("trend.reserve-perhaps", reserve, early)
	case u.Late <= 1:
		return message.New("trend.reserve-within-a-week", reserve)
	case u.Early < 1:
		return message.New("trend.reserve-from-now", reserve, late)
	case math.Round(u.Early) == math.Round(u.Late):
		return message.New("trend.reserve-about", reserve, message.Number("weeks", math.Round(u.Late)))
	}
	return message.New("trend.reserve-between", reserve, early, late)
}

// before says whether the early end of the band comes before some weeks have passed.
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
	if f.TiredLent > 0 {
		parts = append(parts, message.New("trend.tired-lent", message.Count("n", f.TiredLent), message.Number("tired", f.TiredRatio)))
	}
	if f.Slope >= 0 {
		parts = append(parts, message.New("trend.no-fall"))
	}
	parts = append(parts, f.To3.Say, f.To2.Say)
	if f.RunsOut {
		parts = append(parts, message.New("trend.before-control"))
	}
	parts = append(parts, f.chanceSentences()...)
	if f.Line == Judged {
		return message.New("trend.forecast-judged", message.List("parts", parts))
	}
	return message.New("trend.forecast", message.List("parts", parts))
}

// chanceSentences say how likely the reserves last until the control comes. A
// chance is never said to be none or all of 100.
func (f *Forecast) chanceSentences() []message.Message {
	if len(f.Chances) == 0 {
		return nil
	}
	percent := func(i int) float64 { return min(99, max(1, math.Floor(f.Chances[i].Percent))) }
	return []message.Message{message.New("trend.chance", message.Number("weeks", f.Chances[0].Weeks), message.Number("three", percent(0)), message.Number("two", percent(1)))}
}
