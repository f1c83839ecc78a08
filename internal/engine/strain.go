package engine

import (
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/endurance"
	"doorsill/internal/engine/provenance"
	"doorsill/internal/engine/say"
)

// strain writes the strain index, for forearm to finger, as if every command
// asked as much as the worst direction; and what another task of the same hand
// adds to it.
func (e *encoder) strain(d *day) {
	if !endurance.Distal(d.site) {
		if d.needs.Task.Given() {
			e.number("strain-cumulative", d.site, "", "-", "-",
				"Strain of another hand task adds up only with driving by forearm, hand, finger or thumb; this site drives with another part of the body.", provenance.Provenance{})
		}
		return
	}
	if lacks := d.lacks(); lacks != "" {
		e.number("strain-index", d.site, "", "-", "-", "The strain index needs: "+lacks+". The share of strength can still be given.", provenance.Provenance{})
		return
	}
	t := bent(endurance.Task{Site: d.site, Share: d.worst, PerMinute: d.needs.CommandsPerMin.Value, Seconds: d.needs.SecondsPerCommand.Value,
		Hours: d.needs.HoursDriving.Value}, d.needs.WristDeg.Value)
	s, err := endurance.StrainIndex(t)
	if err != nil {
		e.number("strain-index", d.site, "", "-", "-", upperFirst(err.Error()), provenance.Provenance{})
		return
	}
	d.raised = d.raised || s.Over
	e.number("strain-index", d.site, "", provenance.Text(s.Index, 1), "-", s.Say, s.Provenance)
	e.secondTask(d, s)
}

// bent sets how the wrist is bent: forward above 0.
func bent(t endurance.Task, degrees float64) endurance.Task {
	t.Bend, t.Degrees = endurance.Flexion, degrees
	if degrees < 0 {
		t.Bend, t.Degrees = endurance.Extension, -degrees
	}
	return t
}

// secondTask adds another task of the hand to driving: as a further kind of
// command when it is done while driving, else with hours of its own.
func (e *encoder) secondTask(d *day, driving endurance.Strain) {
	task := &d.needs.Task
	if !task.Given() {
		return
	}
	name := "strain-composite"
	if task.Hours.Given {
		name = "strain-cumulative"
	}
	if lacks := missing(asked{task.Share, "its share of strength"}, asked{task.PerMinute, "pressings a minute"},
		asked{task.Seconds, "seconds a pressing"}, asked{task.WristDeg, "the wrist's angle"}); lacks != "" {
		e.number(name, d.site, "", "-", "-", "Strain with the other task needs: "+lacks+". Driving by itself is judged above.", provenance.Provenance{})
		return
	}
	const percent = 100
	t := bent(endurance.Task{Site: d.site, Share: provenance.Round(task.Share.Value/percent, 4), PerMinute: task.PerMinute.Value,
		Seconds: task.Seconds.Value, Hours: driving.Task.Hours}, task.WristDeg.Value)
	if task.Hours.Given {
		t.Hours = task.Hours.Value
	}
	alone, err := endurance.StrainIndex(t)
	if err != nil {
		e.number(name, d.site, "", "-", "-", "The other task: "+err.Error(), provenance.Provenance{})
		return
	}
	e.number("strain-index-task", d.site, "", provenance.Text(alone.Index, 1), "-", "The other task by itself. "+alone.Say, alone.Provenance)
	sum, err := endurance.Composite([]endurance.Task{driving.Task, t})
	if task.Hours.Given {
		sum, err = endurance.Cumulative([]endurance.DayTask{{Index: driving.Index, Hours: driving.Task.Hours}, {Index: alone.Index, Hours: t.Hours}})
	}
	if err != nil {
		e.number(name, d.site, "", "-", "-", upperFirst(err.Error()), provenance.Provenance{})
		return
	}
	d.raised = d.raised || sum.Over
	e.number(name, d.site, "", provenance.Text(sum.Index, 1), "-", sum.Say, sum.Provenance)
}

// asked is an amount with its words.
type asked struct {
	access.Amount
	words string
}

// missing names the amounts that nobody gave.
func missing(list ...asked) string {
	var lacks say.Words
	for i := range list {
		if !list[i].Given {
			lacks = append(lacks, list[i].words)
		}
	}
	return say.List(lacks, ", ")
}

// lacks names what the strain index asks and nobody gave.
func (d *day) lacks() string {
	n := d.needs
	return missing(asked{access.Amount{Given: provenance.Measured(d.worst)}, "force in the needed directions"},
		asked{n.CommandsPerMin, "commands a minute"}, asked{n.SecondsPerCommand, "seconds a command"},
		asked{n.WristDeg, "the wrist's angle"}, asked{n.HoursDriving, "hours of driving a day"})
}
