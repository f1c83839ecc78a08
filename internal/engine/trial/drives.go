package trial

import (
	"slices"

	"doorsill/internal/message"
	"doorsill/internal/model"
	"doorsill/internal/validation"
)

// With parts the runs that were driven with a control at a site from those that
// were driven with others.
func With(runs []model.Run, use model.InUse) (own, others []model.Run) {
	for i := range runs {
		if runs[i].InUse().Same(use) {
			own = append(own, runs[i])
		} else {
			others = append(others, runs[i])
		}
	}
	return own, others
}

// LeaveOut notes the runs that were driven with other controls.
func (f *Findings) LeaveOut(runs []model.Run) {
	if n := len(drives(runs)); n > 0 {
		f.Notes = append(f.Notes, message.New("trial.other-control", message.Count("n", n)))
	}
}

// drive is one drive as one or several people tallied it.
type drive struct {
	model.Run
	by         []string
	start, end int64
	timed      bool
}

// drives puts the tallies of one drive by several people together: of each count
// the higher stands, over the shorter way and time, since who counted less missed
// something. Two tallies are of one drive when two people made them in the same
// place with the same control, and their times overlap for at least half of the
// shorter. Nobody is rested and tired at once, so it is rested where one says so. A tally is saved when its drive ends. Slips are left out.
func drives(runs []model.Run) []drive {
	var list []drive
next:
	for i := range runs {
		if runs[i].Slip != "" {
			continue
		}
		d := driveOf(&runs[i])
		for j := range list {
			if list[j].same(&d) {
				list[j].merge(&d)
				continue next
			}
		}
		list = append(list, d)
	}
	return list
}

func driveOf(r *model.Run) drive {
	d := drive{Run: *r, by: []string{r.By}}
	const millisecond = 1000
	d.end, d.timed = validation.InstantOf(r.At)
	d.start = d.end - int64(r.Seconds*millisecond)
	return d
}

func (d *drive) same(other *drive) bool {
	if !d.timed || !other.timed || other.By == "" || slices.Contains(d.by, other.By) {
		return false
	}
	if d.Place != other.Place || !d.InUse().Same(other.InUse()) {
		return false
	}
	overlap := min(d.end, other.end) - max(d.start, other.start)
	shorter := min(d.end-d.start, other.end-other.start)
	return overlap > 0 && 2*overlap >= shorter
}

func (d *drive) merge(other *drive) {
	d.by = append(d.by, other.By)
	if other.State == model.FatigueRested {
		d.State = other.State
	}
	d.Seconds, d.Metres = least(d.Seconds, other.Seconds), least(d.Metres, other.Metres)
	d.Things, d.People = max(d.Things, other.Things), max(d.People, other.People)
	d.Prompts, d.Rescues = max(d.Prompts, other.Prompts), max(d.Rescues, other.Rescues)
	d.Unmeant, d.Presses = max(d.Unmeant, other.Unmeant), max(d.Presses, other.Presses)
}

// least is the smaller of two amounts, of which 0 was not measured.
func least(a, b float64) float64 {
	if a == 0 || b == 0 {
		return max(a, b)
	}
	return min(a, b)
}
