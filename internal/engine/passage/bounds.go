package passage

import (
	"math"

	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// The closed forms below hold for a rectangle of length L and width W and are
// what the app shows as the formula. Passages are judged with the real outline.

// Rect is a chair as a rectangle, with the drive axle FrontMM behind the
// foremost and RearMM before the rearmost point.
type Rect struct{ FrontMM, RearMM, WidthMM float64 }

func (r Rect) check() error {
	still := message.New("passage.still-each-measure")
	return provenance.First(
		provenance.Between("axle-to-front", r.FrontMM, 0, mostLength, "mm", still),
		provenance.Between("axle-to-rear", r.RearMM, 0, mostLength, "mm", still),
		provenance.AboveZero("length", r.FrontMM+r.RearMM, 2*mostLength, "mm", still),
		provenance.AboveZero("width", r.WidthMM, mostLength, "mm", still),
	)
}

// reaches are the distances from the axle to the front and rear corners.
func (r Rect) reaches() (front, rear float64) {
	half := r.WidthMM / 2
	return Point{r.FrontMM, half}.length(), Point{r.RearMM, half}.length()
}

// LadderMM is the longest thin rod that passes a right-angle corner between
// corridors a and b by any motion:
//
//	L = (a^(2/3) + b^(2/3))^(3/2)
//
// in mm, 1 decimal. Both widths are above 0. Classic result of the calculus.
func LadderMM(a, b float64) (float64, error) {
	if err := checkCorridors(a, b); err != nil {
		return 0, err
	}
	sum := math.Pow(a, 2.0/3) + math.Pow(b, 2.0/3)
	return provenance.Round(math.Pow(sum, 1.5), 1), nil
}

func checkCorridors(a, b float64) error {
	still := message.New("passage.still-other-corridor")
	return provenance.First(
		provenance.AboveZero("corridor-in", a, 1e5, "mm", still),
		provenance.AboveZero("corridor-out", b, 1e5, "mm", still),
	)
}

// SquareCornerMM is the least width of two equal corridors that a rectangle
// passes between by any motion, also sideways:
//
//	a = max(W, (L + 2W)/(2√2))
//
// in mm, 1 decimal. A lower bound: a chair that only turns about its axle
// needs more. Derived here.
func SquareCornerMM(length, width float64) (float64, error) {
	if err := checkRect(length, width); err != nil {
		return 0, err
	}
	return provenance.Round(max(width, (length+2*width)/(2*math.Sqrt2)), 1), nil
}

// DoorwayMM is the least width of a corridor from which a rectangle gets
// through a door in its long wall by any motion:
//
//	c = max(W, L·W/d)
//
// in mm, 1 decimal, for a thin wall and a corridor that goes on past the door.
// The clear opening d must be more than W. A lower bound. Derived here.
func DoorwayMM(length, width, clear float64) (float64, error) {
	err := provenance.First(checkRect(length, width), provenance.AboveZero("door-clear", clear, 1e5, "mm", message.Message{}))
	if err != nil {
		return 0, err
	}
	if clear <= width {
		return 0, provenance.NewRefusal(message.New("passage.refused-door-no-wider-than-chair", message.Word("field", "door-clear"),
			message.Number("width", provenance.Round(width, 0)), message.Inner("still", message.New("passage.still-no-corridor"))))
	}
	return provenance.Round(max(width, length*width/clear), 1), nil
}

func checkRect(length, width float64) error {
	return provenance.First(
		provenance.AboveZero("chair-length", length, 1e5, "mm", message.New("passage.still-clear-width")),
		provenance.AboveZero("chair-width", width, 1e5, "mm", message.New("passage.still-no-circle")),
	)
}

// PivotNeeds are the sizes that a turn about the drive axle takes, in mm, 1
// decimal.
type PivotNeeds struct {
	// FrontMM and RearMM are the reaches √(ahead² + (W/2)²) and
	// √(behind² + (W/2)²).
	FrontMM, RearMM float64
	// CircleMM is the circle of a full turn, twice the larger reach.
	CircleMM float64
	// InMM and OutMM are the corridors of a quarter turn in one go: W/2 +
	// RearMM driven in, W/2 + FrontMM driven out.
	InMM, OutMM float64
	// HalfTurnMM is the corridor of a half turn: FrontMM + RearMM.
	HalfTurnMM float64
	provenance.Provenance
}

// Pivot returns what a rectangle needs to turn on the spot about its axle. It
// refuses missing measures. Derived here.
func Pivot(r Rect) (PivotNeeds, error) {
	if err := r.check(); err != nil {
		return PivotNeeds{}, err
	}
	front, rear := r.reaches()
	round := func(x float64) float64 { return provenance.Round(x, 1) }
	return PivotNeeds{
		FrontMM: round(front), RearMM: round(rear), CircleMM: round(2 * max(front, rear)),
		InMM: round(r.WidthMM/2 + rear), OutMM: round(r.WidthMM/2 + front), HalfTurnMM: round(front + rear),
		Provenance: pivotProvenance(),
	}, nil
}

func pivotProvenance() provenance.Provenance {
	return provenance.Of("formula.turn-on-spot", "source.geometry-of-turn-on-spot", provenance.Derived)
}

func cornerProvenance() provenance.Provenance {
	return provenance.Of("formula.corner", "source.geometry-of-corner", provenance.Derived)
}

func doorwayProvenance() provenance.Provenance {
	return provenance.Of("formula.doorway", "source.geometry-of-doorway", provenance.Derived)
}
