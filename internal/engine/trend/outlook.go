package trend

import "math"

// span is an estimate of a force with its bounds.
type span struct{ low, mid, high float64 }

// outlook is how the usable force may go on. Weeks count from the last visit
// and may be below 0 for the time of the visits.
type outlook interface {
	// at is the force in the weakest direction.
	at(weeks float64) span
	// reaches is when it is no longer above a force; a time that does not come
	// within FarthestWeeks is infinite. Low is the earliest.
	reaches(force float64) span
	// chance is how likely it is still above a force; false where nothing
	// measured says so.
	chance(force, weeks float64) (float64, bool)
}

// judgedLoss is an outlook by what the therapist expects: from the force at the
// last visit, a loss a week that may be half or one and a half of it. A single
// force is as unsure as its noise.
type judgedLoss struct{ force, loss float64 }

func (j judgedLoss) at(weeks float64) span {
	unsure := normalQuantile(Confidence) * NoiseFloor
	line := func(force, share float64) float64 { return j.force*force - float64(j.loss*share*weeks) }
	return span{line(1-unsure, 1+BandShare), line(1, 1), line(1+unsure, 1-BandShare)}
}

func (j judgedLoss) reaches(force float64) span {
	now := j.at(0)
	when := func(from, share float64) float64 { return within(max(0, from-force) / float64(j.loss*share)) }
	return span{when(now.low, 1+BandShare), when(now.mid, 1), when(now.high, 1-BandShare)}
}

func (j judgedLoss) chance(_, _ float64) (float64, bool) { return 0, false }

// oneLine is an outlook by the line of one direction, by the rule of a shelf
// life. The x of the line are weeks from the last visit.
type oneLine struct {
	line    Line
	scatter scatter
}

func (o *oneLine) at(weeks float64) span { return o.between(weeks, o.reach()) }

// between is the force with bounds so far off for a standard error of 1.
func (o *oneLine) between(weeks, reach float64) span {
	mid, off := o.line.at(weeks), float64(reach*o.line.unsure(weeks))
	return span{mid - off, mid, mid + off}
}

// reach is how far the bounds are off for a standard error of 1.
func (o *oneLine) reach() float64 { return o.scatter.reach(Confidence) * o.line.meanY }

func (o *oneLine) reaches(force float64) span { return o.reachesWithin(force, o.reach()) }

func (o *oneLine) reachesWithin(force, reach float64) span {
	when := func(errors float64) float64 {
		weeks, comes := o.line.crossing(0, force, errors)
		if !comes {
			return math.Inf(1)
		}
		return within(weeks)
	}
	return span{when(-reach), when(0), when(reach)}
}

func (o *oneLine) chance(force, weeks float64) (float64, bool) {
	above := o.line.at(weeks) - force
	unsure := float64(o.scatter.share * o.line.meanY * o.line.unsure(weeks))
	switch {
	case unsure > 0:
		return o.scatter.chance(above / unsure), true
	case above > 0:
		return 1, true
	}
	return 0, true
}

// within is a time, or infinite beyond FarthestWeeks.
func within(weeks float64) float64 {
	if weeks > FarthestWeeks {
		return math.Inf(1)
	}
	return weeks
}
