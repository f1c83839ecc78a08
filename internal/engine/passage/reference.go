package passage

import (
	"math"

	"doorsill/internal/engine/basis"
)

// CheckLocalCode goes with every reference figure.
const CheckLocalCode = "check your local code"

const mmPerInch = 25.4

// Reference is a figure of a building standard. In a private home it is a
// benchmark and not a duty.
type Reference struct {
	ID string
	// Standard and Section say where it stands.
	Standard, Section string
	What              string
	// Value is in mm (inches · 25.4), or x of "1 in x" where Unit says so.
	Value float64
	Unit  string
	// AtMost is true for a largest value, false for a least one.
	AtMost bool
	// Note holds conditions; Caution is CheckLocalCode.
	Note, Caution string
	// Status is basis.Published where the section was read in a public copy.
	Status string
}

const (
	unitMM    = "mm"
	unitOneIn = "1 in x"
)

// References lists the figures of the 2010 ADA Standards that a home visit can
// use. They are exact in inches; the standard prints rounded millimetres.
func References() []Reference {
	return append(routeReferences(), rampReferences()...)
}

func ada(id, section, what string, value float64, unit string, atMost bool, status, note string) Reference {
	if unit == unitMM {
		value = basis.Round(value*mmPerInch, 2)
	}
	return Reference{ID: id, Standard: "2010 ADA Standards", Section: section, What: what, Value: value, Unit: unit,
		AtMost: atMost, Note: note, Caution: CheckLocalCode, Status: status}
}

func routeReferences() []Reference {
	const read, recalled = basis.Published, basis.FromMemory
	return []Reference{
		ada("level-change", "303.2", "change of level, upright edge", 0.25, unitMM, true, read, ""),
		ada("level-change-bevelled", "303.3", "change of level, bevelled 1 in 2 or flatter", 0.5, unitMM, true, read, ""),
		ada("turning-circle", "304.3.1", "circle to turn in", 60, unitMM, false, read, "a T of 36 in arms in a 60 in square is the alternative (304.3.2)"),
		ada("floor-width", "305.3", "clear floor space, width", 30, unitMM, false, read, "smaller than measured power chairs with their drivers (827 × 1414 mm)"),
		ada("floor-length", "305.3", "clear floor space, length", 48, unitMM, false, read, "smaller than measured power chairs with their drivers (827 × 1414 mm)"),
		ada("reach-high", "308.2.1", "highest reach without obstruction", 48, unitMM, true, recalled, ""),
		ada("reach-low", "308.2.1", "lowest reach without obstruction", 15, unitMM, false, recalled, ""),
		ada("route-slope", "403.3", "running slope of a route", 20, unitOneIn, false, recalled, ""),
		ada("route-cross", "403.3", "cross slope of a route", 48, unitOneIn, false, recalled, ""),
		ada("route-width", "403.5.1", "clear width of a route", 36, unitMM, false, recalled, "32 in for at most 24 in of length"),
		ada("u-turn-approach", "403.5.2", "half turn round an element under 48 in wide: in and out", 42, unitMM, false, read, "with 48 in at the turn; not asked where the turn has 60 in"),
		ada("u-turn-middle", "403.5.2", "half turn round an element under 48 in wide: at the turn", 48, unitMM, false, read, "with 42 in driven in and out"),
		ada("door-clear", "404.2.3", "clear opening of a door at 90 degrees", 32, unitMM, false, read, "36 in where the opening is deeper than 24 in"),
		ada("door-threshold", "404.2.5", "threshold at a door", 0.5, unitMM, true, read, "0.75 in where it exists already and is bevelled 1 in 2 on both sides"),
		ada("door-series", "404.2.6", "between two doors in series, plus the width of the leaf swinging in", 48, unitMM, false, read, ""),
		ada("door-front-pull", "404.2.4.1", "front approach, pull side, depth", 60, unitMM, false, read, "18 in beyond the latch"),
		ada("door-front-push", "404.2.4.1", "front approach, push side, depth", 48, unitMM, false, read, "12 in beyond the latch with closer and latch"),
		ada("door-hinge-pull", "404.2.4.1", "hinge approach, pull side, depth", 60, unitMM, false, read, "36 in beyond the latch; or 54 in with 42 in"),
		ada("door-hinge-push", "404.2.4.1", "hinge approach, push side, depth", 42, unitMM, false, read, "22 in beyond the hinge; 6 in more with closer and latch"),
		ada("door-latch-pull", "404.2.4.1", "latch approach, pull side, depth", 48, unitMM, false, read, "24 in beyond the latch; 6 in more with closer"),
		ada("door-latch-push", "404.2.4.1", "latch approach, push side, depth", 42, unitMM, false, recalled, "24 in beyond the latch; 6 in more with closer"),
	}
}

func rampReferences() []Reference {
	const read, recalled = basis.Published, basis.FromMemory
	return []Reference{
		ada("ramp-slope", "405.2", "running slope of a ramp", 12, unitOneIn, false, read, "existing sites without room: 1 in 10 up to 6 in of rise, 1 in 8 up to 3 in"),
		ada("ramp-cross", "405.3", "cross slope of a ramp", 48, unitOneIn, false, read, ""),
		ada("ramp-width", "405.5", "clear width of a ramp", 36, unitMM, false, read, "between handrails where there are any"),
		ada("ramp-rise", "405.6", "rise of one run", 30, unitMM, true, read, ""),
		ada("landing-slope", "405.7.1", "slope of a landing", 48, unitOneIn, false, read, ""),
		ada("landing-length", "405.7.3", "length of a landing", 60, unitMM, false, read, "as wide as the widest run"),
		ada("landing-turn", "405.7.4", "landing where the ramp changes direction, both ways", 60, unitMM, false, read, ""),
		ada("handrail-rise", "405.8", "rise from which handrails are wanted", 6, unitMM, true, recalled, ""),
	}
}

// Compared is a reference figure beside what was measured.
type Compared struct {
	Reference
	// Yours is what was measured; it has a meaning when Measured.
	Yours    float64
	Measured bool
	// Meets has a meaning when Measured.
	Meets bool
	Say   string
}

// Compare puts a measured value beside a reference figure. It refuses an
// unknown id; a value that nobody measured gives a row that says so.
func Compare(id string, yours float64) (Compared, error) {
	for _, r := range References() {
		if r.ID == id {
			return r.beside(yours), nil
		}
	}
	return Compared{}, basis.Refuse("reference", "one of the listed figures, not \""+id+"\"", "")
}

// compared is Compare for the ids of this package.
func compared(id string, yours float64) Compared {
	row, err := Compare(id, yours)
	if err != nil {
		row.Say = err.Error()
	}
	return row
}

func (r Reference) beside(yours float64) Compared {
	row := Compared{Reference: r, Yours: yours, Measured: !math.IsNaN(yours)}
	figure := basis.Text(r.Value, 0) + " mm"
	if r.Unit == unitOneIn {
		figure = "1 in " + basis.Text(r.Value, 0)
	}
	text := r.What + ": " + r.Standard + " " + r.Section + " says " + r.bound() + " " + figure
	if !row.Measured {
		row.Yours = 0
		row.Say = text + "; not measured here. " + CheckLocalCode + "."
		return row
	}
	row.Meets = yours >= r.Value
	if r.AtMost {
		row.Meets = yours <= r.Value
	}
	word := "does not meet it"
	if row.Meets {
		word = "meets it"
	}
	if r.Unit == unitOneIn {
		text += "; 1 in " + basis.Text(yours, 1) + " "
	} else {
		text += "; " + basis.Text(yours, 0) + " mm "
	}
	row.Say = text + word + ". " + CheckLocalCode + "."
	return row
}

func (r Reference) bound() string {
	switch {
	case r.AtMost:
		return "at most"
	case r.Unit == unitOneIn:
		return "not steeper than"
	}
	return "at least"
}
