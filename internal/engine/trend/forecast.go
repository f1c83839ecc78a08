package trend

import (
	"math"

	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// Rules of the forecast.
const (
	LeastVisits   = 3
	LeastWeeks    = 8.0
	BandShare     = 0.5  // of a judged loss
	TiredFactor   = 0.7  // of the rested force, where nobody measured tired
	DeliverySlack = 12.0 // weeks after delivery that reserve 3 should last
	FarthestWeeks = 260.0
)

// MostForce is the largest force that is taken for one, in any unit.
const MostForce = 1e6

// Where the fall of a forecast comes from.
const (
	OwnData = "own-data"
	Judged  = "judged"
	NoLine  = "none"
)

// Visit is a force in one direction.
type Visit struct {
	// Day counts days, in the order of the visits.
	Day int
	// Rested is above 0; Tired is above 0 or provenance.NotMeasured(). Same unit as
	// the force that the control needs.
	Rested, Tired float64
}

// Series are the visits at which the force in one needed direction was
// measured, at least one. Direction is its id, or empty where each visit has the
// force of whichever direction was the weakest.
type Series struct {
	Direction string
	Visits    []Visit
}

// Course is what a forecast starts from.
type Course struct {
	Series []Series
	// Needed is the force to full command, above 0.
	Needed float64
	// Kind is "stable", "slow", "fast", "fluctuating" or "improving".
	Kind string
	// JudgedLoss is the therapist's own estimate for the loss of force a week,
	// above 0, or provenance.NotMeasured(). It is used only where the visits do not
	// give a line.
	JudgedLoss float64
	// WaitWeeks is how long the control will take to come from the last visit, 0
	// to 260, or provenance.NotMeasured().
	WaitWeeks float64
}

// Until is a time to a reserve, in weeks from the last visit, 1 decimal.
type Until struct {
	Reserve float64
	// Already is true when the line at the last visit lies at or below the
	// reserve.
	Already bool
	// Mid comes from the line, Early and Late from its bounds; 0 is the last
	// visit itself. Each has a meaning when its flag is set: a time beyond
	// FarthestWeeks, or a line that does not fall, gives none.
	Mid, Early, Late                float64
	MidKnown, EarlyKnown, LateKnown bool
	Say                             message.Message
}

// DayForce is the force in the weakest direction on a day, 4 decimals.
type DayForce struct {
	Day   int
	Force float64
}

// Forecast is when a control may become too heavy.
type Forecast struct {
	// Line is OwnData, Judged or NoLine.
	Line string
	// Usable are the forces that count on each day: in the weakest direction the
	// less of rested and tired, where tired was not measured the rested force
	// times TiredRatio.
	Usable []DayForce
	// TiredRatio is the median of tired/rested, or 0.7 with TiredAssumed.
	TiredRatio   float64
	TiredAssumed bool
	// TiredLent is how many forces were not measured tired, where others were: of
	// these TiredRatio counts.
	TiredLent int
	// Direction is the one whose line is the weakest at the last visit, Slope its
	// change a week, 4 decimals.
	Direction string
	Slope     float64
	// Scatter is how far readings lie from their lines, in percent of the force,
	// 1 decimal; ScatterAssumed says that it was taken and not measured.
	Scatter        float64
	ScatterAssumed bool
	// Reserve is the usable force at the last visit by the line over the needed,
	// 2 decimals.
	Reserve  float64
	To3, To2 Until
	// Band is how the usable force may go on.
	Band []BandPoint
	// Chances are how likely reserves 3 and 2 are still there when the control
	// comes.
	Chances []Chance
	// RunsOut is true when the early time to reserve 2 comes before the
	// control; LighterClass when the early time to reserve 3 comes before 12
	// weeks after it.
	RunsOut, LighterClass bool
	// Advice lists what to do when it runs out.
	Advice []message.Message
	Say    message.Message
	// Notes say what the band covers, what was left out, and a caution that goes
	// with every forecast.
	Notes       []message.Message
	Provenances []provenance.Provenance

	last int // day of the last visit
	// force is the one in the weakest direction at the last visit, unrounded.
	force float64
}

// ForecastOf returns when the reserve may fall to 3 and to 2. A line of own data
// needs 3 visits over at least 8 weeks; otherwise the therapist's own estimate
// counts, marked "judged", with a band of the loss ± 50 %. A direction has a line
// of its own, and the weakest at a time counts: of one by the one-sided 95 %
// bounds of its regression line, of several by courses that are drawn around
// their lines. There is no line, and the sentence says so, for improving and
// fluctuating conditions, and where visits and estimate are missing. It refuses
// forces, days and waits that cannot be.
//
// The line and its bound are published (ICH Q1E, shelf life); the rules are a
// proposal. Arm strength fell almost in a straight line in a long study of
// people with ALS (Neurology 1988;38:409).
func ForecastOf(c Course) (Forecast, error) {
	if err := c.check(); err != nil {
		return Forecast{}, err
	}
	f := Forecast{Line: NoLine, Provenances: []provenance.Provenance{slopeProvenance(), forecastProvenance()}}
	forces := f.usable(c.Series)
	switch c.Kind {
	case "improving":
		f.Say = message.New("trend.no-line-improving")
	case "fluctuating":
		f.Say = message.New("trend.no-line-fluctuating")
	default:
		if on := f.outlook(&c, forces); on != nil {
			f.foresee(on, &c)
		}
	}
	f.Notes = append(f.Notes, message.New("trend.caution"))
	return f, nil
}

// foresee fills in what an outlook says.
func (f *Forecast) foresee(on outlook, c *Course) {
	f.Reserve = provenance.Round(on.at(0).mid/c.Needed, 2)
	f.To3, f.To2 = untilOf(on, 3, c.Needed), untilOf(on, 2, c.Needed)
	f.weigh(c.WaitWeeks)
	f.chances(on, c)
	f.band(on, c)
	f.Say = f.sentence()
}

func (c Course) check() error {
	switch c.Kind {
	case "stable", "slow", "fast", "fluctuating", "improving":
	default:
		return provenance.NewRefusal(message.New("trend.no-course", message.Word("field", "course")))
	}
	if len(c.Series) == 0 {
		return provenance.NewRefusal(message.New("trend.no-visits", message.Word("field", "visits")))
	}
	err := provenance.First(
		provenance.AboveZero("force-needed", c.Needed, MostForce, "", message.New("trend.still-forces")),
		optional(c.JudgedLoss, func() error {
			return provenance.AboveZero("judged-loss", c.JudgedLoss, MostForce, "", stillCompleteVisits())
		}),
		optional(c.WaitWeeks, func() error {
			return provenance.Between("wait-weeks", c.WaitWeeks, 0, FarthestWeeks, "", message.New("trend.still-weeks"))
		}),
	)
	if err != nil {
		return err
	}
	for i := range c.Series {
		if err := c.Series[i].check(); err != nil {
			return err
		}
	}
	return nil
}

func (s *Series) check() error {
	if len(s.Visits) == 0 {
		return provenance.NewRefusal(message.New("trend.no-visits", message.Word("field", "visits")))
	}
	for i := range s.Visits {
		if err := provenance.InPart("visit", i+1, s.checkVisit(i)); err != nil {
			return err
		}
	}
	return nil
}

// checkVisit checks one visit, counted from 0.
func (s *Series) checkVisit(i int) error {
	v := &s.Visits[i]
	err := provenance.First(
		provenance.AboveZero("rested-force", v.Rested, MostForce, "", stillCompleteVisits()),
		optional(v.Tired, func() error {
			return provenance.AboveZero("tired-force", v.Tired, MostForce, "", stillCompleteVisits())
		}),
	)
	if err == nil && i > 0 && v.Day < s.Visits[i-1].Day {
		err = provenance.NewRefusal(message.New("trend.day-out-of-order", message.Word("field", "day"), message.Count("before", i)))
	}
	return err
}

func stillCompleteVisits() message.Message { return message.New("trend.still-complete-visits") }

// optional checks a value unless it is marked as not measured.
func optional(x float64, check func() error) error {
	if math.IsNaN(x) {
		return nil
	}
	return check()
}
