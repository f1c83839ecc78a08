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
	FewVisits     = 4    // below it the band is the slope ± BandShare
	BandShare     = 0.5  // of the slope
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

// Visit is a force in the worst needed direction.
type Visit struct {
	// Day counts days, in the order of the visits.
	Day int
	// Rested is above 0; Tired is above 0 or provenance.NotMeasured(). Same unit as
	// the force that the control needs.
	Rested, Tired float64
}

// Course is what a forecast starts from.
type Course struct {
	Visits []Visit
	// Needed is the force to full command, above 0.
	Needed float64
	// Kind is "stable", "slow", "fast", "fluctuating" or "improving".
	Kind string
	// JudgedLoss is the therapist's own estimate for the loss of force a week,
	// above 0, or provenance.NotMeasured(). It is used only where the visits do not
	// give a line.
	JudgedLoss float64
	// WaitWeeks is how long the control will take to come, 0 to 260, or
	// provenance.NotMeasured().
	WaitWeeks float64
}

// Until is a time to a reserve, in weeks from the last visit, 1 decimal.
type Until struct {
	Reserve float64
	// Already is true when the last visit lies at or below the reserve.
	Already bool
	// Mid comes from the slope, Early and Late from the band. Each has a
	// meaning when its flag is set: a time beyond FarthestWeeks, or a slope
	// that does not fall, gives none.
	Mid, Early, Late                float64
	MidKnown, EarlyKnown, LateKnown bool
	Say                             message.Message
}

// Forecast is when a control may become too heavy.
type Forecast struct {
	// Line is OwnData, Judged or NoLine.
	Line string
	// Usable are the forces that count: the less of rested and tired, where
	// tired was not measured the rested force times TiredRatio; 4 decimals.
	Usable []float64
	// TiredRatio is the median of tired/rested, or 0.7 with TiredAssumed.
	TiredRatio   float64
	TiredAssumed bool
	// Slope is the change a week, SlopeLow and SlopeHigh its band; 4 decimals.
	Slope, SlopeLow, SlopeHigh float64
	// Reserve is the force on the line at the last visit over the needed, 2
	// decimals.
	Reserve  float64
	To3, To2 Until
	// RunsOut is true when the early time to reserve 2 comes before the
	// control; LighterClass when the early time to reserve 3 comes before 12
	// weeks after it.
	RunsOut, LighterClass bool
	// Advice lists what to do when it runs out.
	Advice []message.Message
	Say    message.Message
	// Caution goes with every forecast.
	Caution     message.Message
	Provenances []provenance.Provenance

	// The same unrounded, so that the unit of force does not matter.
	forces []float64
	exact  [3]float64 // slope, low, high
}

// ForecastOf returns when the reserve may fall to 3 and to 2. A line of own data
// needs 3 visits over at least 8 weeks; otherwise the therapist's own estimate
// counts, marked "judged". The band is the slope ± 50 % with fewer than 4
// visits and for judged estimates, else the 95 % interval of the slope. There is
// no line, and the sentence says so, for improving and fluctuating conditions,
// and where visits and estimate are missing. It refuses forces, days and waits
// that cannot be.
//
// The slope is published; the rules are a proposal. Arm strength fell almost
// in a straight line in a long study of people with ALS (Neurology
// 1988;38:409).
func ForecastOf(c Course) (Forecast, error) {
	if err := c.check(); err != nil {
		return Forecast{}, err
	}
	f := Forecast{Line: NoLine, Caution: message.New("trend.caution"), Provenances: []provenance.Provenance{slopeProvenance(), forecastProvenance()}}
	f.usable(c.Visits)
	switch c.Kind {
	case "improving":
		f.Say = message.New("trend.no-line-improving")
		return f, nil
	case "fluctuating":
		f.Say = message.New("trend.no-line-fluctuating")
		return f, nil
	}
	at, ok := f.fit(c)
	if !ok {
		return f, nil
	}
	f.Reserve = provenance.Round(at/c.Needed, 2)
	f.To3, f.To2 = f.until(3, at, c.Needed), f.until(2, at, c.Needed)
	f.weigh(c.WaitWeeks)
	f.Say = f.sentence()
	return f, nil
}

func (c Course) check() error {
	switch c.Kind {
	case "stable", "slow", "fast", "fluctuating", "improving":
	default:
		return provenance.NewRefusal(message.New("trend.no-course", message.Word("field", "course")))
	}
	if len(c.Visits) == 0 {
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
	for i := range c.Visits {
		if err := provenance.InPart("visit", i+1, c.checkVisit(i)); err != nil {
			return err
		}
	}
	return nil
}

// checkVisit checks one visit, counted from 0.
func (c Course) checkVisit(i int) error {
	v := &c.Visits[i]
	err := provenance.First(
		provenance.AboveZero("rested-force", v.Rested, MostForce, "", stillCompleteVisits()),
		optional(v.Tired, func() error {
			return provenance.AboveZero("tired-force", v.Tired, MostForce, "", stillCompleteVisits())
		}),
	)
	if err == nil && i > 0 && v.Day < c.Visits[i-1].Day {
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

// usable fills in the forces that count.
func (f *Forecast) usable(visits []Visit) {
	var ratios []float64
	for _, v := range visits {
		if !math.IsNaN(v.Tired) {
			ratios = append(ratios, min(1, v.Tired/v.Rested))
		}
	}
	f.TiredRatio, f.TiredAssumed = TiredFactor, len(ratios) == 0
	if !f.TiredAssumed {
		f.TiredRatio = provenance.Round(median(ratios), 4)
	}
	for _, v := range visits {
		force := v.Rested * f.TiredRatio
		if !math.IsNaN(v.Tired) {
			force = min(v.Rested, v.Tired)
		}
		f.forces = append(f.forces, force)
		f.Usable = append(f.Usable, provenance.Round(force, 4))
	}
}

// fit finds slope and band and returns the force at the last visit.
func (f *Forecast) fit(c Course) (at float64, ok bool) {
	first, last := c.Visits[0].Day, c.Visits[len(c.Visits)-1].Day
	weeks := float64(last-first) / 7
	if len(c.Visits) >= LeastVisits && weeks >= LeastWeeks {
		return f.fitOwn(c.Visits, weeks), true
	}
	if math.IsNaN(c.JudgedLoss) {
		f.Say = message.New("trend.too-few", message.Count("least-visits", LeastVisits), message.Number("least-weeks", LeastWeeks),
			message.Count("visits", len(c.Visits)), message.Number("weeks", provenance.Round(weeks, 1)))
		return 0, false
	}
	f.Line = Judged
	f.slopes(spread(-c.JudgedLoss))
	return f.forces[len(f.forces)-1], true
}

func (f *Forecast) fitOwn(visits []Visit, weeks float64) float64 {
	x := make([]float64, len(visits))
	for i, v := range visits {
		x[i] = float64(v.Day-visits[0].Day) / 7
	}
	// The days span weeks, so there is a line.
	line, _ := TheilSen(x, f.forces)
	f.Line = OwnData
	f.slopes(spread(line.exact))
	if line.Bounded && line.N >= FewVisits {
		f.slopes(line.exact, line.exactLow, line.exactHigh)
	}
	return line.exactIntercept + line.exact*weeks
}

// spread is the band of a slope that few visits give.
func spread(slope float64) (same, low, high float64) {
	wide := BandShare * math.Abs(slope)
	return slope, slope - wide, slope + wide
}

// slopes sets the slope and its band.
func (f *Forecast) slopes(slope, low, high float64) {
	f.exact = [3]float64{slope, low, high}
	f.Slope, f.SlopeLow, f.SlopeHigh = provenance.Round(slope, 4), provenance.Round(low, 4), provenance.Round(high, 4)
}

func forecastProvenance() provenance.Provenance {
	return provenance.Of("formula.forecast", "source.own-forecast", provenance.Proposal)
}
