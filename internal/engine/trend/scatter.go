package trend

import "math"

// How sure a forecast is to be, and what few visits cannot show.
const (
	// Confidence is that of each end of the band by itself.
	Confidence = 0.95
	// FewVisits is up to how many visits the scatter is taken as at least
	// NoiseFloor of the force: so few cannot show how much it is.
	FewVisits  = 4
	NoiseFloor = 0.10
)

// scatter is how far readings lie from the line, as a share of the mean force.
type scatter struct {
	share float64
	// freedom is with how many degrees of freedom it was measured; 0 says that
	// it was assumed, and is taken as known.
	freedom float64
}

// scatterOf takes the scatter of all lines together, since it is one gauge and
// one person: the root of the mean of the squared shares, each line by its
// degrees of freedom. Where few visits give a bound nearer than an assumed
// scatter would, the assumed one counts.
func scatterOf(lines []Line) scatter {
	sum, freedom, few := 0.0, 0.0, false
	for i := range lines {
		l := &lines[i]
		share, df := l.scatter/l.meanY, float64(l.N-2)
		sum += float64(df * share * share)
		freedom += df
		few = few || l.N <= FewVisits
	}
	own := scatter{share: math.Sqrt(sum / freedom), freedom: freedom}
	if assumed := (scatter{share: NoiseFloor}); few && own.reach(Confidence) < assumed.reach(Confidence) {
		return assumed
	}
	return own
}

// reach is how many shares of the mean force a bound that holds with some
// confidence lies from a line that is known as well as one reading would be.
func (s scatter) reach(confidence float64) float64 {
	if s.freedom == 0 {
		return s.share * normalQuantile(confidence)
	}
	return s.share * tQuantile(confidence, s.freedom)
}

// chance is that the truth lies at most so many standard errors above what was
// estimated.
func (s scatter) chance(errors float64) float64 {
	if s.freedom == 0 {
		return normalChance(errors)
	}
	return tChance(errors, s.freedom)
}
