package engine

import (
	"strconv"

	"doorsill/internal/engine/trend"
	"doorsill/internal/model"
	"doorsill/internal/validation"
)

// Bounds of questions over several visits.
const (
	farthestDay     = 1_000_000
	longestInterval = 260      // weeks
	leastForce      = 0.000001 // gf, of one that is not 0
)

// checkTrend checks ranges, and that the points are by day.
func checkTrend(q *model.TrendQuestion) *validation.Error {
	err := validation.First(
		validation.OptionalBetween("wait_weeks", q.WaitWeeks, 0, trend.FarthestWeeks, "weeks"),
		validation.OptionalBetween("judged_loss", q.JudgedLoss, leastForce, model.MostForce, "gf"),
		validation.Between("recheck_day", float64(q.RecheckDay), 0, farthestDay, ""),
		validation.Between("recheck_weeks", float64(q.RecheckWeeks), 0, longestInterval, "weeks"),
	)
	if err == nil && q.NeededGF != 0 {
		err = validation.Between("needed_gf", q.NeededGF, leastForce, model.MostForce, "gf")
	}
	if err != nil {
		return err
	}
	day := 0
	for i := range q.Points {
		if err := checkPoint(&q.Points[i], day); err != nil {
			return err.Within("points[" + strconv.Itoa(i) + "]")
		}
		day = q.Points[i].Day
	}
	return nil
}

// checkPoint checks one point; before is the day of the one above.
func checkPoint(p *model.TrendPoint, before int) *validation.Error {
	most, unit := float64(model.MostForce), unitOf(p.Quantity)
	if unit == "points" {
		most = 100
	}
	err := validation.First(
		validation.Between("day", float64(p.Day), 0, farthestDay, ""),
		validation.Between("value", p.Value, 0, most, unit),
		validation.Between("coverage", float64(p.Coverage), 0, 100, "%"),
	)
	if err == nil && p.Day < before {
		err = &validation.Error{Code: validation.CodeOutOfRange, Path: "day", Want: "a day not before the one above", Got: strconv.Itoa(p.Day)}
	}
	return err
}
