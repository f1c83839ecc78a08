package record

import (
	"slices"

	"doorsill/internal/model"
)

// FoldControl turns a control's entries into what the team knows of it, like
// FoldClient. The last listing counts; ID is empty when there is none.
func FoldControl(entries []model.Entry) (model.Control, error) {
	var control model.Control
	err := eachInOrder(entries, func(pos int64, event *model.Event, body model.Body) {
		if listed, is := body.(*model.ControlListed); is {
			control = model.Control{ID: event.Subject, Stamp: stamp(pos, event), ControlListed: *listed}
		}
	})
	return control, err
}

// applyKit takes what concerns the kit, the home and the settings.
func (f *VisitFold) applyKit(said model.Stamp, body model.Body) {
	v := &f.visit
	switch b := body.(type) {
	case *model.KitPacked:
		v.Kit = b.Controls
	case *model.NeedsNoted:
		if v.Needs == nil {
			v.Needs = &model.Needs{}
		}
		v.Needs.Stamp = said
		v.Needs.Merge(b)
	case *model.NeedsUnset:
		if v.Needs != nil {
			v.Needs.Stamp = said
			for _, field := range b.Fields {
				v.Needs.Unset(field)
			}
			if v.Needs.Empty() {
				v.Needs = nil
			}
		}
	case *model.ChairMeasured:
		v.Chair = &model.Chair{Stamp: said, ChairMeasured: *b}
	case *model.PlaceMeasured:
		f.place(model.Place{Stamp: said, PlaceMeasured: *b})
	case *model.SettingChanged:
		v.Settings = append(v.Settings, model.Setting{Stamp: said, SettingChanged: *b, Tried: f.tried[said.Ref]})
		f.retest(said, b.Key)
	case *model.SettingTried:
		f.try(model.Tried{Stamp: said, SettingTried: *b})
	case *model.MountNoted:
		v.Mount = &model.Mount{Stamp: said, MountNoted: *b}
	}
}

// try keeps how a change went, also for a change that comes later in order.
func (f *VisitFold) try(t model.Tried) {
	f.tried[t.Setting] = &t
	for i := range f.visit.Settings {
		if f.visit.Settings[i].Ref == t.Setting {
			f.visit.Settings[i].Tried = &t
		}
	}
}

// place puts a passage in the place of the one with the same id.
func (f *VisitFold) place(p model.Place) {
	at := slices.IndexFunc(f.places, func(had model.Place) bool { return had.Place == p.Place })
	if at < 0 {
		f.places = append(f.places, p)
		return
	}
	f.places[at] = p
}

// retest marks what a change of a setting makes due again.
func (f *VisitFold) retest(said model.Stamp, key string) {
	if !slices.Contains(model.Retests(), key) {
		return
	}
	f.changed = append(f.changed, said)
	for i := range f.visit.Readings {
		if r := &f.visit.Readings[i]; model.Stops(r.What) {
			r.Due = true
		}
	}
	at, there := f.items[model.ItemStopCall]
	if !there {
		return
	}
	heads := slices.Clone(f.visit.Answers[at].Heads)
	for i := range heads {
		heads[i].Due = retested(&heads[i])
	}
	f.visit.Answers[at].Heads = heads
}

// overtaken says whether another tablet had changed a setting without this
// statement having seen it: it may be from before the change. A tablet's own
// statements are in the order in which they were made.
func (f *VisitFold) overtaken(said model.Stamp, seen int64) bool {
	tablet := said.Ref.Tablet()
	return slices.ContainsFunc(f.changed, func(change model.Stamp) bool {
		return change.Ref.Tablet() != tablet && (change.Pos == 0 || change.Pos > seen)
	})
}

// retested says whether a change of a setting makes the answer due again.
func retested(g *model.Given) bool {
	return g.Item == model.ItemStopCall && g.State == model.StateAnswered
}
