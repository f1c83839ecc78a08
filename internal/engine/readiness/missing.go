package readiness

import (
	"slices"

	"doorsill/internal/checklist"
	"doorsill/internal/message"
	"doorsill/internal/model"
)

// Groups of what is missing.
const (
	GroupFirst  = "first"  // must be known before anybody drives
	GroupStop   = "stop"   // can raise a STOP, so it must be known
	GroupNeeded = "needed" // the next level or the letter asks for it
	GroupUseful = "useful"
)

// Parts of a visit beside the checklist, as a WantedReading names them.
const (
	BlankConsent    = "consent"
	BlankStopHolder = "stop-holder"
	BlankHome       = "home"
	BlankMount      = "mount"
	BlankSettings   = "settings"
	BlankPlan       = "plan"
)

// blanks says to which group each of them belongs while it is blank; read only.
// Nobody drives without consent and a named person who can stop the chair; the
// others are in the letter. A chair may well be driven with its settings as they are.
var blanks = [...]struct{ what, group, say string }{
	{BlankConsent, GroupFirst, "readiness.lack-consent"},
	{BlankStopHolder, GroupFirst, "readiness.lack-stop-holder"},
	{BlankHome, GroupNeeded, "readiness.lack-home"},
	{BlankMount, GroupNeeded, "readiness.lack-mount"},
	{BlankPlan, GroupNeeded, "readiness.lack-plan"},
	{BlankSettings, GroupUseful, "readiness.lack-settings"},
}

// Lack is one thing that was not answered or measured.
type Lack struct {
	// Group is GroupFirst, GroupStop, GroupNeeded or GroupUseful.
	Group string
	// Item is a place in the checklist, or -1 when Reading says what to measure.
	Item    int
	Reading *model.WantedReading
	// Say says what is lacking and why.
	Say message.Message
}

// missing lists what is lacking: first what must be known before moving, then
// what can raise a STOP, then what is needed for the next level or for a letter,
// then the rest.
func (j *judge) missing() {
	for _, group := range [...]string{GroupFirst, GroupStop, GroupNeeded, GroupUseful} {
		if j.in.Setup == nil {
			j.lack(group, GroupFirst, -1, &model.WantedReading{What: "setup"}, message.New("readiness.lack-setup"))
		}
		for _, b := range blanks {
			if slices.Contains(j.in.Blank, b.what) {
				j.lack(group, b.group, -1, &model.WantedReading{What: b.what}, message.New(b.say))
			}
		}
		for i := range j.items {
			if j.Answers[i].State == NotTested && j.groupOf(i) == group {
				j.lack(group, group, i, nil, j.notTested(i))
			}
		}
		j.readings(group)
		if met, driven := j.runs(); !met {
			j.lack(group, GroupUseful, -1, &model.WantedReading{What: "run"}, driven)
		}
	}
}

// lack adds what belongs to the group that is being listed.
func (j *judge) lack(listed, group string, item int, reading *model.WantedReading, say message.Message) {
	if group == listed {
		j.Missing = append(j.Missing, Lack{group, item, reading, say})
	}
}

func (j *judge) groupOf(i int) string {
	it := &j.items[i]
	if it.BeforeMoving || it.ID == itemStop {
		return GroupFirst
	}
	if it.grave {
		return GroupStop
	}
	if it.Group == checklist.GroupNeed || it.ID == itemTeach || it.ID == itemLimits {
		return GroupNeeded
	}
	// Practise asks for no score, so below it Accompanied is looked at.
	next := max(j.Level+1, Accompanied)
	for _, g := range j.gated {
		if g.section == it.section && g.level <= next {
			return GroupNeeded
		}
	}
	for _, r := range j.Untested {
		if r.Item == i && limitOf(r.Effect) < next {
			return GroupNeeded
		}
	}
	return GroupUseful
}

// notTested says why an item counts as not tested.
func (j *judge) notTested(i int) message.Message {
	it, a := &j.items[i], &j.Answers[i]
	item, why := message.Word("item", it.ID), j.computedFrom(i)
	switch {
	case slices.Contains(j.in.Due, it.ID):
		return Due(it.ID)
	case slices.Contains(j.in.Unchosen, it.ID):
		return message.New("readiness.lack-chosen", item)
	case !why.Empty():
		return message.New("readiness.lack-computed", item, message.Inner("why", why))
	case a.na > 0:
		return message.New("readiness.lack-disagreed", item)
	}
	return message.New("readiness.lack-item", item)
}

// Due says that an item must be shown again. The checklist need not have it.
func Due(id string) message.Message {
	return message.New("readiness.due", message.Word("item", id))
}
