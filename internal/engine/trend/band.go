package trend

import (
	"math"

	"doorsill/internal/engine/provenance"
)

// BandPoint is the usable force on a day by the line, with its bounds, none
// below 0; 4 decimals.
type BandPoint struct {
	Day            int
	Low, Mid, High float64
}

// How far the band is given, in weeks from the last visit: beyond the delivery
// and the early times to the reserves, to LongestBand for those; in steps of 4
// weeks, in larger ones where more than bandSteps would be needed.
const (
	ShortestBand = 8.0
	LongestBand  = 52.0
	beyond       = 2.0
	step         = 4
	bandSteps    = 20
)

// band fills in the band, from the first visit on where it rests on visits.
func (f *Forecast) band(on outlook, c *Course) {
	horizon := ShortestBand
	if !math.IsNaN(c.WaitWeeks) {
		horizon = max(horizon, c.WaitWeeks+beyond)
	}
	for _, u := range [...]*Until{&f.To3, &f.To2} {
		horizon = max(horizon, min(LongestBand, u.Early)+beyond)
	}
	days := step * 7 * max(1, int(math.Ceil(horizon/(step*bandSteps))))
	if f.Line == OwnData {
		for day := f.Usable[0].Day; day < f.last; day += days {
			f.point(on, day)
		}
	}
	for day := f.last; ; day += days {
		f.point(on, day)
		if float64(day-f.last) >= 7*horizon {
			break
		}
	}
}

func (f *Forecast) point(on outlook, day int) {
	s := on.at(float64(day-f.last) / 7)
	force := func(x float64) float64 { return provenance.Round(max(0, x), 4) }
	f.Band = append(f.Band, BandPoint{day, force(s.low), force(s.mid), force(s.high)})
}

// Chance is how likely a reserve is still there, in percent, 1 decimal.
type Chance struct {
	Reserve, Weeks, Percent float64
}

// chances fills in how likely the reserves last until the control comes.
func (f *Forecast) chances(on outlook, c *Course) {
	if math.IsNaN(c.WaitWeeks) {
		return
	}
	for _, reserve := range [...]float64{3, 2} {
		if p, ok := on.chance(reserve*c.Needed, c.WaitWeeks); ok {
			f.Chances = append(f.Chances, Chance{reserve, c.WaitWeeks, provenance.Round(100*p, 1)})
		}
	}
}
