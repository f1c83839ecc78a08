package engine

import (
	"doorsill/internal/engine/passage"
	"doorsill/internal/engine/provenance"
	"doorsill/internal/model"
)

// Draw draws a place with the chair in it, by the best line that a search
// finds. A place without a plan, and measures that cannot be, give a message
// alone.
func Draw(chair *model.ChairMeasured, place *model.PlaceMeasured) model.PlanDrawing {
	r, err := passage.Draw(chair, place)
	if err != nil {
		return model.PlanDrawing{Message: passage.Refused(err)}
	}
	plan := model.PlanDrawing{Message: r.Say}
	for _, w := range r.Plan.Walls {
		plan.Walls = append(plan.Walls, model.Wall{From: pointOf(w.A), To: pointOf(w.B)})
	}
	for _, s := range r.Plan.Spans {
		plan.Spans = append(plan.Spans, model.Span{Of: s.Of, From: pointOf(s.A), To: pointOf(s.B)})
	}
	for _, pose := range r.Plan.Poses {
		one := model.Pose{At: pointOf(pose.Pose.At), Heading: *rounded(pose.Pose.Heading, 1)}
		for _, p := range pose.Outline {
			one.Outline = append(one.Outline, pointOf(p))
		}
		plan.Poses = append(plan.Poses, one)
	}
	mark := r.Plan.Tightest
	plan.Tightest = &model.Tightest{At: pointOf(mark.Chair), RoomMM: *rounded(provenance.Floor(mark.RoomMM, 0), 0)}
	return plan
}

func pointOf(p passage.Point) model.Point {
	return model.Point{X: *rounded(p.X, 1), Y: *rounded(p.Y, 1)}
}
