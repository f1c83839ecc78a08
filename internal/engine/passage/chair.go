package passage

import (
	"math"

	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
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
	assumes []message.Message
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
	still := message.New("passage.still-by-hand")
	err = provenance.First(
		provenance.Between("chair-length", m.LengthMM, leastLength, mostLength, "mm", still),
		provenance.Between("chair-width", m.WidthMM, leastWidth, mostWidth, "mm", still),
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
func (m *Measures) axle() (float64, []message.Message, error) {
	share := 0.0
	switch m.Drive {
	case Front:
		share = 0.30
	case Mid:
		share = 0.50
	case Rear:
		share = 0.78
	default:
		return 0, nil, provenance.NewRefusal(message.New("passage.refused-drive",
			message.Word("field", "drive"), message.Inner("still", message.New("passage.still-straight-door"))))
	}
	if math.IsNaN(m.AxleBackMM) {
		back := provenance.Round(share*m.LengthMM, 0)
		return back, []message.Message{message.New("passage.axle-assumed", message.Number("back", back), message.Word("drive", string(m.Drive)))}, nil
	}
	err := provenance.Between("axle-back", m.AxleBackMM, 0, m.LengthMM, "mm", message.New("passage.still-usual-axle"))
	return m.AxleBackMM, nil, err
}

// check names the part by its name, or counts it where it has none.
func (p Part) check(i int, length float64) error {
	err := p.refuse(length)
	if r, ok := err.(*provenance.Refusal); ok && p.Name != "" {
		return provenance.NewRefusal(message.New("passage.refused-in-named-part", message.Word("part", p.Name), message.Inner("why", r.Message)))
	}
	return provenance.InPart("part", i+1, err)
}

func (p Part) refuse(length float64) error {
	still := message.New("passage.still-without-part")
	if p.Side != Left && p.Side != Right {
		return provenance.NewRefusal(message.New("passage.refused-side", message.Word("field", "part-side"), message.Inner("still", still)))
	}
	const unit = "mm-behind-front"
	err := provenance.First(
		provenance.Between("part-out", p.OutMM, 0, mostOut, "mm", still),
		provenance.Between("part-from", p.FromMM, 0, length, unit, still),
		provenance.Between("part-to", p.ToMM, 0, length, unit, still),
	)
	if err == nil && p.ToMM <= p.FromMM {
		return provenance.NewRefusal(message.New("passage.refused-part-end", message.Word("field", "part-to"),
			message.Number("from", provenance.Round(p.FromMM, 0)), message.Inner("still", still)))
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
	still := message.New("passage.still-simpler-outline")
	if len(points) < 3 {
		return nil, provenance.NewRefusal(message.New("passage.refused-few-corners", message.Word("field", "outline"), message.Inner("still", still)))
	}
	for i, p := range points {
		err := provenance.First(
			provenance.Between("corner-forward", p.X, -mostLength, mostLength, "mm", still),
			provenance.Between("corner-left", p.Y, -mostWidth, mostWidth, "mm", still),
		)
		if err != nil {
			return nil, provenance.InPart("corner", i+1, err)
		}
	}
	corners := hull(points)
	if len(corners) < 3 || area(corners) < 1 {
		return nil, provenance.NewRefusal(message.New("passage.refused-no-area", message.Word("field", "outline"), message.Inner("still", still)))
	}
	return &Chair{outline: append([]Point{}, points...), hull: corners}, nil
}
