package engine

import (
	"doorsill/internal/decimal"
	"doorsill/internal/engine/provenance"
	"doorsill/internal/engine/say"
	"doorsill/internal/engine/trend"
	"doorsill/internal/fields"
)

// Trend says what changed between visits that follow one another, what was not
// the same at them, and when a control may become too heavy. Text in, text out,
// as WIRE.md has it; an answer that begins with "error" and a TAB says in a
// sentence what was wrong.
func Trend(text string) string {
	o := overTime{wait: provenance.NotMeasured(), judged: provenance.NotMeasured()}
	for line := 1; text != ""; line++ {
		var row string
		row, text, _ = fields.Cut(text, '\n')
		f := reader{rest: row, line: line}
		if o.read(&f); f.err != nil {
			return errorWord + f.err.Error()
		}
	}
	o.compareAll()
	o.foresee()
	return string(o.out)
}

// overTime is what was found at the visits of one client.
type overTime struct {
	course       string
	wait, judged float64
	needed       float64 // 0 when no control is chosen
	// interval is in weeks from the day of the last visit; 0 is not given.
	interval, visited int
	days              []found
	out               []byte
}

// found is what was found on one day.
type found struct {
	day        int
	conditions trend.Conditions
	points     []point
}

// point is one quantity of a day; coverage has a meaning for domains.
type point struct {
	quantity        string
	value, coverage float64
}

func (d *found) value(quantity string) (float64, bool) {
	for _, p := range d.points {
		if p.quantity == quantity {
			return p.value, true
		}
	}
	return 0, false
}

const (
	farthestDay     = 1_000_000
	longestInterval = 260 // weeks
)

func (o *overTime) read(f *reader) {
	switch kind := f.next("kind"); kind {
	case "course":
		o.course = f.next("course")
	case "wait":
		o.wait = f.number("weeks", 0, trend.FarthestWeeks)
	case "judged":
		o.judged = f.number("loss a week", 0.000001, mostForce)
	case "needed":
		o.needed = f.number("force", 0.000001, mostForce)
	case "recheck":
		o.visited, o.interval = f.whole("day", 0, farthestDay), f.whole("weeks", 1, longestInterval)
	case "point":
		o.point(f)
	default:
		f.fail("kind", "course, wait, judged, needed, recheck or point", kind)
	}
	f.end()
}

func (o *overTime) point(f *reader) {
	day := f.whole("day", 0, farthestDay)
	p := point{quantity: f.next("figure")}
	unit := unitOf(p.quantity)
	if unit == "points" {
		score, coverage, _ := fields.Cut(f.next("value"), '/')
		p.value, p.coverage = part(f, "score", score), part(f, "coverage", coverage)
	} else {
		p.value = f.number("value", 0, mostForce)
	}
	if got := f.next("unit"); f.err == nil && got != unit {
		f.fail("unit", unit, got)
	}
	conditions := f.next("conditions")
	if f.err != nil {
		return
	}
	if n := len(o.days); n == 0 || o.days[n-1].day < day {
		o.days = append(o.days, found{day: day, conditions: conditionsOf(conditions)})
	} else if o.days[n-1].day > day {
		f.fail("day", "a day not before the one above", provenance.Whole(day))
		return
	}
	last := &o.days[len(o.days)-1]
	last.points = append(last.points, p)
}

// unitOf is the only unit that a quantity comes in.
func unitOf(quantity string) string {
	switch {
	case begins(quantity, "domain-"):
		return "points"
	case begins(quantity, "help-"):
		return "level"
	case quantity == "travel":
		return "mm"
	case quantity == "release":
		return "s"
	}
	return "gf"
}

func part(f *reader, name, text string) float64 {
	inner := reader{rest: text, line: f.line}
	value := inner.number(name, 0, 100)
	if inner.err != nil && f.err == nil {
		f.err = inner.err
	}
	return value
}

// conditionsOf reads the seven words; what is missing is not known.
func conditionsOf(text string) trend.Conditions {
	words := append(fields.Split(text, '|'), make([]string, 7)...)
	return trend.Conditions{Support: words[0], Site: words[1], Control: words[2], Settings: words[3],
		TimeOfDay: words[4], Rater: words[5], Checklist: words[6]}
}

func (o *overTime) line(first string, more ...string) { o.out = appendLine(o.out, first, more) }

// compareAll lays each day beside the one before, and the last beside the
// first: a slow change is noise from visit to visit.
func (o *overTime) compareAll() {
	last := len(o.days) - 1
	for i := 1; i <= last; i++ {
		o.compare(&o.days[i-1], &o.days[i])
	}
	if last > 1 {
		o.compare(&o.days[0], &o.days[last])
	}
}

func (o *overTime) compare(a, b *found) {
	if names := trend.Differences(a.conditions, b.conditions); len(names) > 0 {
		o.line("conditions", provenance.Whole(a.day), provenance.Whole(b.day), say.List(names, ", "))
	}
	var before, after []int
	for _, p := range a.points {
		value, both := b.value(p.quantity)
		if !both {
			continue
		}
		if begins(p.quantity, "help-") {
			before, after = append(before, int(p.value)), append(after, int(value))
			continue
		}
		change, err := changeOf(p, b, value)
		o.change(p.quantity, a.day, b.day, change, err)
	}
	if len(before) > 0 {
		change, err := trend.HelpChange(before, after)
		o.change("help", a.day, b.day, change, err)
	}
}

func changeOf(before point, b *found, after float64) (trend.Change, error) {
	switch unitOf(before.quantity) {
	case "points":
		for _, p := range b.points {
			if p.quantity == before.quantity {
				return trend.DomainChange(trend.Score{Points: before.value, Coverage: before.coverage}, trend.Score{Points: p.value, Coverage: p.coverage})
			}
		}
	case "mm":
		return trend.TravelChange(before.value, after)
	case "s":
		return trend.TimeChange(before.value, after)
	}
	return trend.ForceChange(before.value, after)
}

// change leaves out what can not be compared.
func (o *overTime) change(quantity string, from, to int, c trend.Change, err error) {
	if err != nil {
		return
	}
	direction := c.Direction
	if direction == trend.Same {
		direction = "same"
	}
	o.line("change", quantity, provenance.Whole(from), provenance.Whole(to), direction, c.Say)
}

// foresee adds the forecast, or says what is missing for one.
func (o *overTime) foresee() {
	visits, days := o.visits()
	if len(visits) == 0 || o.needed == 0 {
		o.line("say", "There are no forces at the site of the planned control, or no control is chosen: nothing can be said about the weeks left.")
		o.recheck(&trend.Forecast{Line: trend.NoLine}, o.visited)
		return
	}
	f, err := trend.ForecastOf(trend.Course{Visits: visits, Needed: o.needed, Kind: o.course, JudgedLoss: o.judged, WaitWeeks: o.wait})
	if err != nil {
		o.line("say", err.Error())
		o.recheck(&trend.Forecast{Line: trend.NoLine}, o.visited)
		return
	}
	for i, force := range f.Usable {
		o.line("usable", provenance.Whole(days[i]), plain(force))
	}
	o.forecast(&f)
	o.recheck(&f, days[len(days)-1])
}

// recheck says when to look again and whether the ordinary interval or the
// forecast sets the date. From is the last day with forces.
func (o *overTime) recheck(f *trend.Forecast, from int) {
	if o.interval == 0 {
		return
	}
	const week = 7
	look, by := f.Look(o.interval, float64(o.visited-from)/week), "interval"
	if look.ByForecast {
		by = "forecast"
	}
	o.line("recheck-by", provenance.Whole(o.visited+week*look.Weeks), provenance.Whole(look.Weeks), by, look.Say)
}

func (o *overTime) visits() (visits []trend.Visit, days []int) {
	for i := range o.days {
		d := &o.days[i]
		rested, ok := d.value("force-rested")
		if !ok || rested <= 0 {
			continue
		}
		v := trend.Visit{Day: d.day, Rested: rested, Tired: provenance.NotMeasured()}
		if tired, ok := d.value("force-tired"); ok && tired > 0 {
			v.Tired = tired
		}
		visits, days = append(visits, v), append(days, d.day)
	}
	return visits, days
}

func (o *overTime) forecast(f *trend.Forecast) {
	if f.Line == trend.NoLine {
		o.line("line", trend.NoLine, "-", "-", "-", "-")
	} else {
		o.line("line", f.Line, plain(f.Slope), plain(f.SlopeLow), plain(f.SlopeHigh), plain(provenance.Round(f.Reserve*o.needed, 4)))
		o.until(f.To3)
		o.until(f.To2)
	}
	o.line("say", f.Say)
	for _, advice := range f.Advice {
		o.line("advice", advice)
	}
	o.line("note", f.Caution)
	for _, b := range f.Provenances {
		o.line("basis", b.Formula, b.Source, b.Status)
	}
}

func (o *overTime) until(u trend.Until) {
	weeks := func(value float64, known bool) string {
		if !known {
			return "-"
		}
		return plain(value)
	}
	o.line("weeks", plain(u.Reserve), fields.Flag(u.Already), weeks(u.Mid, u.MidKnown), weeks(u.Early, u.EarlyKnown), weeks(u.Late, u.LateKnown), u.Say)
}

// plain writes a quantity as the texts do.
func plain(x float64) string {
	m, _ := decimal.Of(x)
	return m.Text()
}
