package tablettest

import (
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"doorsill/internal/model"
)

// Entries are events that fold to a visit which has not been signed, with the
// stamps that its parts have. A mark that takes a reading or a run out stands at
// the end of the log: where it stood is not part of a visit.
func Entries(v *model.Visit) []model.Entry {
	l := entryList{subject: v.ID}
	l.add(v.Started, model.KindVisitStarted, model.VisitStarted{Client: v.Client, Team: v.Team, Checklist: v.Checklist, Unit: v.Unit, SecondOf: v.SecondOf})
	for i := range v.Answers {
		for j := range v.Answers[i].Heads {
			head := &v.Answers[i].Heads[j]
			l.apart = len(v.Answers[i].Heads) > 1
			l.add(head.Stamp, model.KindAnswerGiven, head.AnswerGiven)
			l.apart = false
		}
	}
	l.parts(v)
	slices.SortStableFunc(l.list, func(a, b model.Entry) int { return cmp.Compare(a.Pos, b.Pos) })
	l.home(v)
	l.marks(v)
	return l.list
}

type entryList struct {
	subject string
	list    []model.Entry
	// apart says that what is added had seen nothing that others wrote.
	apart bool
}

func (l *entryList) parts(v *model.Visit) {
	for i := range v.Readings {
		l.add(v.Readings[i].Stamp, model.KindReadingTaken, v.Readings[i].ReadingTaken)
	}
	for i := range v.Runs {
		l.add(v.Runs[i].Stamp, model.KindRunTimed, v.Runs[i].RunTimed)
	}
	for i := range v.Settings {
		l.add(v.Settings[i].Stamp, model.KindSettingChanged, v.Settings[i].SettingChanged)
	}
	for i := range v.Places {
		l.add(v.Places[i].Stamp, model.KindPlaceMeasured, v.Places[i].PlaceMeasured)
	}
	if v.Setup != nil {
		l.add(v.Setup.Stamp, model.KindSetupChosen, v.Setup.SetupChosen)
	}
	if v.Override != nil {
		l.add(v.Override.Stamp, model.KindOverrideMade, v.Override.OverrideMade)
	}
	if v.Needs != nil {
		l.add(v.Needs.Stamp, model.KindNeedsNoted, v.Needs.NeedsNoted)
	}
	if v.Chair != nil {
		l.add(v.Chair.Stamp, model.KindChairMeasured, v.Chair.ChairMeasured)
	}
}

// home adds what has no stamp in a visit.
func (l *entryList) home(v *model.Visit) {
	if len(v.Kit) > 0 {
		l.last(v.Started, model.KindKitPacked, model.KitPacked{Controls: v.Kit})
	}
	if len(v.Notes) > 0 {
		l.last(v.Started, model.KindVisitNoted, model.VisitNoted{Fields: v.Notes})
	}
}

func (l *entryList) marks(v *model.Visit) {
	for i := range v.Readings {
		r := &v.Readings[i]
		if r.Moved {
			l.last(r.Stamp, model.KindReadingMoved, model.ReadingMoved{Reading: r.Ref, Direction: r.Direction, State: r.State, Switch: r.Switch, Supported: r.Supported, Note: r.Note})
		}
		if r.Slip != "" {
			l.last(r.Stamp, model.KindReadingMarked, model.ReadingMarked{Reading: r.Ref, Slip: true, Reason: r.Slip})
		}
	}
	for i := range v.Runs {
		if r := &v.Runs[i]; r.Slip != "" {
			l.last(r.Stamp, model.KindRunMarked, model.RunMarked{Run: r.Ref, Slip: true, Reason: r.Slip})
		}
	}
}

// last adds an event after all others, by a tablet of its own.
func (l *entryList) last(said model.Stamp, kind string, body any) {
	said.Pos = l.list[len(l.list)-1].Pos + 1
	said.Ref = model.MakeRef("tab-last", said.Pos)
	l.add(said, kind, body)
}

func (l *entryList) add(said model.Stamp, kind string, body any) {
	tablet, number, _ := strings.Cut(string(said.Ref), ":")
	n, err := strconv.ParseInt(number, 10, 64)
	if err != nil {
		panic(fmt.Sprintf("tablettest: the ref %q: %v", said.Ref, err))
	}
	seen := said.Pos - 1
	if l.apart {
		seen = 0
	}
	raw, err := json.Marshal(model.Event{
		Tablet: tablet, N: n, Kind: kind, Subject: l.subject, Author: said.By,
		At: said.At, Zone: "Etc/UTC", Schema: model.SchemaNow, Seen: seen, Body: mustMarshal(body),
	})
	if err != nil {
		panic(fmt.Sprintf("tablettest: write %s: %v", kind, err))
	}
	l.list = append(l.list, model.Entry{Pos: said.Pos, Raw: raw})
}
