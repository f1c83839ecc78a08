package passage

import (
	"math"

	"doorsill/internal/engine/provenance"
)

// Ramp is one run of a ramp. What nobody measured is provenance.NotMeasured().
type Ramp struct {
	// RiseMM is the height gained, above 0, at most 5000.
	RiseMM float64
	// RunMM is the length on the flat; where only the sloping surface can be
	// measured, AlongMM is its length, and RunMM is not measured.
	RunMM, AlongMM float64
	// WidthMM is the clear width between edges or handrails.
	WidthMM float64
	// LandingTopMM and LandingBottomMM are the level lengths at the ends.
	LandingTopMM, LandingBottomMM float64
	// Bends is true when the ramp changes direction at a landing.
	Bends bool
	// ChairLimitDegrees is the steepest slope that the chair's manual allows,
	// above 0, at most 30.
	ChairLimitDegrees float64
}

// Incline is a slope in all the ways people say it.
type Incline struct {
	// OneIn is the run for a rise of one, 2 decimals.
	OneIn float64
	// Percent is 100 · rise/run, 3 decimals; Degrees atan(rise/run), 3
	// decimals.
	Percent, Degrees float64
	// RunMM is the length on the flat, AlongMM on the surface, 1 decimal.
	RunMM, AlongMM float64
	provenance.Provenance
}

// InclineOf returns a slope from its rise and run:
//
//	percent = 100 · rise/run, degrees = atan(rise/run), along = √(rise² + run²)
//
// It refuses a rise or run of zero. Plane geometry. Percent are not degrees: 1
// in 12 is 8.33 % and 4.76 degrees.
func InclineOf(rise, run float64) (*Incline, error) {
	err := provenance.First(
		provenance.Above("rise", rise, 5000, "mm", "Level floor needs no ramp; a step is judged as a threshold."),
		provenance.Above("run", run, 100000, "mm", "With the rise alone, a run of twelve times the rise would make 1 in 12."),
	)
	if err != nil {
		return nil, err
	}
	return &Incline{
		OneIn:   provenance.Round(run/rise, 2),
		Percent: provenance.Round(100*rise/run, 3),
		Degrees: provenance.Round(math.Atan2(rise, run)*180/math.Pi, 3),
		RunMM:   provenance.Round(run, 1),
		AlongMM: provenance.Round(Point{rise, run}.length(), 1),
		Provenance: provenance.Provenance{
			Formula: "1 in run/rise; percent = 100 · rise/run; degrees = atan(rise/run); along = √(rise² + run²)",
			Source:  "plane geometry", Status: provenance.Derived,
		},
	}, nil
}

func (r *Ramp) incline() (*Incline, error) {
	run := r.RunMM
	if math.IsNaN(run) && provenance.Measured(r.AlongMM) {
		if err := provenance.Above("rise", r.RiseMM, 5000, "mm", "Level floor needs no ramp; a step is judged as a threshold."); err != nil {
			return nil, err
		}
		if !(r.AlongMM > r.RiseMM) {
			return nil, provenance.Refuse("length along the ramp", "more than its rise of "+provenance.Text(r.RiseMM, 0)+" mm",
				"With the rise alone, a run of twelve times the rise would make 1 in 12.")
		}
		run = math.Sqrt(r.AlongMM*r.AlongMM - r.RiseMM*r.RiseMM)
	}
	return InclineOf(r.RiseMM, run)
}

// Slope is the judgement of a ramp.
type Slope struct {
	Incline Incline
	Verdict string
	// Word is "gentle", "steep", "very steep" or "too steep for most".
	Word string
	// SpareDegrees is the chair's limit less the slope, 3 decimals; it has a
	// meaning when LimitKnown.
	SpareDegrees float64
	LimitKnown   bool
	Say          string
	// Compared holds the reference figures that apply.
	Compared []Compared
	Assumes  []string
}

// Marks of a ramp as 1 in x.
const (
	GentleOneIn    = 12
	SteepOneIn     = 10
	VerySteepOneIn = 8
)

// RampFor judges a ramp for a chair: not feasible above the slope limit of the
// chair's manual, marginal when it is steeper than 1 in 12, when the limit is
// not known, or when width or landings are smaller than the chair; else
// feasible. The chair's limit goes before any building figure. It refuses a
// ramp without rise or run and values out of range; the words and 1 in 12 as
// the mark of "feasible" are a proposal after 2010 ADA 405.2.
func (c *Chair) RampFor(r Ramp) (*Slope, error) {
	incline, err := r.incline()
	if err != nil {
		return nil, err
	}
	if err := r.check(); err != nil {
		return nil, err
	}
	s := &Slope{Incline: *incline, Verdict: Feasible, Word: slopeWord(incline.OneIn), Compared: r.compare(incline),
		Assumes: []string{"The slope is even from end to end; the steepest metre counts, so measure there.",
			"Dry, firm surface. The chair's manual outranks every figure here."}}
	s.Say = "1 in " + provenance.Text(incline.OneIn, 1) + " (" + provenance.Text(incline.Percent, 1) + " %, " +
		provenance.Text(incline.Degrees, 1) + " degrees): " + s.Word + "."
	if incline.OneIn < GentleOneIn {
		s.Verdict = Marginal
	}
	s.limit(r.ChairLimitDegrees)
	s.space("width", r.WidthMM, c.WidthMM())
	s.space("landing at the top", r.LandingTopMM, c.LengthMM())
	s.space("landing at the bottom", r.LandingBottomMM, c.LengthMM())
	return s, nil
}

func (r *Ramp) check() error {
	const still = "The slope itself can still be given."
	return provenance.First(
		optional(r.WidthMM, provenance.Within("width of the ramp", r.WidthMM, 300, 10000, "mm", still)),
		optional(r.LandingTopMM, provenance.Within("landing at the top", r.LandingTopMM, 0, 20000, "mm", still)),
		optional(r.LandingBottomMM, provenance.Within("landing at the bottom", r.LandingBottomMM, 0, 20000, "mm", still)),
		optional(r.ChairLimitDegrees, provenance.Above("slope limit of the chair", r.ChairLimitDegrees, 30, "degrees", still)),
	)
}

// optional lets a value pass that is marked as not measured.
func optional(x float64, err error) error {
	if math.IsNaN(x) {
		return nil
	}
	return err
}

func slopeWord(oneIn float64) string {
	switch {
	case oneIn >= GentleOneIn:
		return "gentle"
	case oneIn >= SteepOneIn:
		return "steep"
	case oneIn >= VerySteepOneIn:
		return "very steep"
	}
	return "too steep for most"
}

func (s *Slope) limit(limit float64) {
	if math.IsNaN(limit) {
		s.worsen(Marginal, "The slope limit of this chair is not known: read its manual before driving here.")
		return
	}
	s.LimitKnown = true
	s.SpareDegrees = provenance.Round(limit-s.Incline.Degrees, 3)
	if s.SpareDegrees < 0 {
		s.worsen(NotFeasible, "That is "+provenance.Text(-s.SpareDegrees, 1)+" degrees more than the chair's manual allows.")
		return
	}
	s.Say += " The chair's manual allows " + provenance.Text(limit, 1) + " degrees."
}

func (s *Slope) space(name string, has, chair float64) {
	switch {
	case math.IsNaN(has):
		s.Say += " Not measured: " + name + "."
	case has < chair:
		s.worsen(Marginal, "The "+name+" of "+provenance.Text(has, 0)+" mm is less than the chair's "+provenance.Text(chair, 0)+" mm.")
	}
}

func (s *Slope) worsen(verdict, say string) {
	if s.Verdict != NotFeasible {
		s.Verdict = verdict
	}
	s.Say += " " + say
}

// compare lists the reference figures for a ramp.
func (r *Ramp) compare(i *Incline) []Compared {
	rows := []Compared{compared("ramp-slope", i.OneIn), compared("ramp-rise", r.RiseMM), compared("ramp-width", r.WidthMM)}
	landing := "landing-length"
	if r.Bends {
		landing = "landing-turn"
	}
	return append(rows, compared(landing, r.LandingTopMM), compared(landing, r.LandingBottomMM))
}
