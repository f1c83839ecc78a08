package enginetest

import (
	"strings"

	"doorsill/internal/decimal"
	"doorsill/internal/engine"
	"doorsill/internal/model"
)

// Plan draws a place with the chair in it, from a line "chair" and a line
// "place". Measures are not checked, so that the drawing itself has to refuse
// what cannot be.
func Plan(text string) string {
	chair, place, _ := strings.Cut(text, "\n")
	c := reader{rest: chair, line: 1}
	c.next("kind")
	measured := model.ChairMeasured{LengthMM: c.number("length", 0, most), WidthMM: c.number("width", 0, most), Drive: c.next("drive"),
		AheadMM: c.number("ahead", 0, most), ClearanceMM: c.number("clearance", 0, most)}
	p := reader{rest: place, line: 2}
	p.next("kind")
	p.next("id")
	at := model.PlaceMeasured{Kind: p.next("kind of place"), WidthMM: p.number("width", 0, most), CorridorMM: p.number("corridor", 0, most), Corridor2MM: p.number("corridor2", 0, most),
		RiseMM: p.number("rise", 0, most), RunMM: p.number("run", 0, most), LandingMM: p.number("landing", 0, most), HeightMM: p.number("height", 0, most)}
	drawing := engine.Draw(&measured, &at)
	return planText(&drawing)
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
