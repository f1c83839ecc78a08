package record

import (
	"maps"
	"slices"
	"strings"
)

// FoldControl turns a control's entries into what the team knows of it, like
// FoldClient. The last listing counts; ID is empty when there is none.
func FoldControl(entries []Entry) (Control, error) {
	var control Control
	err := eachInOrder(entries, func(pos int64, event *Event, body Body) {
		if listed, is := body.(*ControlListed); is {
			control = Control{ID: event.Subject, Stamp: stamp(pos, event), ControlListed: *listed}
		}
	})
	return control, err
}

// applyKit takes what concerns the kit, the home and the settings.
func (f *VisitFold) applyKit(said Stamp, body Body) {
	v := &f.visit
	switch b := body.(type) {
	case *KitPacked:
		v.Kit = b.Controls
	case *NeedsNoted:
		if v.Needs == nil {
			v.Needs = &Needs{}
		}
		v.Needs.Stamp = said
		v.Needs.add(b)
	case *NeedsUnset:
		if v.Needs != nil {
			v.Needs.Stamp = said
			for _, field := range b.Fields {
				v.Needs.unset(field)
			}
			if v.Needs.empty() {
				v.Needs = nil
			}
		}
	case *ChairMeasured:
		v.Chair = &Chair{said, *b}
	case *PlaceMeasured:
		f.place(Place{said, *b})
	case *SettingChanged:
		v.Settings = append(v.Settings, Setting{said, *b, f.tried[said.Ref]})
		f.retest(said, b.Key)
	case *SettingTried:
		f.try(Tried{said, *b})
	case *MountNoted:
		v.Mount = &Mount{said, *b}
	}
}

// try keeps how a change went, also for a change that comes later in order.
func (f *VisitFold) try(t Tried) {
	f.tried[t.Setting] = &t
	for i := range f.visit.Settings {
		if f.visit.Settings[i].Ref == t.Setting {
			f.visit.Settings[i].Tried = &t
		}
	}
}

// place puts a passage in the place of the one with the same id.
func (f *VisitFold) place(p Place) {
	at := slices.IndexFunc(f.places, func(had Place) bool { return had.Place == p.Place })
	if at < 0 {
		f.places = append(f.places, p)
		return
	}
	f.places[at] = p
}

// retest marks what a change of a setting makes due again.
func (f *VisitFold) retest(said Stamp, key string) {
	if !slices.Contains(Retests(), key) {
		return
	}
	f.changed = append(f.changed, said)
	for i := range f.visit.Readings {
		if r := &f.visit.Readings[i]; r.What == ReadRelease {
			r.Due = true
		}
	}
	at, there := f.items[ItemStopCall]
	if !there {
		return
	}
	heads := slices.Clone(f.visit.Answers[at].Heads)
	for i := range heads {
		heads[i].Due = heads[i].retested()
	}
	f.visit.Answers[at].Heads = heads
}

// overtaken says whether another tablet had changed a setting without this
// statement having seen it: it may be from before the change. A tablet's own
// statements are in the order in which they were made.
func (f *VisitFold) overtaken(said Stamp, seen int64) bool {
	tablet := said.Ref.Tablet()
	return slices.ContainsFunc(f.changed, func(change Stamp) bool {
		return change.Ref.Tablet() != tablet && (change.Pos == 0 || change.Pos > seen)
	})
}

// retested says whether a change of a setting makes the answer due again.
func (g *Given) retested() bool { return g.Item == ItemStopCall && g.State == StateAnswered }

// add takes what is named; the rest stays.
func (n *NeedsNoted) add(b *NeedsNoted) {
	lay(&n.RoughGround, b.RoughGround)
	lay(&n.HelperDrives, b.HelperDrives)
	lay(&n.ReverseKey, b.ReverseKey)
	lay(&n.Blocked, b.Blocked)
	lay(&n.HoursDriving, b.HoursDriving)
	lay(&n.CommandsPerMin, b.CommandsPerMin)
	lay(&n.SecondsPerCommand, b.SecondsPerCommand)
	lay(&n.WristDeg, b.WristDeg)
	lay(&n.TaskShare, b.TaskShare)
	lay(&n.TaskPerMin, b.TaskPerMin)
	lay(&n.TaskSeconds, b.TaskSeconds)
	lay(&n.TaskWristDeg, b.TaskWristDeg)
	lay(&n.TaskHours, b.TaskHours)
	lay(&n.WaitWeeks, b.WaitWeeks)
	layText(&n.Base, b.Base)
	layText(&n.Course, b.Course)
	layText(&n.WishSite, b.WishSite)
	layText(&n.WishControl, b.WishControl)
	for site, moisture := range b.Moisture {
		put(&n.Moisture, []byte(site), moisture)
	}
	for site, reason := range b.Rejected {
		if reason == "" {
			delete(n.Rejected, site)
		} else {
			put(&n.Rejected, []byte(site), reason)
		}
	}
}

// bySite begins the name of a moisture that is unset.
const bySite = "moisture."

// unset makes a field not known again.
func (n *NeedsNoted) unset(field string) {
	switch field {
	case "rough_ground":
		n.RoughGround = nil
	case "helper_drives":
		n.HelperDrives = nil
	case "reverse_key":
		n.ReverseKey = nil
	case "blocked":
		n.Blocked = nil
	case "base":
		n.Base = ""
	case "course":
		n.Course = ""
	case "wish_site":
		n.WishSite = ""
	case "wish_control":
		n.WishControl = ""
	default:
		if site, is := strings.CutPrefix(field, bySite); is {
			delete(n.Moisture, site)
		} else if at := n.count(field); at != nil {
			*at = nil
		}
	}
}

// count is the place of a number that may be absent, nil for another field.
func (n *NeedsNoted) count(field string) **float64 {
	switch field {
	case "hours_driving":
		return &n.HoursDriving
	case "commands_per_min":
		return &n.CommandsPerMin
	case "seconds_per_command":
		return &n.SecondsPerCommand
	case "wrist_deg":
		return &n.WristDeg
	case "task_share":
		return &n.TaskShare
	case "task_per_min":
		return &n.TaskPerMin
	case "task_seconds":
		return &n.TaskSeconds
	case "task_wrist_deg":
		return &n.TaskWristDeg
	case "task_hours":
		return &n.TaskHours
	case "wait_weeks":
		return &n.WaitWeeks
	}
	return nil
}

func lay[T any](dst **T, given *T) {
	if given != nil {
		*dst = given
	}
}

func layText(dst *string, given string) {
	if given != "" {
		*dst = given
	}
}

// clone lets the fold go on without changing what it gave out.
func (n *Needs) clone() *Needs {
	copied := *n
	copied.Moisture = maps.Clone(n.Moisture)
	copied.Rejected = maps.Clone(n.Rejected)
	return &copied
}
