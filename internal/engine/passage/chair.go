package passage

import (
	"math"

	"doorsill/internal/engine/provenance"
)

// Drive says where the drive wheels are.
type Drive string

const (
	Front Drive = "front"
	Mid   Drive = "mid"
	Rear  Drive = "rear"
)

// Side of the chair, or way of a turn.
type Side string

const (
	Left  Side = "left"
	Right Side = "right"
)

// Limits of what is taken for a chair, in millimetres.
const (
	leastLength, mostLength = 400, 2500
	leastWidth, mostWidth   = 300, 1300
	mostOut                 = 600
)

// Measures are a chair with its driver seated, as measured with a ruler.
type Measures struct {
	// LengthMM goes from the foremost point, usually the feet, to the
	// rearmost, 400 to 2500.
	LengthMM float64
	// WidthMM is the widest part of the chair itself, 300 to 1300.
	WidthMM float64
	Drive   Drive
	// AxleBackMM goes from the foremost point back to the drive axle. Where
	// nobody measured it, provenance.NotMeasured(): it is then assumed from Drive.
	AxleBackMM float64
	// Parts stick out at a side: control, hands, bags.
	Parts []Part
}

// Part is something that sticks out at a side.
type Part struct {
	Name string
	Side Side
	// OutMM is how far it sticks out beyond the widest part of the chair, 0 to
	// 600.
	OutMM float64
	// FromMM and ToMM are where it begins and ends, counted back from the
	// foremost point.
	FromMM, ToMM float64
}

// Chair is an outline about a drive axle.
type Chair struct {
	// outline is what was given, hull the smallest convex outline about it.
	outline, hull []Point
	// assumes says what was not measured.
	assumes []string
}

// NewChair makes the outline of a chair from its measures: a rectangle with
// what sticks out at the sides. It refuses what was not measured, with one
// exception: without AxleBackMM the axle is put at 30, 50 or 78 % of the
// length for front, mid and rear drive (proposal), and results say so.
func NewChair(m Measures) (*Chair, error) {
	c, axle, err := m.rectangle()
	if err != nil {
		return nil, err
	}
	points := c.hull
	for i, part := range m.Parts {
		if err := part.check(i, m.LengthMM); err != nil {
			return nil, err
		}
		points = append(points, part.corners(axle, m.WidthMM/2)...)
	}
	c.outline, c.hull = outlineOf(m, axle), hull(points)
	return c, nil
}

// rectangle is the chair without what sticks out at the sides.
func (m *Measures) rectangle() (c *Chair, axle float64, err error) {
	const still = "Clear width against the widest point can be judged by hand."
	err = provenance.First(
		provenance.Within("length of chair with feet", m.LengthMM, leastLength, mostLength, "mm", still),
		provenance.Within("width of chair", m.WidthMM, leastWidth, mostWidth, "mm", still),
	)
	if err != nil {
		return nil, 0, err
	}
	axle, assumes, err := m.axle()
	if err != nil {
		return nil, 0, err
	}
	half := m.WidthMM / 2
	outline := []Point{{axle - m.LengthMM, -half}, {axle, -half}, {axle, half}, {axle - m.LengthMM, half}}
	return &Chair{outline, outline, assumes}, axle, nil
}

// axle returns how far the axle lies behind the foremost point.
func (m *Measures) axle() (float64, []string, error) {
	share := 0.0
	switch m.Drive {
	case Front:
		share = 0.30
	case Mid:
		share = 0.50
	case Rear:
		share = 0.78
	default:
		return 0, nil, provenance.Refuse("drive wheels", "front, mid or rear", "A straight door can be judged by width alone.")
	}
	if math.IsNaN(m.AxleBackMM) {
		back := provenance.Round(share*m.LengthMM, 0)
		return back, []string{"The drive axle was not measured; it is taken to lie " + provenance.Text(back, 0) +
			" mm behind the foremost point, as is usual for " + string(m.Drive) + " drive."}, nil
	}
	err := provenance.Within("foremost point to drive axle", m.AxleBackMM, 0, m.LengthMM, "mm",
		"Leave it out and the usual place for the drive is assumed.")
	return m.AxleBackMM, nil, err
}

func (p Part) check(i int, length float64) error {
	name := p.Name
	if name == "" {
		name = "part " + provenance.Whole(i+1)
	}
	const still = "The chair can be judged without it, but not with it."
	if p.Side != Left && p.Side != Right {
		return provenance.Refuse(name+", side", "left or right", still)
	}
	err := provenance.First(
		provenance.Within(name+", how far it sticks out", p.OutMM, 0, mostOut, "mm", still),
		provenance.Within(name+", where it begins", p.FromMM, 0, length, "mm behind the foremost point", still),
		provenance.Within(name+", where it ends", p.ToMM, 0, length, "mm behind the foremost point", still),
	)
	if err == nil && p.ToMM <= p.FromMM {
		return provenance.Refuse(name+", where it ends", "more than where it begins ("+provenance.Text(p.FromMM, 0)+" mm)", still)
	}
	return err
}

// corners are the part's four corners in the chair's frame.
func (p Part) corners(axle, half float64) []Point {
	y, out := half, half+p.OutMM
	if p.Side == Right {
		y, out = -y, -out
	}
	return []Point{{axle - p.FromMM, y}, {axle - p.FromMM, out}, {axle - p.ToMM, out}, {axle - p.ToMM, y}}
}

// FromOutline makes a chair from corners in its own frame, in order, the
// middle of the drive axle at (0, 0). It refuses fewer than three corners,
// corners beyond the limits and an outline without area.
func FromOutline(points []Point) (*Chair, error) {
	const still = "Length and width alone make a simpler outline."
	if len(points) < 3 {
		return nil, provenance.Refuse("outline", "at least three corners", still)
	}
	for i, p := range points {
		name := "corner " + provenance.Whole(i+1)
		err := provenance.First(
			provenance.Within(name+", forward of the axle", p.X, -mostLength, mostLength, "mm", still),
			provenance.Within(name+", left of the middle", p.Y, -mostWidth, mostWidth, "mm", still),
		)
		if err != nil {
			return nil, err
		}
	}
	corners := hull(points)
	if len(corners) < 3 || area(corners) < 1 {
		return nil, provenance.Refuse("outline", "corners that enclose an area", still)
	}
	return &Chair{outline: append([]Point{}, points...), hull: corners}, nil
}
