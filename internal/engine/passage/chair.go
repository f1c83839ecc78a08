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

// Limits of what is taken for a chair, in millimetres.
const (
	leastLength, mostLength = 400, 2500
	leastWidth, mostWidth   = 300, 1300
)

// Measures are a chair with its driver seated, as measured with a ruler.
type Measures struct {
	// LengthMM goes from the foremost point, usually the feet, to the
	// rearmost, 400 to 2500.
	LengthMM float64
	// WidthMM is the widest place with control and hands, 300 to 1300.
	WidthMM float64
	Drive   Drive
	// AxleBackMM goes from the foremost point back to the drive axle. Where
	// nobody measured it, provenance.NotMeasured(): it is then assumed from Drive.
	AxleBackMM float64
}

// Chair is a rectangle about its drive axle.
type Chair struct {
	// outline are its corners, against the clock.
	outline []Point
	// assumes says what was not measured.
	assumes []message.Message
}

// NewChair makes the outline of a chair from its measures. It refuses what was
// not measured, with one exception: without AxleBackMM the axle is put at 30, 50
// or 78 % of the length for front, mid and rear drive (proposal), and results say
// so.
func NewChair(m Measures) (*Chair, error) {
	still := message.New("passage.still-by-hand")
	err := provenance.First(
		provenance.Between("chair-length", m.LengthMM, leastLength, mostLength, "mm", still),
		provenance.Between("chair-width", m.WidthMM, leastWidth, mostWidth, "mm", still),
	)
	if err != nil {
		return nil, err
	}
	axle, assumes, err := m.axle()
	if err != nil {
		return nil, err
	}
	half := m.WidthMM / 2
	return &Chair{block(axle-m.LengthMM, axle, -half, half), assumes}, nil
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

// LengthMM is foremost to rearmost point, WidthMM the widest place, 1 decimal.
func (c *Chair) LengthMM() float64 {
	b := boxOf(c.outline)
	return provenance.Round(b.maxX-b.minX, 1)
}

// WidthMM is the widest place, 1 decimal.
func (c *Chair) WidthMM() float64 { return provenance.Round(c.width(), 1) }

func (c *Chair) width() float64 {
	b := boxOf(c.outline)
	return b.maxY - b.minY
}
