package passage

import (
	"math"

	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// Ramp is one run of a ramp. What nobody measured is provenance.NotMeasured().
type Ramp struct {
	// RiseMM is the height gained, above 0, at most 5000.
	RiseMM float64
	// RunMM is the length on the flat.
	RunMM float64
	// WidthMM is the clear width between edges or handrails.
	WidthMM float64
	// LandingTopMM and LandingBottomMM are the level lengths at the ends.
	LandingTopMM, LandingBottomMM float64
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
	provenance.Provenance
}

// InclineOf returns a slope from its rise and run:
//
//	percent = 100 · rise/run, degrees = atan(rise/run)
//
// It refuses a rise or run of zero. Plane geometry. Percent are not degrees: 1
// in 12 is 8.33 % and 4.76 degrees.
func InclineOf(rise, run float64) (*Incline, error) {
	err := provenance.First(
		provenance.AboveZero("rise", rise, 5000, "mm", message.New("passage.still-rise")),
		provenance.AboveZero("run", run, 100000, "mm", message.New("passage.still-run")),
	)
	if err != nil {
		return nil, err
	}
	return &Incline{
		OneIn:      provenance.Round(run/rise, 2),
		Percent:    provenance.Round(100*rise/run, 3),
		Degrees:    provenance.Round(math.Atan2(rise, run)*180/math.Pi, 3),
		Provenance: provenance.Of("formula.incline", "source.plane-geometry", provenance.Derived),
	}, nil
}

// Slope is the judgement of a ramp.
type Slope struct {
	Incline Incline
	Verdict string
	// Word is "gentle", "steep", "very-steep" or "too-steep".
	Word string
	// OverLimit says that the slope is above the chair's limit.
	OverLimit bool
	Say       message.Message
	// Compared holds the reference figures that apply.
	Compared []Compared
	Assumes  []message.Message
}

// Marks of a ramp as 1 in x.
const (
	GentleOneIn    = 12
	SteepOneIn     = 10
	VerySteepOneIn = 8
)

// RampFor judges a ramp for a chair: not feasible above the slope limit of the
// chair's manual or narrower than the chair, unknown when limit, width or a
// landing is not, marginal when it is steeper than 1 in 12 or a landing is
// shorter than the chair; else feasible. The chair's limit goes before any
// building figure. It refuses a ramp without rise or run and values out of
// range; the words and 1 in 12 as the mark of "feasible" are a proposal after
// 2010 ADA 405.2.
func (c *Chair) RampFor(r Ramp) (*Slope, error) {
	incline, err := InclineOf(r.RiseMM, r.RunMM)
	if err != nil {
		return nil, err
	}
	if err := r.check(); err != nil {
		return nil, err
	}
	// Exact, not as it is shown: 1 in 11.999 is steeper than 1 in 12.
	oneIn := r.RunMM / r.RiseMM
	degrees := math.Atan2(r.RiseMM, r.RunMM) * 180 / math.Pi
	s := &Slope{Incline: *incline, Verdict: Feasible, Word: slopeWord(oneIn), Compared: r.compare(oneIn),
		Assumes: []message.Message{message.New("passage.assumes-even-slope"), message.New("passage.assumes-firm-surface")}}
	if oneIn < GentleOneIn {
		s.Verdict = Marginal
	}
	places := provenance.Apart(oneIn, 1, GentleOneIn, SteepOneIn, VerySteepOneIn)
	more := []message.Message{s.limit(degrees, r.ChairLimitDegrees)}
	if s.OverLimit {
		places = max(places, provenance.Apart(degrees, 1, r.ChairLimitDegrees))
	}
	more = s.space(more, "width", r.WidthMM, c.WidthMM(), NotFeasible)
	more = s.space(more, "landing-top", r.LandingTopMM, c.LengthMM(), Marginal)
	more = s.space(more, "landing-bottom", r.LandingBottomMM, c.LengthMM(), Marginal)
	s.Say = message.New("passage.ramp", message.Number("run", oneIn), message.Number("percent", 100/oneIn),
		message.Number("degrees", degrees), message.Count("places", places), message.Word("word", s.Word), message.List("more", more))
	return s, nil
}

func (r *Ramp) check() error {
	still := message.New("passage.still-slope")
	return provenance.First(
		optional(r.WidthMM, provenance.Between("ramp-width", r.WidthMM, 300, 10000, "mm", still)),
		optional(r.LandingTopMM, provenance.Between("landing-top", r.LandingTopMM, 0, 20000, "mm", still)),
		optional(r.LandingBottomMM, provenance.Between("landing-bottom", r.LandingBottomMM, 0, 20000, "mm", still)),
		optional(r.ChairLimitDegrees, provenance.AboveZero("slope-limit", r.ChairLimitDegrees, 30, "degrees", still)),
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
		return "very-steep"
	}
	return "too-steep"
}

// limit holds the slope against the limit of the chair's manual.
func (s *Slope) limit(degrees, limit float64) message.Message {
	if math.IsNaN(limit) {
		s.worsen(Unknown)
		return message.New("passage.slope-limit-unknown")
	}
	if degrees > limit {
		s.OverLimit = true
		s.worsen(NotFeasible)
		return message.New("passage.slope-limit-passed", message.Number("limit", limit),
			message.Count("places", provenance.Apart(degrees, 1, limit)))
	}
	return message.New("passage.slope-limit-kept", message.Number("limit", limit))
}

// space holds a size of the ramp against the chair's, and adds to said what
// there is to say; smaller is the verdict on one that is. Field is an entry
// "field." of the catalogue.
func (s *Slope) space(said []message.Message, field string, has, chair float64, smaller string) []message.Message {
	what := message.Word("what", field)
	switch {
	case math.IsNaN(has):
		s.worsen(Unknown)
		return append(said, message.New("passage.ramp-unmeasured", what))
	case has < chair:
		s.worsen(smaller)
		return append(said, message.New("passage.ramp-smaller-than-chair", what,
			message.Number("has", has), message.Number("chair", chair), message.Count("places", provenance.Apart(has, 0, chair))))
	}
	return said
}

func (s *Slope) worsen(verdict string) { s.Verdict = worse(s.Verdict, verdict) }

// compare lists the reference figures for a ramp.
func (r *Ramp) compare(oneIn float64) []Compared {
	const landing = "landing-length"
	return []Compared{compared("ramp-slope", oneIn), compared("ramp-rise", r.RiseMM), compared("ramp-width", r.WidthMM),
		compared(landing, r.LandingTopMM), compared(landing, r.LandingBottomMM)}
}
