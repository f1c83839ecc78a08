package engine

import (
	"doorsill/internal/engine/passage"
	"doorsill/internal/engine/provenance"
	"doorsill/internal/engine/readiness"
	"doorsill/internal/fields"
)

// home is the chair and the places of the home that it must get through.
type home struct {
	ride   *passage.Ride // nil until the chair was measured
	places []namedPlace
}

// namedPlace is a place by its id.
type namedPlace struct {
	id string
	passage.Place
}

const (
	mostMM = 100_000
	mostKG = 1_000
)

// chair reads the chair's outline. What cannot be a chair is said by the
// places that it is judged in, so that the rest of the visit still counts.
func (d *decoder) chair() {
	r := &passage.Ride{LengthMM: d.number("length", 0, mostMM), WidthMM: d.number("width", 0, mostMM), Drive: passage.Drive(d.next("drive"))}
	if d.err == nil && r.Drive != passage.Front && r.Drive != passage.Mid && r.Drive != passage.Rear {
		d.fail("drive", "front, mid or rear", string(r.Drive))
	}
	r.AheadMM = d.number("ahead", 0, mostMM)
	r.ClearanceMM = d.number("clearance", 0, mostMM)
	r.SlopeDegrees = d.number("slope", 0, 90)
	r.ChairKG, r.PersonKG = d.number("chairkg", 0, mostKG), d.number("personkg", 0, mostKG)
	if d.visit.home.ride != nil {
		d.fail("kind", "one chair", "a second one")
	}
	d.visit.home.ride = r
}

// place reads one place; what nobody measured is 0.
func (d *decoder) place() {
	p := namedPlace{id: d.next("id")}
	p.Kind = d.next("kind of place")
	if d.err == nil && !passage.KnownKind(p.Kind) {
		d.fail("kind of place", "a kind such as door, corner or ramp", p.Kind)
	}
	for _, to := range [...]struct {
		field string
		at    *float64
	}{
		{"width", &p.WidthMM}, {"corridor", &p.CorridorMM}, {"corridor2", &p.Corridor2MM},
		{"rise", &p.RiseMM}, {"run", &p.RunMM}, {"landing", &p.LandingMM}, {"height", &p.HeightMM}, {"limit", &p.LimitKG},
	} {
		*to.at = d.number(to.field, 0, mostMM)
	}
	for i := range d.visit.home.places {
		if d.visit.home.places[i].id == p.id {
			d.fail("id", "each place once", p.id)
		}
	}
	d.visit.home.places = append(d.visit.home.places, p)
}

// due reads an item that a change of a setting made due again. A checklist of
// a team's own may not have it.
func (d *decoder) due() {
	id := d.next("item")
	if d.err == nil && id == "" {
		d.fail("item", "the id of an item", id)
	}
	d.visit.due = append(d.visit.due, id)
}

// due writes what must be shown again.
func (e *encoder) due(items []string) {
	for _, id := range items {
		due := readiness.Due(id)
		e.statement(&due, "due", id)
	}
}

// passages writes the judgement of every place.
func (e *encoder) passages(h *home) {
	ride := h.ride
	if ride == nil {
		ride = &passage.Ride{}
	}
	for i := range h.places {
		p := &h.places[i]
		g := ride.At(&p.Place)
		left := "-"
		if g.HasLeft {
			left = provenance.Text(g.LeftMM, 0)
		}
		e.line("passage", p.id, g.Verdict, left, g.Say, fields.OrDash(g.Assumes), fields.OrDash(g.Reference))
		if g.Formula != "" {
			e.provenance("passage-"+p.Kind, g.Provenance)
		}
	}
}

// Plan draws a place with the chair in it: a chair and a place line of the
// visit text in, lines of WIRE.md out. A place without a plan, and measures
// that cannot be, give one sentence.
func Plan(chair, place string) string {
	var v visit
	d := decoder{visit: &v}
	for i, want := range [...]string{"chair", "place"} {
		row, _, _ := fields.Cut([...]string{chair, place}[i], '\n')
		d.reader = reader{rest: row, line: i + 1}
		if kind := d.next("kind"); d.err == nil && kind != want {
			d.fail("kind", want, kind)
		}
		if i == 0 {
			d.chair()
		} else {
			d.place()
		}
		if d.end(); d.err != nil {
			return errorWord + d.err.Error()
		}
	}
	var e encoder
	result, err := v.home.ride.Draw(&v.home.places[0].Place)
	if err != nil {
		e.line("say", passage.Sentence(err))
		return string(e.out)
	}
	e.plan(result)
	return string(e.out)
}

// plan writes walls, the chair along its way, the tightest point and what the
// whole says.
func (e *encoder) plan(r *passage.Result) {
	for _, w := range r.Plan.Walls {
		e.line("wall", append(pointOf(w.A), pointOf(w.B)...)...)
	}
	for _, pose := range r.Plan.Poses {
		e.line("pose", append(pointOf(pose.Pose.At), provenance.Text(pose.Pose.Heading, 1))...)
		var corners []string
		for _, p := range pose.Outline {
			corners = append(corners, pointOf(p)...)
		}
		e.line("outline", corners...)
	}
	mark := r.Plan.Tightest
	e.line("tight", append(pointOf(mark.Chair), provenance.Text(mark.RoomMM, 0))...)
	e.line("say", r.Say)
}

func pointOf(p passage.Point) []string {
	return []string{provenance.Text(p.X, 1), provenance.Text(p.Y, 1)}
}
