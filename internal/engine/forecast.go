package engine

import (
	"doorsill/internal/decimal"
	"doorsill/internal/engine/provenance"
	"doorsill/internal/engine/trend"
	"doorsill/internal/message"
	"doorsill/internal/model"
)

// forecast adds the forecast, or says what is missing for one.
func (o *overTime) forecast() {
	none := trend.Forecast{Line: trend.NoLine}
	series := o.series()
	if len(series) == 0 || o.question.NeededGF == 0 {
		o.answer.Message = message.New("trend.no-forces")
		o.recheck(&none, o.question.RecheckDay)
		return
	}
	last := lastOf(series)
	course := trend.Course{Series: series, Needed: o.question.NeededGF, Kind: o.question.Course,
		JudgedLoss: orNotMeasured(o.question.JudgedLoss), WaitWeeks: orNotMeasured(o.question.WaitWeeks)}
	f, err := trend.ForecastOf(course)
	if err != nil {
		o.answer.Message = provenance.MessageOf(err)
		o.recheck(&none, o.question.RecheckDay)
		return
	}
	o.addForecast(&f)
	o.recheck(&f, last)
}

// series are the forces of each direction that was asked about; without any,
// those of the weakest.
func (o *overTime) series() []trend.Series {
	var all []trend.Series
	for _, direction := range model.Directions() {
		if visits := o.visits("-" + direction); len(visits) > 0 {
			all = append(all, trend.Series{Direction: direction, Visits: visits})
		}
	}
	if visits := o.visits(""); len(all) == 0 && len(visits) > 0 {
		all = append(all, trend.Series{Visits: visits})
	}
	return all
}

// visits are the days with a rested force.
func (o *overTime) visits(direction string) []trend.Visit {
	var visits []trend.Visit
	for _, d := range o.days {
		rested, tired := d.point(restedForce+direction), d.point(tiredForce+direction)
		if rested == nil || rested.Value <= 0 {
			continue
		}
		v := trend.Visit{Day: d.day(), Rested: rested.Value, Tired: provenance.NotMeasured()}
		if tired != nil && tired.Value > 0 {
			v.Tired = tired.Value
		}
		visits = append(visits, v)
	}
	return visits
}

// lastOf is the last day of any series.
func lastOf(all []trend.Series) int {
	last := 0
	for _, s := range all {
		last = max(last, s.Visits[len(s.Visits)-1].Day)
	}
	return last
}

func (o *overTime) addForecast(f *trend.Forecast) {
	for _, u := range f.Usable {
		o.answer.Usable = append(o.answer.Usable, model.UsableForce{Day: u.Day, Force: *micro(u.Force)})
	}
	o.answer.Line = &model.TrendLine{Source: f.Line}
	if f.Line != trend.NoLine {
		*o.answer.Line = model.TrendLine{Source: f.Line, Direction: f.Direction, Slope: micro(f.Slope), Scatter: micro(f.Scatter), ScatterAssumed: f.ScatterAssumed}
		o.answer.Reaches = []model.Reach{reach(&f.To3), reach(&f.To2)}
	}
	for _, p := range f.Band {
		o.answer.Band = append(o.answer.Band, model.BandPoint{Day: p.Day, Low: *micro(p.Low), Middle: *micro(p.Mid), High: *micro(p.High)})
	}
	for _, c := range f.Chances {
		o.answer.Chances = append(o.answer.Chances, model.ReserveChance{Reserve: *micro(c.Reserve), Weeks: *micro(c.Weeks), Percent: *micro(c.Percent)})
	}
	o.answer.Message, o.answer.Advice, o.answer.Notes = f.Say, f.Advice, f.Notes
	for i, quantity := range [...]string{"slope", "reserve"} {
		o.answer.Provenance = append(o.answer.Provenance, provenanceOf(quantity, &f.Provenances[i]))
	}
}

func reach(u *trend.Until) model.Reach {
	weeks := func(value float64, known bool) *decimal.Micro {
		if !known {
			return nil
		}
		return micro(value)
	}
	return model.Reach{Reserve: *micro(u.Reserve), Already: u.Already,
		Weeks: weeks(u.Mid, u.MidKnown), Early: weeks(u.Early, u.EarlyKnown), Late: weeks(u.Late, u.LateKnown), Message: u.Say}
}

// micro is a number that lies within the bounds of one, as its checks made sure.
func micro(x float64) *decimal.Micro {
	m, _ := decimal.Of(x)
	return &m
}

// recheck says when to look again and whether the ordinary interval or the
// forecast sets the date. From is the last day with forces.
func (o *overTime) recheck(f *trend.Forecast, from int) {
	if o.question.RecheckWeeks == 0 {
		return
	}
	const week = 7
	look, by := f.Look(o.question.RecheckWeeks, float64(o.question.RecheckDay-from)/week), "interval"
	if look.ByForecast {
		by = "forecast"
	}
	o.answer.Recheck = &model.TrendRecheck{Day: o.question.RecheckDay + week*look.Weeks, Weeks: look.Weeks, By: by, Message: look.Say}
}
