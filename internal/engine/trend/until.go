package trend

import (
	"math"

	"doorsill/internal/engine/provenance"
)

// until is the time to a reserve from a force at the last visit.
func (f *Forecast) until(reserve, at, needed float64) Until {
	u := Until{Reserve: reserve}
	spare := at - reserve*needed
	if spare <= 0 {
		u.Already = true
		u.Say = "Reserve " + provenance.Text(reserve, 0) + " is already reached."
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

func (u Until) sentence() string {
	text := "Reserve " + provenance.Text(u.Reserve, 0) + ": "
	switch {
	case !u.EarlyKnown:
		return text + "not in sight."
	case !u.LateKnown:
		return text + "in " + provenance.Text(u.Early, 0) + " weeks at the earliest, perhaps not at all."
	}
	switch early, late := provenance.Text(u.Early, 0), provenance.Text(u.Late, 0); {
	case late == "0":
		return text + "within a week."
	case early == late:
		return text + "in about " + late + " weeks."
	default:
		return text + "in " + early + " to " + late + " weeks."
	}
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
		f.Advice = []string{
			"Plan a lighter class of control now.",
			"Ask for electronics that can take other controls later.",
			"Try a second site now.",
			"Look for an interim loan.",
			"Look again every 4 weeks.",
		}
	}
}

func (f *Forecast) sentence() string {
	text := ""
	if f.Line == Judged {
		text = "By a judged loss of force, not by own data: "
	}
	if f.TiredAssumed {
		text += "No tired force was measured; " + provenance.Text(TiredFactor, 1) + " of the rested force is assumed. "
	}
	if f.exact[0] >= 0 {
		text += "No fall is seen, so there is no date."
		if f.To3.Already {
			text += " Reserve 3 is already reached."
		}
		return text
	}
	text += f.To3.Say + " " + f.To2.Say
	if f.RunsOut {
		text += " That may be before the control comes."
	}
	return text
}
