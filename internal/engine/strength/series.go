package strength

import (
	"doorsill/internal/decimal"
	"doorsill/internal/message"
)

// SeriesStatus is what repeated readings of one thing come to while they are being
// taken, in the unit of the gauge.
type SeriesStatus struct {
	// N is how many readings there are.
	N int
	// Value is the one that counts: the mean, and of unintended force the
	// largest. It has a meaning when N is above 0.
	Value decimal.Micro
	// Spread is in percent; it has a meaning when HasSpread.
	Spread    decimal.Micro
	HasSpread bool
	// Missing is how many more are wanted.
	Missing int
	// Low and High are the smallest and the largest reading; they have a meaning
	// when N is above 0.
	Low, High decimal.Micro
	// Apart says that the readings lie far apart, and what to do; nothing when
	// they do not.
	Apart message.Message
	// More is how many more are asked for after a rest, because enough readings
	// lie far apart.
	More int
	// Odd are the places, from 0, of readings far from the middle one.
	Odd []int
	// Say tells it.
	Say message.Message
}

// StatusOf sums up the readings of one thing, direction and state. It returns
// ErrUnit for a unit that does not measure it, and the errors of Summarise.
func StatusOf(what What, unit string, values []float64) (SeriesStatus, error) {
	var scale float64 // of what is no force it is not asked
	switch {
	case what.IsForce():
		gf, err := ToGF(1, unit)
		if err != nil {
			return SeriesStatus{}, err
		}
		scale = gf
	case unit == "", unit != plainUnit(what):
		return SeriesStatus{}, ErrUnit
	}
	if len(values) == 0 {
		return SeriesStatus{Missing: wanted(what), Say: message.New("strength.not-measured")}, nil
	}
	r, err := Summarise(values)
	if err != nil {
		return SeriesStatus{}, err
	}
	return r.status(what, unit, scale, values), nil
}

// plainUnit is the only unit of what is read several times and is no force, "" for
// the rest.
func plainUnit(what What) string {
	switch what {
	case Travel:
		return "mm"
	case Unasked:
		return "per-10-min"
	case Steps:
		return "steps"
	case Breath:
		return "kPa"
	}
	return ""
}

// wanted is how many repeats of a thing make it steady enough to plan on.
func wanted(what What) int {
	if what.IsForce() && what != Unintended {
		return RepeatsWanted
	}
	return 1
}

func (r *Repeats) status(what What, unit string, scale float64, values []float64) SeriesStatus {
	s := SeriesStatus{N: r.N, Value: micro(r.Mean), Low: micro(r.Min), High: micro(r.Max),
		Missing: max(wanted(what)-r.N, 0), Say: r.say(unit, shownPlaces(unit))}
	switch what {
	case Unintended, Unasked, Steps:
		s.Value, s.Say = micro(r.Max), largestOf(r, unit)
		return s
	case Travel, Breath:
		s.Say = meanOf(r, unit)
	default:
		s.Spread, s.HasSpread = micro(r.Spread), r.HasSpread()
		if r.apart(scale) {
			s.far()
		}
	}
	s.Odd = oddOnes(values)
	return s
}

// Apart reports whether readings in gf lie far apart.
func (r *Repeats) Apart() bool { return r.apart(1) }

// apart is the same of another unit; scale turns it into gf.
func (r *Repeats) apart(scale float64) bool {
	return r.Spread > steady(r.Mean*scale)
}

// far asks for more readings after a rest, and says of which two far ones.
func (s *SeriesStatus) far() {
	if s.Missing == 0 {
		s.More = max(RepeatsWanted+RepeatsApart-s.N, 0)
	}
	low, high := message.Exact("low", s.Low), message.Exact("high", s.High)
	switch {
	case s.Missing > 0:
		s.Apart = message.New("strength.apart-early", low, high)
	case s.More > 0:
		s.Apart = message.New("strength.apart", low, high, message.Count("more", s.More))
	default:
		s.Apart = message.New("strength.apart-still", low, high)
	}
}

func largestOf(r *Repeats, unit string) message.Message {
	return message.New("strength.largest", message.Count("n", r.N), message.Number("most", r.Max),
		message.Word("unit", unit), message.Count("places", shownPlaces(unit)))
}

func meanOf(r *Repeats, unit string) message.Message {
	mean, in, places := message.Number("mean", r.Mean), message.Word("unit", unit), message.Count("places", shownPlaces(unit))
	if r.N == 1 {
		return message.New("strength.travel-once", mean, in, places)
	}
	return message.New("strength.travel-mean", message.Count("n", r.N), mean, in, places)
}

// steady is the spread in percent above which repeats with that mean, in gf,
// lie far apart.
func steady(mean float64) float64 {
	if mean < WeakMean {
		return SpreadSteadyLow
	}
	return SpreadSteady
}

// oddOnes returns the places of the readings that are far from the middle one.
func oddOnes(values []float64) []int {
	if len(values) < RepeatsWanted {
		return nil
	}
	middle := median(append([]float64(nil), values...))
	var places []int
	for i, v := range values {
		if isOdd(v, middle) {
			places = append(places, i)
		}
	}
	return places
}

// isOdd reports whether a reading is more than twice or less than half of the
// middle one.
func isOdd(v, middle float64) bool {
	return v > float64(OddTrial*middle) || float64(v*OddTrial) < middle
}
