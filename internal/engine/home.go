package engine

import (
	"doorsill/internal/engine/passage"
	"doorsill/internal/model"
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

// planOf draws a place with the chair in it, by the best line that a search
// finds. A place without a plan, and measures that cannot be, give a message
// alone.
func planOf(ride *passage.Ride, place *passage.Place) model.PlanDrawing {
	r, err := ride.Draw(place)
	if err != nil {
		return model.PlanDrawing{Message: passage.Refused(err)}
	}
	plan := model.PlanDrawing{Message: r.Say}
	for _, w := range r.Plan.Walls {
		plan.Walls = append(plan.Walls, model.Wall{From: pointOf(w.A), To: pointOf(w.B)})
	}
	for _, pose := range r.Plan.Poses {
		one := model.Pose{At: pointOf(pose.Pose.At), Heading: *rounded(pose.Pose.Heading, 1)}
		for _, p := range pose.Outline {
			one.Outline = append(one.Outline, pointOf(p))
		}
		plan.Poses = append(plan.Poses, one)
	}
	mark := r.Plan.Tightest
	plan.Tightest = &model.Tightest{At: pointOf(mark.Chair), RoomMM: *rounded(mark.RoomMM, 0)}
	return plan
}

func pointOf(p passage.Point) model.Point {
	return model.Point{X: *rounded(p.X, 1), Y: *rounded(p.Y, 1)}
}
