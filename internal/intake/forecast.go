package intake

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"doorsill/internal/engine"
	"doorsill/internal/model"
	"doorsill/internal/store"
)

// visitMeasures takes from a visit and its result what a forecast over visits asks of
// them. It is nil without a result, or when the tablet's time cannot be read.
func visitMeasures(visit *model.Visit, result string) *store.VisitMeasures {
	at, err := time.Parse(time.RFC3339, visit.Started.At)
	if err != nil || result == "" {
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
	for line := range strings.Lines(result) {
		f := strings.Split(strings.TrimSuffix(line, "\n"), "\t")
		switch {
		case f[0] == "figure" && len(f) > 4 && f[4] != "-":
			addForce(s, f)
		case f[0] == "recheck-by" && len(f) > 1:
			s.RecheckWeeks, _ = strconv.Atoi(f[1])
		}
	}
	return s
}

// addForce keeps the figures of force by site and direction, as written.
func addForce(s *store.VisitMeasures, f []string) {
	name, site, direction, value := f[1], f[2], f[3], f[4]
	if name != "usable" && name != "mean-rested" && name != "mean-tired" {
		return
	}
	at := slices.IndexFunc(s.Forces, func(one store.VisitForce) bool { return one.Site == site && one.Direction == direction })
	if at < 0 {
		at = len(s.Forces)
		s.Forces = append(s.Forces, store.VisitForce{Site: site, Direction: direction})
	}
	switch name {
	case "usable":
		s.Forces[at].Usable = value
	case "mean-rested":
		s.Forces[at].Rested = value
	case "mean-tired":
		s.Forces[at].Tired = value
	}
}

// overVisits is a client's visits that have a result, in the order of time.
type overVisits struct {
	course string
	visits []*store.VisitMeasures
}

// text asks the engine, with the lines that a tablet writes for the same visits
// as far as the forecast and the date of the next look depend on them.
func (o *overVisits) text() string {
	slices.SortStableFunc(o.visits, func(a, b *store.VisitMeasures) int { return cmp.Compare(a.At, b.At) })
	last := o.visits[len(o.visits)-1]
	var b strings.Builder
	line := func(fields ...string) { b.WriteString(strings.Join(fields, "\t") + "\n") }
	line("course", o.course)
	if on, known := o.delivery(); known {
		line("wait", strconv.Itoa(max(0, int(math.Floor(float64(on-last.Day)/7+0.5)))))
	}
	present := o.present()
	if present != nil && present.OperateGF > 0 {
		line("needed", strconv.FormatFloat(present.OperateGF, 'f', -1, 64))
	}
	if last.RecheckWeeks > 0 {
		line("recheck", strconv.Itoa(last.Day), strconv.Itoa(last.RecheckWeeks))
	}
	for i, s := range o.visits {
		if i+1 < len(o.visits) && o.visits[i+1].Day == s.Day || present == nil {
			continue // of two visits on one day the later stands for the day
		}
		force := weakest(s, present)
		if force.Rested != "" {
			line("point", strconv.Itoa(s.Day), "force-rested", force.Rested, "gf", "-")
		}
		if force.Tired != "" {
			line("point", strconv.Itoa(s.Day), "force-tired", force.Tired, "gf", "-")
		}
	}
	return b.String()
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

// weakest is the needed direction with the least usable force at the present
// site, the first of several.
func weakest(s, present *store.VisitMeasures) (least store.VisitForce) {
	for _, direction := range present.Needed {
		for _, force := range s.Forces {
			if force.Site == present.Site && force.Direction == direction && force.Usable != "" &&
				(least.Usable == "" || parseNumber(force.Usable) < parseNumber(least.Usable)) {
				least = force
			}
		}
	}
	return least
}

// parseNumber reads a number that the engine wrote.
func parseNumber(text string) float64 {
	value, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return 0
	}
	return value
}

// forecast fills in what the engine foresees: when reserve 3 may be reached, when
// the control is expected, and when to look again where that is sooner than
// what was agreed.
func (o *overVisits) forecast(line *store.Summary) {
	if len(o.visits) == 0 {
		return
	}
	answer := engine.Trend(o.text())
	last := o.visits[len(o.visits)-1].Day
	for row := range strings.Lines(answer) {
		f := strings.Split(strings.TrimSuffix(row, "\n"), "\t")
		switch {
		case f[0] == "weeks" && len(f) > 3 && f[1] == "3":
			line.ReserveOn = reserveOn(o.lastForce(), f)
		case f[0] == "recheck-by" && len(f) > 3 && f[3] == "forecast":
			day, _ := strconv.Atoi(f[1])
			if by := dateOf(day); line.Recheck == "" || by < line.Recheck {
				line.Recheck, line.RecheckForecast = by, true
			}
		}
	}
	if on, known := o.delivery(); known && on >= last {
		line.ExpectedOn = dateOf(on)
	}
}

// reserveOn is the day of a reserve, from a line "weeks": reached already, in
// so many weeks, or by the early end of the band.
func reserveOn(from int, f []string) string {
	weeks := f[3]
	if weeks == "-" && len(f) > 4 {
		weeks = f[4]
	}
	switch {
	case f[2] == "1":
		return dateOf(from)
	case weeks == "-":
		return ""
	}
	return dateOf(from + int(7*parseNumber(weeks)))
}

// lastForce is the day of the last visit with force at the present site.
func (o *overVisits) lastForce() int {
	present := o.present()
	for _, s := range slices.Backward(o.visits) {
		if present != nil && weakest(s, present).Rested != "" {
			return s.Day
		}
	}
	return o.visits[len(o.visits)-1].Day
}

// dateOf writes a day counted from 1 January 1970.
func dateOf(day int) string {
	return time.Unix(0, 0).UTC().AddDate(0, 0, day).Format(time.DateOnly)
}
