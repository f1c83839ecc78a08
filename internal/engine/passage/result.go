package passage

import (
	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// Verdicts, the best first.
const (
	Feasible    = "feasible"
	Marginal    = "marginal"
	Unknown     = "unknown" // something that decides was not measured
	NotFeasible = "not-feasible"
)

// worse returns the worse of two verdicts.
func worse(a, b string) string {
	for _, verdict := range [...]string{NotFeasible, Unknown, Marginal} {
		if a == verdict || b == verdict {
			return verdict
		}
	}
	return Feasible
}

// Ways through a passage.
const (
	Straight   = "straight"            // driven straight
	OneTurn    = "one-turn"            // one turn about the drive axle
	ThreeMoves = "three-point-turn"    // forward, back, forward
	Shuffle    = "several-small-moves" // no single turn fits, but some motion may
	NoWay      = "none"                // no motion fits
)

// DefaultClearanceMM is the room wanted on each side.
const DefaultClearanceMM = 50.0

// Result is the judgement of one passage.
type Result struct {
	// Kind is "door", "doorway", "corner", "turn" or "half-turn".
	Kind    string
	Verdict string
	Way     string
	// LeftMM is the room left at the tightest point when the chair touches
	// the other side there; negative where it is missing. It holds for any
	// motion, 1 decimal.
	LeftMM float64
	// EachMM is the room kept on every side along the best line of one turn,
	// 1 decimal. Negative where that turn does not fit.
	EachMM float64
	// NeedsMM is the least size that NeedsOf, an entry "field." of the catalogue
	// such as "corridor-out", could have, with everything else as it is, by any
	// motion, 1 decimal.
	NeedsMM float64
	NeedsOf string
	// Say gives the numbers.
	Say  message.Message
	Plan Plan
}

// Plan is a drawing to scale.
type Plan struct {
	// Walls are the edges of walls.
	Walls []Segment
	// Spans are where the measures of the place are taken, in the order of its fields.
	Spans []Span
	// Poses show the chair along its way, the tightest among them.
	Poses []Placed
	// Tightest marks the tightest point.
	Tightest Mark
	// Low and High are the corners of the part worth drawing.
	Low, High Point
}

// Span is where a measure is taken, from wall to wall.
type Span struct {
	// Of is the field of model.PlaceMeasured.
	Of string
	Segment
}

// Fields whose measures a plan shows.
const (
	ofWidth     = "width_mm"
	ofCorridor  = "corridor_mm"
	ofCorridor2 = "corridor2_mm"
)

// spanOff is how far beside the wall or the way a measure is drawn.
const spanOff = 150

// Pose is where the drive axle is and where the chair points.
type Pose struct {
	At Point
	// Heading in degrees, against the clock from x.
	Heading float64
}

// Placed is the outline of the chair at a pose.
type Placed struct {
	Pose    Pose
	Outline []Point
	// Tightest is true for the pose of the mark.
	Tightest bool
}

// Mark is the tightest point of a passage.
type Mark struct {
	// Chair is the place on the chair, Wall the nearest place on a wall.
	Chair, Wall Point
	// RoomMM is the room between them, negative where they overlap, 1 decimal.
	RoomMM float64
}

// Fits is the question that every passage with a turn asks. A chair is as wide to
// the left as to the right, so a turn to the right is the same in a mirror.
type Fits struct {
	// ClearanceMM is the room wanted on each side, 0 to 300.
	ClearanceMM float64
	// MinRadiusMM is the tightest turn of the axle's middle that the driver
	// drives, 0 for a turn on the spot, at most 3000.
	MinRadiusMM float64
}

func (f Fits) check() error {
	still := message.New("passage.still-usual-turn")
	return provenance.First(
		provenance.Between("clearance", f.ClearanceMM, 0, 300, "mm", still),
		provenance.Between("least-radius", f.MinRadiusMM, 0, 3000, "mm", still),
	)
}

// judge sets verdict and way from the lower bound and the driven line. Where no
// single turn fits the answer is no: a chair cannot slide sideways, as the lower
// bound may, and small moves are tried and not promised.
func (r *Result) judge(left, each, wanted float64) {
	switch {
	case left < 0:
		r.Verdict, r.Way = NotFeasible, NoWay
	case each >= wanted:
		r.Verdict, r.Way = Feasible, OneTurn
	case each >= 0:
		r.Verdict, r.Way = Marginal, OneTurn
	default:
		r.Verdict, r.Way = NotFeasible, Shuffle
	}
	r.LeftMM, r.EachMM = provenance.Floor(left, 1), provenance.Floor(each, 1)
}

// sentence says the verdict of a passage with a turn.
func (r *Result) sentence(wanted float64) {
	each := message.Number("each", r.EachMM)
	of, needs := message.Word("of", r.NeedsOf), message.Number("needs", r.NeedsMM)
	switch {
	case r.Way == Shuffle:
		r.Say = message.New("passage.small-moves", message.Number("short", -r.EachMM), of, needs)
	case r.Verdict == NotFeasible:
		r.Say = message.New("passage.no-motion", message.Number("missing", -r.LeftMM), of, needs)
	case r.Verdict == Marginal:
		r.Say = message.New("passage.one-turn-tight", each, message.Number("wanted", wanted))
	default:
		r.Say = message.New("passage.one-turn-fits", each)
	}
}

// tidy rounds a plan to 0.1 mm and finds its frame.
func (p *Plan) tidy() {
	for i := range p.Walls {
		p.Walls[i] = Segment{roundPoint(p.Walls[i].A), roundPoint(p.Walls[i].B)}
	}
	for i := range p.Spans {
		p.Spans[i].Segment = Segment{roundPoint(p.Spans[i].A), roundPoint(p.Spans[i].B)}
	}
	var all []Point
	for i := range p.Poses {
		pose := &p.Poses[i]
		pose.Pose = Pose{roundPoint(pose.Pose.At), provenance.Round(pose.Pose.Heading, 1)}
		for j := range pose.Outline {
			pose.Outline[j] = roundPoint(pose.Outline[j])
		}
		all = append(all, pose.Outline...)
	}
	p.Tightest = Mark{roundPoint(p.Tightest.Chair), roundPoint(p.Tightest.Wall), provenance.Floor(p.Tightest.RoomMM, 1)}
	if len(all) > 0 {
		b := boxOf(all)
		const margin = 200
		p.Low, p.High = Point{b.minX - margin, b.minY - margin}, Point{b.maxX + margin, b.maxY + margin}
	}
}

func roundPoint(p Point) Point { return Point{provenance.Round(p.X, 1), provenance.Round(p.Y, 1)} }
