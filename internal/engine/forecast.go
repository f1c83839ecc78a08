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
	visits := o.visits()
	if len(visits) == 0 || o.question.NeededGF == 0 {
		o.answer.Message = message.New("trend.no-forces")
		o.recheck(&none, o.question.RecheckDay)
		return
	}
	f, err := trend.ForecastOf(trend.Course{Visits: visits, Needed: o.question.NeededGF, Kind: o.question.Course,
		JudgedLoss: orNotMeasured(o.question.JudgedLoss), WaitWeeks: orNotMeasured(o.question.WaitWeeks)})
	if err != nil {
		o.answer.Message = provenance.MessageOf(err)
		o.recheck(&none, o.question.RecheckDay)
		return
	}
	o.addForecast(&f, visits)
	o.recheck(&f, visits[len(visits)-1].Day)
}

// visits are the days with a rested force.
func (o *overTime) visits() []trend.Visit {
	var visits []trend.Visit
	for _, d := range o.days {
		rested, tired := d.point("force-rested"), d.point("force-tired")
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

func (o *overTime) addForecast(f *trend.Forecast, visits []trend.Visit) {
	for i, force := range f.Usable {
		o.answer.Usable = append(o.answer.Usable, model.UsableForce{Day: visits[i].Day, Force: *micro(force)})
	}
	o.answer.Line = &model.TrendLine{Source: f.Line}
	if f.Line != trend.NoLine {
		at := provenance.Round(f.Reserve*o.question.NeededGF, 4)
		*o.answer.Line = model.TrendLine{Source: f.Line, Slope: micro(f.Slope), Low: micro(f.SlopeLow), High: micro(f.SlopeHigh), At: micro(at)}
		o.answer.Reaches = []model.Reach{reach(&f.To3), reach(&f.To2)}
	}
	o.answer.Message, o.answer.Advice = f.Say, f.Advice
	o.answer.Notes = []message.Message{f.Caution}
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
