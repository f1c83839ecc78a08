package intake

import (
	"testing"

	"doorsill/internal/decimal"
	"doorsill/internal/model"
	"doorsill/internal/store"
)

// TestWhatAForecastAsksOfAVisit: the day, the set-up with its needed directions,
// and the forces that were found.
func TestWhatAForecastAsksOfAVisit(t *testing.T) {
	on := func(at string) *model.Visit { return &model.Visit{Started: model.Stamp{At: at}} }
	with := func(setup model.SetupChosen) *model.Visit {
		v := on("1970-01-11T23:59:59.000Z")
		v.Setup = &model.Setup{SetupChosen: setup}
		return v
	}
	of := func(name, direction string, value *decimal.Micro) model.Quantity {
		return model.Quantity{Name: name, Site: "chin", Direction: direction, Value: value}
	}
	ninety := decimal.Int(90)
	for _, c := range []struct {
		name   string
		visit  *model.Visit
		result model.Result
		want   string
	}{
		{"a time that cannot be read", on("yesterday"), model.Result{}, `null`},
		{"the second before midnight", on("1970-01-11T23:59:59.000Z"), model.Result{}, `{"at":"1970-01-11T23:59:59.000Z","day":10}`},
		{"a day before 1970", on("1969-12-31T12:00:00.000Z"), model.Result{}, `{"at":"1969-12-31T12:00:00.000Z","day":-1}`},
		{"no direction named: all are needed", with(model.SetupChosen{Site: "chin", OperateGF: 20}), model.Result{},
			`{"at":"1970-01-11T23:59:59.000Z","day":10,"site":"chin","operate_gf":20,"needed":["forward","reverse","left","right"]}`},
		{"one direction", with(model.SetupChosen{Site: "chin", OperateGF: 20, Needed: []string{"left"}}), model.Result{},
			`{"at":"1970-01-11T23:59:59.000Z","day":10,"site":"chin","operate_gf":20,"needed":["left"]}`},
		{"what was measured of force alone", on("1970-01-01T00:00:00.000Z"), model.Result{Quantities: []model.Quantity{
			of("travel", "forward", &ninety), of("usable", "right", nil), of("mean-rested", "left", &ninety)}},
			`{"at":"1970-01-01T00:00:00.000Z","day":0,"forces":[{"site":"chin","direction":"left","rested":"90"}]}`},
		{"a recheck", on("1970-01-01T00:00:00.000Z"), model.Result{Recheck: &model.Recheck{Weeks: 1}},
			`{"at":"1970-01-01T00:00:00.000Z","day":0,"recheck_weeks":1}`},
	} {
		if got := asJSON(t, visitMeasures(c.visit, &c.result)); got != c.want {
			t.Errorf("%s: got\n%s\nwant\n%s", c.name, got, c.want)
		}
	}
}

// TestTheQuestionAtItsBounds: numbers at their least, and visits in
// any order.
func TestTheQuestionAtItsBounds(t *testing.T) {
	chin := func(forces ...store.VisitForce) store.VisitMeasures {
		for i := range forces {
			forces[i].Site, forces[i].Direction = "chin", "left"
		}
		return store.VisitMeasures{Site: "chin", Needed: []string{"left"}, Forces: forces}
	}
	rested, tired, half := 110.0, 100.0, 0.5
	onDay := func(day int, m store.VisitMeasures) *store.VisitMeasures {
		m.Day, m.At = day, dateOf(day)
		return &m
	}
	waiting := chin()
	waiting.WaitWeeks = &half
	weekly := chin()
	weekly.RecheckWeeks = 1
	for _, c := range []struct {
		name   string
		visits []*store.VisitMeasures
		want   string
	}{
		{"no force to full command", []*store.VisitMeasures{onDay(1, chin())}, `{"course":"slow","points":[]}`},
		{"a recheck in a week", []*store.VisitMeasures{onDay(1, weekly)}, `{"course":"slow","recheck_day":1,"recheck_weeks":1,"points":[]}`},
		{"a day of delivery that has passed", []*store.VisitMeasures{onDay(1, waiting), onDay(90, chin())}, `{"course":"slow","wait_weeks":0,"points":[]}`},
		{"a force that cannot be used is none", []*store.VisitMeasures{onDay(1, chin(store.VisitForce{Rested: &rested, Tired: &tired}))}, `{"course":"slow","points":[]}`},
		{"rested alone, tired alone, and the later sent first", []*store.VisitMeasures{
			onDay(8, chin(store.VisitForce{Usable: &tired, Tired: &tired})), onDay(1, chin(store.VisitForce{Usable: &rested, Rested: &rested}))},
			`{"course":"slow","points":[{"day":1,"quantity":"force-rested","value":110,"conditions":{}},{"day":1,"quantity":"force-rested-left","value":110,"conditions":{}},` +
				`{"day":8,"quantity":"force-tired","value":100,"conditions":{}},{"day":8,"quantity":"force-tired-left","value":100,"conditions":{}}]}`},
	} {
		o := overVisits{course: "slow", visits: c.visits}
		if got := asJSON(t, o.question()); got != c.want {
			t.Errorf("%s: got\n%s\nwant\n%s", c.name, got, c.want)
		}
	}
}

// TestNoForecast: without visits, without a wait, and of a day that the engine
// refuses, nothing is foreseen; what was agreed stands.
func TestNoForecast(t *testing.T) {
	early := falling("slow", nil)
	for _, v := range early.visits {
		v.Day -= 1000
		v.At = dateOf(v.Day)
	}
	for name, o := range map[string]*overVisits{
		"no visits":         {},
		"a day before 1970": early,
		"nobody named a wait on the first day of 1970": {visits: []*store.VisitMeasures{{At: dateOf(0)}}},
	} {
		line := store.Summary{Recheck: "1970-07-01"}
		o.forecast(&line)
		if want := (store.Summary{Recheck: "1970-07-01"}); line != want {
			t.Errorf("%s: %+v", name, line)
		}
	}
}
