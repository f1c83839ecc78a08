package engine

import (
	"doorsill/internal/decimal"
	"doorsill/internal/fields"
	"doorsill/internal/model"
)

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
	plan := planOf(v.home.ride, &v.home.places[0].Place)
	return planText(&plan)
}

func planText(p *model.PlanDrawing) string {
	var out []byte
	line := func(first string, more ...string) { out = appendLine(out, first, more) }
	for _, w := range p.Walls {
		line("wall", append(pointText(w.From), pointText(w.To)...)...)
	}
	for _, pose := range p.Poses {
		line("pose", append(pointText(pose.At), pose.Heading.Short(1))...)
		var corners []string
		for _, p := range pose.Outline {
			corners = append(corners, pointText(p)...)
		}
		line("outline", corners...)
	}
	if t := p.Tightest; t != nil {
		line("tight", append(pointText(t.At), t.RoomMM.Short(0))...)
	}
	line("say", sentence(p.Message))
	return string(out)
}

func pointText(p model.Point) []string {
	short := func(m decimal.Micro) string { return m.Short(1) }
	return []string{short(p.X), short(p.Y)}
}
