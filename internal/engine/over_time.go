package engine

import (
	"strings"

	"doorsill/internal/engine/trend"
	"doorsill/internal/message"
	"doorsill/internal/model"
)

// TrendOf says what changed between visits that follow one another, what was not
// the same at them, and when a control may become too heavy. The error for a
// question that cannot be is a *validation.Error; where only the forecast is
// missing, the answer's Message says why.
func TrendOf(q *model.TrendQuestion) (model.Trend, error) {
	if err := checkTrend(q); err != nil {
		return model.Trend{}, err
	}
	o := overTime{question: q, days: daysOf(q.Points)}
	o.compareAll()
	o.forecast()
	return o.answer, nil
}

// overTime is what was found at the visits of one client.
type overTime struct {
	question *model.TrendQuestion
	days     []found
	answer   model.Trend
}

// found is what was found on one day, at least one point. The conditions of the
// first are those of the day.
type found []model.TrendPoint

// daysOf parts points that are by day.
func daysOf(points []model.TrendPoint) []found {
	var days []found
	for start := 0; start < len(points); {
		end := start + 1
		for end < len(points) && points[end].Day == points[start].Day {
			end++
		}
		days = append(days, points[start:end])
		start = end
	}
	return days
}

func (d found) day() int { return d[0].Day }

func (d found) conditions() trend.Conditions { return trend.Conditions(d[0].Conditions) }

// point returns the first point of a quantity, or nil.
func (d found) point(quantity string) *model.TrendPoint {
	for i := range d {
		if d[i].Quantity == quantity {
			return &d[i]
		}
	}
	return nil
}

// Quantities that come for each section and each item.
const (
	domainScore = "domain-"
	helpLevel   = "help-"
)

// Quantities of force: of the weakest needed direction, and with a direction
// behind it of that one.
const (
	restedForce = "force-rested"
	tiredForce  = "force-tired"
)

// ofDirection says whether a quantity is the force of one direction, which only
// the forecast looks at.
func ofDirection(quantity string) bool {
	return strings.HasPrefix(quantity, restedForce+"-") || strings.HasPrefix(quantity, tiredForce+"-")
}

// unitOf is the only unit that a quantity comes in.
func unitOf(quantity string) string {
	switch {
	case strings.HasPrefix(quantity, domainScore):
		return "points"
	case strings.HasPrefix(quantity, helpLevel):
		return "level"
	case quantity == "travel":
		return "mm"
	case quantity == "release":
		return "s"
	}
	return "gf"
}

// compareAll lays each day beside the one before, and the last beside the
// first: a slow change is noise from visit to visit.
func (o *overTime) compareAll() {
	last := len(o.days) - 1
	for i := 1; i <= last; i++ {
		o.compare(o.days[i-1], o.days[i])
	}
	if last > 1 {
		o.compare(o.days[0], o.days[last])
	}
}

func (o *overTime) compare(a, b found) {
	if names := trend.Differences(a.conditions(), b.conditions()); len(names) > 0 {
		o.answer.Conditions = append(o.answer.Conditions, model.DifferentConditions{From: a.day(), To: b.day(), Names: names,
			Message: message.New("trend.conditions", message.Words("names", names))})
	}
	var before, after []int
	for i := range a {
		earlier, later := &a[i], b.point(a[i].Quantity)
		switch {
		case later == nil || ofDirection(earlier.Quantity):
		case strings.HasPrefix(earlier.Quantity, helpLevel):
			before, after = append(before, int(earlier.Value)), append(after, int(later.Value))
		default:
			change, err := changeOf(earlier, later)
			o.change(earlier.Quantity, a, b, change, err)
		}
	}
	if len(before) > 0 {
		change, err := trend.HelpChange(before, after)
		o.change("help", a, b, change, err)
	}
}

func changeOf(earlier, later *model.TrendPoint) (trend.Change, error) {
	before, after := earlier.Value, later.Value
	switch unitOf(earlier.Quantity) {
	case "points":
		return trend.DomainChange(trend.Score{Points: before, Coverage: float64(earlier.Coverage)}, trend.Score{Points: after, Coverage: float64(later.Coverage)})
	case "mm":
		return trend.TravelChange(before, after)
	case "s":
		return trend.TimeChange(before, after)
	}
	return trend.ForceChange(before, after)
}

// change leaves out what cannot be compared.
func (o *overTime) change(quantity string, a, b found, c trend.Change, err error) {
	if err == nil {
		o.answer.Changes = append(o.answer.Changes, model.Change{Quantity: quantity, From: a.day(), To: b.day(), Direction: c.Direction, Message: c.Say})
	}
}
