package engine

import (
	"slices"

	"doorsill/internal/engine/endurance"
	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
	"doorsill/internal/model"
)

// strain gives the strain index, for forearm to finger, as if every command
// asked as much as the worst direction; and what another task of the same hand
// adds to it.
func (b *builder) strain(d *day) {
	if !endurance.Distal(d.site) {
		if hasTask(d.needs) {
			b.unlimited("strain-cumulative", d.site, "", message.New("endurance.task-of-another-limb"))
		}
		return
	}
	if lacks := d.lacks(); len(lacks) > 0 {
		b.unlimited("strain-index", d.site, "", message.New("endurance.strain-lacks", message.Words("lacks", lacks)))
		return
	}
	if d.worst > 1 {
		b.unlimited("strain-index", d.site, "", message.New("endurance.strain-too-much"))
		return
	}
	t := bent(endurance.Task{Site: d.site, Share: d.worst, PerMinute: *d.needs.CommandsPerMin, Seconds: *d.needs.SecondsPerCommand,
		Hours: *d.needs.HoursDriving}, *d.needs.WristDeg)
	s, err := endurance.StrainIndex(t)
	if err != nil {
		b.unlimited("strain-index", d.site, "", provenance.Sentence(err))
		return
	}
	d.raised = d.raised || s.Over
	b.limit(assumed("strain-index", d.site, "", rounded(s.Index, 1), s.Say), s.Provenance)
	b.secondTask(d, s)
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
func (b *builder) secondTask(d *day, driving endurance.Strain) {
	n := d.needs
	if !hasTask(n) {
		return
	}
	name := "strain-composite"
	if n.TaskHours != nil {
		name = "strain-cumulative"
	}
	if lacks := missing(asked{n.TaskShare, "task-share"}, asked{n.TaskPerMin, "task-commands-a-minute"},
		asked{n.TaskSeconds, "task-seconds-a-command"}, asked{n.TaskWristDeg, "wrist-angle"}); len(lacks) > 0 {
		b.unlimited(name, d.site, "", message.New("endurance.task-lacks", message.Words("lacks", lacks)))
		return
	}
	const percent = 100
	t := bent(endurance.Task{Site: d.site, Share: provenance.Round(*n.TaskShare/percent, 4), PerMinute: *n.TaskPerMin,
		Seconds: *n.TaskSeconds, Hours: driving.Task.Hours}, *n.TaskWristDeg)
	if n.TaskHours != nil {
		t.Hours = *n.TaskHours
	}
	alone, err := endurance.StrainIndex(t)
	if err != nil {
		b.unlimited(name, d.site, "", message.New("endurance.task-refused", message.Inner("why", provenance.MessageOf(err))))
		return
	}
	b.limit(assumed("strain-index-task", d.site, "", rounded(alone.Index, 1), message.New("endurance.task-alone", message.Inner("strain", alone.Say))), alone.Provenance)
	sum, err := endurance.Composite([]endurance.Task{driving.Task, t})
	if n.TaskHours != nil {
		sum, err = endurance.Cumulative([]endurance.DayTask{{Index: driving.Index, Hours: driving.Task.Hours}, {Index: alone.Index, Hours: t.Hours}})
	}
	if err != nil {
		b.unlimited(name, d.site, "", provenance.Sentence(err))
		return
	}
	d.raised = d.raised || sum.Over
	b.limit(assumed(name, d.site, "", rounded(sum.Index, 1), sum.Say), sum.Provenance)
}

// hasTask reports whether anything is known of another task of the hand.
func hasTask(n *model.NeedsNoted) bool {
	return n.TaskShare != nil || n.TaskPerMin != nil || n.TaskSeconds != nil || n.TaskWristDeg != nil || n.TaskHours != nil
}

// asked is a number with its id among what the strain index needs.
type asked struct {
	number *float64
	id     string
}

// missing returns the ids of the numbers that nobody gave.
func missing(list ...asked) []string {
	var lacks []string
	for i := range list {
		if list[i].number == nil {
			lacks = append(lacks, list[i].id)
		}
	}
	return lacks
}

// lacksOfDuty returns the ids of what the part of the time with force on asks
// and nobody gave.
func (d *day) lacksOfDuty() []string {
	return missing(asked{d.needs.CommandsPerMin, "commands-a-minute"}, asked{d.needs.SecondsPerCommand, "seconds-a-command"})
}

// lacks returns the ids of what the strain index asks and nobody gave.
func (d *day) lacks() []string {
	n := d.needs
	lacks := missing(asked{n.CommandsPerMin, "commands-a-minute"}, asked{n.SecondsPerCommand, "seconds-a-command"},
		asked{n.WristDeg, "wrist-angle"}, asked{n.HoursDriving, "hours-of-driving"})
	if !provenance.Measured(d.worst) {
		return slices.Insert(lacks, 0, "force")
	}
	return lacks
}
