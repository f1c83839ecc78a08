package trend

import (
	"math"

	"doorsill/internal/engine/provenance"
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

// Where the fall of a forecast comes from.
const (
	OwnData = "own data"
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
	Say                             string
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
	Advice []string
	Say    string
	// Caution goes with every forecast.
	Caution     string
	Provenances []provenance.Provenance

	// The same unrounded, so that the unit of force does not matter.
	forces []float64
	exact  [3]float64 // slope, low, high
}

// Caution goes with every forecast.
const Caution = "Forecasts are estimates; illness does not follow a line. Talk about it before it is printed."

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
	f := Forecast{Line: NoLine, Caution: Caution, Provenances: []provenance.Provenance{slopeProvenance(), forecastProvenance()}}
	f.usable(c.Visits)
	if c.Kind == "improving" || c.Kind == "fluctuating" {
		f.Say = "No straight line is drawn for a condition that is " + c.Kind + ": show the visits and look again in time."
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
	const still = "The visits that are complete can still be shown."
	switch c.Kind {
	case "stable", "slow", "fast", "fluctuating", "improving":
	default:
		return provenance.Refuse("course of the condition", "stable, slow, fast, fluctuating or improving", "The forces can still be shown.")
	}
	if len(c.Visits) == 0 {
		return provenance.Refuse("visits", "at least one", "")
	}
	err := provenance.First(
		provenance.Above("force that the control needs", c.Needed, 1e6, "", "The forces can still be shown."),
		optional(c.JudgedLoss, provenance.Above("judged loss of force a week", c.JudgedLoss, 1e6, "", still)),
		optional(c.WaitWeeks, provenance.Within("weeks until the control comes", c.WaitWeeks, 0, FarthestWeeks, "", "The weeks to each reserve can still be given.")),
	)
	if err != nil {
		return err
	}
	for i, v := range c.Visits {
		name := "visit " + provenance.Whole(i+1)
		err := provenance.First(
			provenance.Above(name+", rested force", v.Rested, 1e6, "", still),
			optional(v.Tired, provenance.Above(name+", tired force", v.Tired, 1e6, "", still)),
		)
		if err != nil {
			return err
		}
		if i > 0 && v.Day < c.Visits[i-1].Day {
			return provenance.Refuse(name+", day", "a day not before visit "+provenance.Whole(i), "Put the dates in order; nothing is forecast until then.")
		}
	}
	return nil
}

// optional lets a value pass that is marked as not measured.
func optional(x float64, err error) error {
	if math.IsNaN(x) {
		return nil
	}
	return err
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
		f.Say = "A line needs " + provenance.Whole(LeastVisits) + " visits over at least " + provenance.Text(LeastWeeks, 0) + " weeks; there are " +
			provenance.Whole(len(c.Visits)) + " over " + provenance.Text(weeks, 1) + ". Until then the therapist may enter a loss a week, marked as judged."
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
	return provenance.Provenance{
		Formula: "weeks = (force on the line at the last visit − reserve · needed)/loss a week; band: loss ± 50 % below 4 visits, else the 95 % interval of the slope",
		Source:  "own proposal; near-linear loss of arm strength in ALS: Neurology 1988;38:409",
		Status:  provenance.Proposal,
	}
}
