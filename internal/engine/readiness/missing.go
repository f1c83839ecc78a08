package readiness

import (
	"slices"

	"doorsill/internal/engine/say"
	"doorsill/internal/engine/strength"
)

// Groups of what is missing.
const (
	GroupStop   = "stop"   // can raise a STOP, so it must be known first
	GroupNeeded = "needed" // the next level or the letter asks for it
	GroupUseful = "useful"
)

// Lack is one thing that was not answered or measured.
type Lack struct {
	Group string
	// Item is a place in the checklist, or -1 when Reading names what to
	// measure: "force", a site and a direction parted by colons, "setup" or
	// "run".
	Item    int
	Reading string
	Say     string
}

// missing lists what is lacking: first what can raise a STOP, then what is
// needed for the next level or for a letter, then the rest.
func (j *judge) missing() {
	for _, group := range [...]string{GroupStop, GroupNeeded, GroupUseful} {
		if j.in.Setup == nil {
			j.lack(group, GroupNeeded, -1, "setup", "Choose a control, a site and what the control asks.")
		}
		for i := range j.items {
			if j.Answers[i].State == NotTested && j.groupOf(i) == group {
				j.lack(group, group, i, "", j.lackSentence(i))
			}
		}
		j.readings(group)
		if met, driven := j.runs(); !met {
			j.lack(group, GroupUseful, -1, "run", driven)
		}
	}
}

// lack adds what belongs to the group that is being listed.
func (j *judge) lack(listed, group string, item int, reading, sentence string) {
	if group == listed {
		j.Missing = append(j.Missing, Lack{group, item, reading, sentence})
	}
}

func (j *judge) groupOf(i int) string {
	it := &j.items[i]
	if it.grave {
		return GroupStop
	}
	if it.Needed || it.ID == itemTeach || it.ID == itemLimits {
		return GroupNeeded
	}
	// Practise asks for no score, so below it Accompanied is looked at.
	next := max(j.Level+1, Accompanied)
	for _, g := range j.gated {
		if g.section == it.section && g.level <= next {
			return GroupNeeded
		}
	}
	return GroupUseful
}

func (j *judge) lackSentence(i int) string {
	it, a := &j.items[i], &j.Answers[i]
	switch {
	case slices.Contains(j.in.Due, it.ID):
		return DueSentence(it.Title)
	case a.Computed && a.Say != "":
		return say.Line("{}: {}", say.Words{it.Title, a.Say})
	case a.na > 0:
		return it.Title + ": people do not agree whether it applies; it counts as not tested until somebody chooses."
	}
	return it.Title + ": not tested."
}

// DueSentence says that something must be shown again.
func DueSentence(what string) string {
	return say.Line("{}: due again, because a setting was changed since. It counts as not tested until it is shown anew.", say.Words{what})
}

// readings asks for force readings in each needed direction at the chosen site.
func (j *judge) readings(listed string) {
	if j.in.Setup == nil || j.in.Setup.OperateGF == 0 {
		return
	}
	site := j.in.Analysis.At(j.in.Setup.Site)
	for _, d := range j.in.Setup.Needed {
		pair, group, lacks := &site.Force[d], GroupUseful, ""
		switch {
		case !pair.Measured():
			group, lacks = GroupNeeded, "no reading yet; three are wanted, rested and tired"
		case pair.Tired.N == 0:
			lacks = "no reading when tired, so a part of the rested force is assumed"
		case !pair.UsableRepeats().Enough():
			lacks = "fewer than three readings"
		}
		if lacks != "" && group == listed {
			words := say.Words{d.String(), strength.SiteWords(site.ID), lacks}
			j.lack(listed, group, -1, say.Line("force:{}:{}", say.Words{site.ID, d.String()}), say.Line("Force {} at the {}: {}.", words))
		}
	}
}
