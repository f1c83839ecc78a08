package intake

import (
	"cmp"
	"math"
	"slices"
	"time"

	"doorsill/internal/decimal"
	"doorsill/internal/engine"
	"doorsill/internal/model"
	"doorsill/internal/store"
)

// visitMeasures takes from a visit and its result what a forecast over visits asks of
// them. It is nil when the tablet's time cannot be read.
func visitMeasures(visit *model.Visit, result *model.Result) *store.VisitMeasures {
	at, err := time.Parse(time.RFC3339, visit.Started.At)
	if err != nil {
		return nil
	}
	const day = 24 * 60 * 60
	s := &store.VisitMeasures{At: visit.Started.At, Day: int(math.Floor(float64(at.Unix()) / day))}
	if visit.Setup != nil {
		s.Site, s.OperateGF, s.Needed = visit.Setup.Site, visit.Setup.OperateGF, visit.Setup.Needed
		if len(s.Needed) == 0 {
			s.Needed = model.Directions()
		}
	}
	if visit.Needs != nil {
		s.WaitWeeks = visit.Needs.WaitWeeks
	}
	for i := range result.Quantities {
		if q := &result.Quantities[i]; q.Value != nil {
			addForce(s, q)
		}
	}
	if result.Recheck != nil {
		s.RecheckWeeks = result.Recheck.Weeks
	}
	return s
}

// addForce keeps the quantities of force by site and direction.
func addForce(s *store.VisitMeasures, q *model.Quantity) {
	if q.Name != "usable" && q.Name != "mean-rested" && q.Name != "mean-tired" {
		return
	}
	at := slices.IndexFunc(s.Forces, func(one store.VisitForce) bool { return one.Site == q.Site && one.Direction == q.Direction })
	if at < 0 {
		at = len(s.Forces)
		s.Forces = append(s.Forces, store.VisitForce{Site: q.Site, Direction: q.Direction})
	}
	value := q.Value.Float()
	switch q.Name {
	case "usable":
		s.Forces[at].Usable = &value
	case "mean-rested":
		s.Forces[at].Rested = &value
	case "mean-tired":
		s.Forces[at].Tired = &value
	}
}

// overVisits is a client's visits that have a result, in the order of time.
type overVisits struct {
	course string
	visits []*store.VisitMeasures
}

// question is what a tablet asks of the same visits, as far as the forecast and
// the date of the next look depend on it.
func (o *overVisits) question() model.TrendQuestion {
	slices.SortStableFunc(o.visits, func(a, b *store.VisitMeasures) int { return cmp.Compare(a.At, b.At) })
	last := o.visits[len(o.visits)-1]
	q := model.TrendQuestion{Course: o.course, Points: []model.TrendPoint{}}
	if on, known := o.delivery(); known {
		weeks := max(0, int(math.Floor(float64(on-last.Day)/7+0.5)))
		q.WaitWeeks = &weeks
	}
	if last.RecheckWeeks > 0 {
		q.RecheckDay, q.RecheckWeeks = last.Day, last.RecheckWeeks
	}
	present := o.present()
	if present == nil {
		return q
	}
	q.NeededGF = max(0, present.OperateGF)
	for i, s := range o.visits {
		if i+1 < len(o.visits) && o.visits[i+1].Day == s.Day {
			continue // of two visits on one day the later stands for the day
		}
		force := weakest(s, present)
		addPoint(&q, s.Day, "force-rested", force.Rested)
		addPoint(&q, s.Day, "force-tired", force.Tired)
		for _, force := range usable(s, present) {
			addPoint(&q, s.Day, "force-rested-"+force.Direction, force.Rested)
			addPoint(&q, s.Day, "force-tired-"+force.Direction, force.Tired)
		}
	}
	return q
}

// QuestionOver is what is asked about visits of one client, each with its result:
// the same as of visits in the records. The course is that of the latest visit
// whose needs name one. Visits whose time cannot be read are left out.
func QuestionOver(visits []model.Visit, results []model.Result) model.TrendQuestion {
	o, latest := overVisits{}, ""
	for i := range visits {
		v := &visits[i]
		s := visitMeasures(v, &results[i])
		if s == nil {
			continue
		}
		o.visits = append(o.visits, s)
		if v.Needs != nil && v.Needs.Course != "" && s.At >= latest {
			o.course, latest = v.Needs.Course, s.At
		}
	}
	if len(o.visits) == 0 {
		return model.TrendQuestion{Points: []model.TrendPoint{}}
	}
	return o.question()
}

func addPoint(q *model.TrendQuestion, day int, quantity string, value *float64) {
	if value != nil {
		q.Points = append(q.Points, model.TrendPoint{Day: day, Quantity: quantity, Value: *value})
	}
}

// present is the visit whose control and site are planned now: the latest with
// a set-up, or nil.
func (o *overVisits) present() *store.VisitMeasures {
	for _, s := range slices.Backward(o.visits) {
		if s.Site != "" {
			return s
		}
	}
	return nil
}

// delivery is the day on which the control is expected, by the latest visit
// that names a wait.
func (o *overVisits) delivery() (day int, known bool) {
	for _, s := range slices.Backward(o.visits) {
		if s.WaitWeeks != nil {
			return s.Day + int(math.Floor(7**s.WaitWeeks+0.5)), true
		}
	}
	return 0, false
}

// usable are the forces of a visit in the needed directions at the present site
// that can be used.
func usable(s, present *store.VisitMeasures) []store.VisitForce {
	var list []store.VisitForce
	for _, direction := range present.Needed {
		for _, force := range s.Forces {
			if force.Site == present.Site && force.Direction == direction && force.Usable != nil {
				list = append(list, force)
			}
		}
	}
	return list
}

// weakest is the needed direction with the least usable force at the present
// site, the first of several.
func weakest(s, present *store.VisitMeasures) (least store.VisitForce) {
	for _, force := range usable(s, present) {
		if least.Usable == nil || *force.Usable < *least.Usable {
			least = force
		}
	}
	return least
}

// forecast fills in what the engine foresees: when reserve 3 may be reached, when
// the control is expected, and when to look again where that is sooner than
// what was agreed.
func (o *overVisits) forecast(line *store.Summary) {
	if len(o.visits) == 0 {
		return
	}
	question := o.question()
	// What the engine refuses, such as a day of long ago, has no forecast.
	if answer, err := engine.TrendOf(&question); err == nil {
		o.takeTrend(line, &answer)
	}
	last := o.visits[len(o.visits)-1].Day
	if on, known := o.delivery(); known && on >= last {
		line.ExpectedOn = dateOf(on)
	}
}

func (o *overVisits) takeTrend(line *store.Summary, t *model.Trend) {
	for i := range t.Reaches {
		if r := &t.Reaches[i]; r.Reserve == decimal.Int(3) {
			// A reach counts from the last day with force, by which there is a reach at all.
			line.ReserveOn = reserveOn(t.Usable[len(t.Usable)-1].Day, r)
		}
	}
	if t.Recheck == nil || t.Recheck.By != "forecast" {
		return
	}
	if by := dateOf(t.Recheck.Day); line.Recheck == "" || by < line.Recheck {
		line.Recheck, line.RecheckForecast = by, true
	}
}

// reserveOn is the day on which a reserve is reached: already, in so many weeks,
// or by the early end of the band; empty when that is not in sight.
func reserveOn(from int, r *model.Reach) string {
	weeks := r.Weeks
	if weeks == nil {
		weeks = r.Early
	}
	switch {
	case r.Already:
		return dateOf(from)
	case weeks == nil:
		return ""
	}
	return dateOf(from + int(7*weeks.Float()))
}

// dateOf writes a day counted from 1 January 1970.
func dateOf(day int) string {
	return time.Unix(0, 0).UTC().AddDate(0, 0, day).Format(time.DateOnly)
}
