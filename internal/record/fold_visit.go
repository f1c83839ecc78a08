package record

import (
	"cmp"
	"maps"
	"slices"

	"doorsill/internal/model"
)

// VisitFold is a visit's fold under way. Events must be added in order.
type VisitFold struct {
	// logs say where what an event had seen counts.
	logs  model.Logs
	visit model.Visit
	// items finds an item's place in visit.Answers while it is unsorted.
	items map[string]int
	// answered are the items of all answers, also of those that were replaced.
	answered map[model.Ref]string
	// readings finds a reading's place in visit.Readings.
	readings map[model.Ref]int
	// places are all passages, also those taken out.
	places []model.Place
	// changed are the changes of settings that make stopping due again.
	changed []model.Stamp
	// tried keeps how changes of settings went, also of those that have not
	// come yet.
	tried map[model.Ref]*model.Tried
	// runs finds a run's place in visit.Runs.
	runs map[model.Ref]int
	// slips and runSlips keep marks of readings and runs, also of those that
	// have not come yet.
	slips, runSlips map[model.Ref]string
	// moves keeps where readings belong, also of those that have not come yet.
	moves map[model.Ref]*model.ReadingMoved
}

// NewVisitFold starts a fold of events that have their positions from a log.
func NewVisitFold(logs model.Logs) *VisitFold {
	return &VisitFold{
		logs: logs,
		visit: model.Visit{
			Notes: map[string]string{}, Answers: []model.Answer{}, Readings: []model.Reading{},
			Runs: []model.Run{}, Amendments: []model.Amendment{},
		},
		items:    make(map[string]int),
		answered: make(map[model.Ref]string),
		readings: make(map[model.Ref]int),
		runs:     make(map[model.Ref]int),
		slips:    make(map[model.Ref]string),
		runSlips: make(map[model.Ref]string),
		tried:    make(map[model.Ref]*model.Tried),
		moves:    make(map[model.Ref]*model.ReadingMoved),
	}
}

// Add takes the next event; body is nil when it can not be read, which is
// counted. After the signature only amendments change anything.
func (f *VisitFold) Add(pos int64, event *model.Event, body model.Body) {
	said := stamp(pos, event)
	switch b := body.(type) {
	case nil:
		f.visit.Unknown++
	case *model.AmendmentMade:
		f.amend(said, event, b)
	default:
		if f.visit.Signed == nil {
			f.apply(said, event, b)
		}
	}
}

// Signed says whether the visit has been signed.
func (f *VisitFold) Signed() bool { return f.visit.Signed != nil }

// Amended says whether the visit was changed after it was signed.
func (f *VisitFold) Amended() bool { return len(f.visit.Amendments) > 0 }

// Reading finds a reading of the visit.
func (f *VisitFold) Reading(ref model.Ref) (model.Reading, bool) {
	at, there := f.readings[ref]
	if !there {
		return model.Reading{}, false
	}
	return f.visit.Readings[at], true
}

// Run finds a run of the visit.
func (f *VisitFold) Run(ref model.Ref) (model.Run, bool) {
	at, there := f.runs[ref]
	if !there {
		return model.Run{}, false
	}
	return f.visit.Runs[at], true
}

// Answered returns the item that an event of the visit answered, also when
// another answer has replaced it.
func (f *VisitFold) Answered(ref model.Ref) (item string, there bool) {
	item, there = f.answered[ref]
	return item, there
}

// Setting finds a change of a setting of the visit.
func (f *VisitFold) Setting(ref model.Ref) (model.Setting, bool) {
	for _, one := range f.visit.Settings {
		if one.Ref == ref {
			return one, true
		}
	}
	return model.Setting{}, false
}

// StartedBy is the person who started the visit.
func (f *VisitFold) StartedBy() string { return f.visit.Started.By }

// Visit is the visit as it stands. More events may be added afterwards.
func (f *VisitFold) Visit() model.Visit {
	visit := f.visit
	visit.Notes = maps.Clone(f.visit.Notes)
	visit.Answers = slices.Clone(f.visit.Answers)
	slices.SortFunc(visit.Answers, func(a, b model.Answer) int { return cmp.Compare(a.Item, b.Item) })
	visit.Readings = slices.Clone(f.visit.Readings)
	visit.Runs = slices.Clone(f.visit.Runs)
	visit.Settings = slices.Clone(f.visit.Settings)
	for _, place := range f.places {
		if !place.Gone {
			visit.Places = append(visit.Places, place)
		}
	}
	if visit.Needs != nil {
		needs := model.Needs{Stamp: visit.Needs.Stamp, NeedsNoted: visit.Needs.Clone()}
		visit.Needs = &needs
	}
	return visit
}

func (f *VisitFold) apply(said model.Stamp, event *model.Event, body model.Body) {
	v := &f.visit
	switch b := body.(type) {
	case *model.VisitStarted:
		f.start(said, event, b)
	case *model.VisitNoted:
		maps.Copy(v.Notes, b.Fields)
	case *model.AnswerGiven:
		f.answer(said, f.logs.Seen(event, said.Pos), b)
	case *model.AnswerChosen:
		f.choose(event, b)
	case *model.ReadingTaken:
		f.readings[said.Ref] = len(v.Readings)
		due := model.Stops(b.What) && f.overtaken(said, f.logs.Seen(event, said.Pos))
		reading := model.Reading{Stamp: said, ReadingTaken: *b, Slip: f.slips[said.Ref], Due: due}
		reading.Assume(f.inUse())
		v.Readings = append(v.Readings, moved(reading, f.moves[said.Ref]))
	case *model.ReadingMarked:
		f.mark(b)
	case *model.ReadingMoved:
		f.move(b)
	case *model.RunTimed:
		f.runs[said.Ref] = len(v.Runs)
		run := model.Run{Stamp: said, RunTimed: *b, Slip: f.runSlips[said.Ref]}
		run.Assume(f.inUse())
		v.Runs = append(v.Runs, run)
	case *model.RunMarked:
		f.markRun(b)
	case *model.SetupChosen:
		f.choosing(said, b)
	case *model.PlanAgreed:
		v.Plan = &model.Plan{Stamp: said, PlanAgreed: *b}
	case *model.OverrideMade:
		v.Override = &model.Override{Stamp: said, OverrideMade: *b}
	case *model.VisitSigned:
		v.Signed = &model.Signature{Stamp: said, VisitSigned: *b}
	default:
		f.applyKit(said, body)
	}
}

func (f *VisitFold) start(said model.Stamp, event *model.Event, b *model.VisitStarted) {
	v := &f.visit
	if v.ID != "" {
		return
	}
	v.ID, v.Client, v.Team = event.Subject, b.Client, b.Team
	v.Checklist, v.Unit, v.Started, v.SecondOf = b.Checklist, b.Unit, said, b.SecondOf
}

// answer puts an answer beside those that its author had not seen, in place of
// those that it replaces: all of its own tablet, and those that it names. One
// that names none because it is from before answers did replaces all that stood in
// the log up to the position that the tablet had pulled.
func (f *VisitFold) answer(said model.Stamp, seen int64, b *model.AnswerGiven) {
	given := model.Given{Stamp: said, AnswerGiven: *b}
	given.Due = retested(&given) && f.overtaken(said, seen)
	given.Assume(f.inUse())
	f.answered[said.Ref] = b.Item
	at, there := f.items[b.Item]
	if !there {
		f.items[b.Item] = len(f.visit.Answers)
		f.visit.Answers = append(f.visit.Answers, model.Answer{Item: b.Item, Heads: []model.Given{given}})
		return
	}
	tablet := said.Ref.Tablet()
	answer := &f.visit.Answers[at]
	heads := make([]model.Given, 0, len(answer.Heads)+1)
	others := slices.DeleteFunc(slices.Clone(answer.Others), func(other model.Given) bool { return other.InUse() == given.InUse() })
	for _, head := range answer.Heads {
		known := slices.Contains(b.Replaces, head.Ref)
		if b.Replaces == nil {
			known = head.Pos != 0 && head.Pos <= seen
		}
		switch {
		case !known && head.Ref.Tablet() != tablet:
			heads = append(heads, head)
		case given.OfControl() && !head.InUse().Same(given.InUse()):
			others = append(others, head)
		}
	}
	answer.Heads, answer.Others = append(heads, given), others
}

// choosing takes a set-up. What was said before the first one without naming a
// control is of that one; later entries that name none are of the set-up that
// stands.
func (f *VisitFold) choosing(said model.Stamp, b *model.SetupChosen) {
	v := &f.visit
	first := v.Setup == nil
	v.Setup = &model.Setup{Stamp: said, SetupChosen: b.Sane()}
	if !first {
		return
	}
	for i := range v.Readings {
		v.Readings[i].Assume(b.InUse())
	}
	for i := range v.Runs {
		v.Runs[i].Assume(b.InUse())
	}
	for i := range v.Answers {
		heads := slices.Clone(v.Answers[i].Heads)
		for j := range heads {
			heads[j].Assume(b.InUse())
		}
		v.Answers[i].Heads = heads
	}
}

// inUse is the control and site of the set-up that stands, or nothing.
func (f *VisitFold) inUse() model.InUse {
	if f.visit.Setup == nil {
		return model.InUse{}
	}
	return f.visit.Setup.InUse()
}

// choose takes away the answers that yield; one that nobody chose about stays.
// Where the answer that was kept does not stand, because its author gave another
// one or a restored server does not have it yet, nothing yields to it. A choice
// from before events named their log counts all the same, unless nothing would be
// left: it is signed like that.
func (f *VisitFold) choose(event *model.Event, b *model.AnswerChosen) {
	at, there := f.items[b.Item]
	if !there {
		return
	}
	var heads []model.Given
	kept := event.Log == ""
	for _, head := range f.visit.Answers[at].Heads {
		kept = kept || head.Ref == b.Keep
		if !slices.Contains(b.Drop, head.Ref) {
			heads = append(heads, head)
		}
	}
	if kept && len(heads) > 0 {
		f.visit.Answers[at].Heads = heads
	}
}

func (f *VisitFold) mark(b *model.ReadingMarked) {
	reason := slipReason(b.Slip, b.Reason)
	f.slips[b.Reading] = reason
	if at, there := f.readings[b.Reading]; there {
		f.visit.Readings[at].Slip = reason
	}
}

// move puts a reading where it belongs.
func (f *VisitFold) move(b *model.ReadingMoved) {
	f.moves[b.Reading] = b
	if at, there := f.readings[b.Reading]; there {
		f.visit.Readings[at] = moved(f.visit.Readings[at], b)
	}
}

// moved is a reading in its new place. It stays where it is without one, and where
// a reading of its kind can not be.
func moved(r model.Reading, to *model.ReadingMoved) model.Reading {
	if to == nil {
		return r
	}
	taken := to.Of(r.ReadingTaken)
	if taken.Check() != nil {
		return r
	}
	r.ReadingTaken, r.Moved = taken, true
	return r
}

func (f *VisitFold) markRun(b *model.RunMarked) {
	reason := slipReason(b.Slip, b.Reason)
	f.runSlips[b.Run] = reason
	if at, there := f.runs[b.Run]; there {
		f.visit.Runs[at].Slip = reason
	}
}

// slipReason is what a mark leaves at what it marks: nothing when it takes it
// back in.
func slipReason(slip bool, reason string) string {
	if slip {
		return reason
	}
	return ""
}

// amend applies the change that an amendment carries, under the amendment's
// own stamp.
func (f *VisitFold) amend(said model.Stamp, event *model.Event, b *model.AmendmentMade) {
	inner, err := ReadChange(b)
	if err != nil || inner == nil {
		f.visit.Unknown++
		return
	}
	f.apply(said, event, inner)
	note := model.Amendment{Stamp: said, Reason: b.Reason, Kind: b.Kind}
	switch change := inner.(type) {
	case *model.AnswerGiven:
		note.Item = change.Item
	case *model.AnswerChosen:
		note.Item = change.Item
	}
	f.visit.Amendments = append(f.visit.Amendments, note)
}
