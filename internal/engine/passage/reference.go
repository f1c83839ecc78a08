package passage

import (
	"math"

	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

const (
	mmPerInch = 25.4
	ada       = "ada" // the 2010 ADA Standards
)

// Reference is a figure of a building standard. In a private home it is a
// benchmark and not a duty.
type Reference struct {
	// ID is an entry "reference." of the catalogue, which says what it is.
	ID string
	// Standard and Section say where it stands; Standard is an entry "standard." of
	// the catalogue.
	Standard, Section string
	// Value is in mm (inches · 25.4), or x of "1 in x" where Unit is "one-in".
	Value float64
	Unit  string
	// AtMost is true for a largest value, false for a least one.
	AtMost bool
	// Status is provenance.Published where the section was read in a public copy.
	Status provenance.Status
}

const (
	unitMM    = "mm"
	unitOneIn = "one-in"
)

// references are the figures of the 2010 ADA Standards that a home visit can use,
// exact in inches; the standard prints rounded millimetres. They are read only.
// Conditions that the standard sets stand behind a row.
var references = [...]Reference{
	{"level-change", ada, "303.2", 0.25 * mmPerInch, unitMM, true, provenance.Published},
	{"level-change-bevelled", ada, "303.3", 0.5 * mmPerInch, unitMM, true, provenance.Published},
	{"turning-circle", ada, "304.3.1", 60 * mmPerInch, unitMM, false, provenance.Published}, // a T of 36 in arms in a 60 in square is the alternative (304.3.2)
	{"floor-width", ada, "305.3", 30 * mmPerInch, unitMM, false, provenance.Published},      // smaller than measured power chairs with their drivers (827 × 1414 mm)
	{"floor-length", ada, "305.3", 48 * mmPerInch, unitMM, false, provenance.Published},     // smaller than measured power chairs with their drivers (827 × 1414 mm)
	{"reach-high", ada, "308.2.1", 48 * mmPerInch, unitMM, true, provenance.FromMemory},
	{"reach-low", ada, "308.2.1", 15 * mmPerInch, unitMM, false, provenance.FromMemory},
	{"route-slope", ada, "403.3", 20, unitOneIn, false, provenance.FromMemory},
	{"route-cross", ada, "403.3", 48, unitOneIn, false, provenance.FromMemory},
	{"route-width", ada, "403.5.1", 36 * mmPerInch, unitMM, false, provenance.FromMemory},    // 32 in for at most 24 in of length
	{"u-turn-approach", ada, "403.5.2", 42 * mmPerInch, unitMM, false, provenance.Published}, // with 48 in at the turn; not asked where the turn has 60 in
	{"u-turn-middle", ada, "403.5.2", 48 * mmPerInch, unitMM, false, provenance.Published},   // with 42 in driven in and out
	{"door-clear", ada, "404.2.3", 32 * mmPerInch, unitMM, false, provenance.Published},      // 36 in where the opening is deeper than 24 in
	{"door-threshold", ada, "404.2.5", 0.5 * mmPerInch, unitMM, true, provenance.Published},  // 0.75 in where it exists already and is bevelled 1 in 2 on both sides
	{"door-series", ada, "404.2.6", 48 * mmPerInch, unitMM, false, provenance.Published},
	{"door-front-pull", ada, "404.2.4.1", 60 * mmPerInch, unitMM, false, provenance.Published},  // 18 in beyond the latch
	{"door-front-push", ada, "404.2.4.1", 48 * mmPerInch, unitMM, false, provenance.Published},  // 12 in beyond the latch with closer and latch
	{"door-hinge-pull", ada, "404.2.4.1", 60 * mmPerInch, unitMM, false, provenance.Published},  // 36 in beyond the latch; or 54 in with 42 in
	{"door-hinge-push", ada, "404.2.4.1", 42 * mmPerInch, unitMM, false, provenance.Published},  // 22 in beyond the hinge; 6 in more with closer and latch
	{"door-latch-pull", ada, "404.2.4.1", 48 * mmPerInch, unitMM, false, provenance.Published},  // 24 in beyond the latch; 6 in more with closer
	{"door-latch-push", ada, "404.2.4.1", 42 * mmPerInch, unitMM, false, provenance.FromMemory}, // 24 in beyond the latch; 6 in more with closer
	{"ramp-slope", ada, "405.2", 12, unitOneIn, false, provenance.Published},                    // existing sites without room: 1 in 10 up to 6 in of rise, 1 in 8 up to 3 in
	{"ramp-cross", ada, "405.3", 48, unitOneIn, false, provenance.Published},
	{"ramp-width", ada, "405.5", 36 * mmPerInch, unitMM, false, provenance.Published}, // between handrails where there are any
	{"ramp-rise", ada, "405.6", 30 * mmPerInch, unitMM, true, provenance.Published},
	{"landing-slope", ada, "405.7.1", 48, unitOneIn, false, provenance.Published},
	{"landing-length", ada, "405.7.3", 60 * mmPerInch, unitMM, false, provenance.Published}, // as wide as the widest run
	{"landing-turn", ada, "405.7.4", 60 * mmPerInch, unitMM, false, provenance.Published},
	{"handrail-rise", ada, "405.8", 6 * mmPerInch, unitMM, true, provenance.FromMemory},
}

// Compared is a reference figure beside what was measured.
type Compared struct {
	*Reference
	// Yours is what was measured; it has a meaning when Measured.
	Yours    float64
	Measured bool
	// Meets has a meaning when Measured.
	Meets bool
	Say   message.Message
}

// Compare puts a measured value beside a reference figure. It refuses an
// unknown id; a value that nobody measured gives a row that says so.
func Compare(id string, yours float64) (Compared, error) {
	for i := range references {
		if references[i].ID == id {
			return references[i].beside(yours), nil
		}
	}
	return Compared{}, provenance.NewRefusal(message.New("passage.refused-reference", message.Word("field", "reference"), message.Word("got", id)))
}

// compared is Compare for the ids of this package.
func compared(id string, yours float64) Compared {
	row, err := Compare(id, yours)
	if err != nil {
		row.Say = Refused(err)
	}
	return row
}

func (r *Reference) beside(yours float64) Compared {
	row := Compared{Reference: r, Yours: yours, Measured: !math.IsNaN(yours)}
	codes := r.codes()
	args := []message.Arg{message.Word("figure", r.ID), message.Word("standard", r.Standard), message.Word("section", r.Section), message.Number("value", r.Value)}
	if !row.Measured {
		row.Yours = 0
		row.Say = message.New(codes.unmeasured, args...)
		return row
	}
	row.Meets = yours >= r.Value
	if r.AtMost {
		row.Meets = yours <= r.Value
	}
	code, places := codes.missed, 0
	if row.Meets {
		code = codes.met
	}
	if r.Unit == unitOneIn {
		places = 1
	}
	if !row.Meets {
		// Never the same figure twice where one misses the other.
		places = provenance.Apart(yours, places, r.Value)
	}
	row.Say = message.New(code, append(args, message.Number("yours", yours), message.Count("places", places))...)
	return row
}

// besideCodes are what can be said of a kind of figure.
type besideCodes struct{ met, missed, unmeasured string }

func (r *Reference) codes() besideCodes {
	switch {
	case r.AtMost:
		return besideCodes{"passage.at-most-met", "passage.at-most-missed", "passage.at-most-unmeasured"}
	case r.Unit == unitOneIn:
		return besideCodes{"passage.not-steeper-met", "passage.not-steeper-missed", "passage.not-steeper-unmeasured"}
	}
	return besideCodes{"passage.at-least-met", "passage.at-least-missed", "passage.at-least-unmeasured"}
}
