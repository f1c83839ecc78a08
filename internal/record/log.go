package record

import (
	"cmp"
	"slices"
	"strconv"

	"doorsill/internal/model"
)

// Log holds the entries of one subject in order, each once: first those that the
// server placed, by position, then those that wait on a tablet, by number. The
// zero value is ready.
type Log struct {
	list []placed
	// at is where each event stands in the log, by what names it.
	at map[number]int64
	// broken are the entries that are not events, as they came.
	broken map[string]bool
}

// placed is a decoded entry.
type placed struct {
	pos   int64
	event model.Event
}

// number names an event for ever, as a model.Ref does.
type number struct {
	tablet string
	n      int64
}

func (p *placed) number() number { return number{p.event.Tablet, p.event.N} }

// Add takes entries in whatever order. One that is there already counts once: by
// its lowest position, and as placed rather than waiting. Add returns how many
// events at the start of the log are as they were before. The error names the
// first entry that is not an event; the others are taken all the same.
//
// The log keeps pointing into the bytes of the entries.
func (l *Log) Add(entries []model.Entry) (same int, err error) {
	before, moved := len(l.list), false
	if l.at == nil {
		l.at = make(map[number]int64, len(entries))
	}
	l.list = slices.Grow(l.list, len(entries))
	for i := range entries {
		p := placed{pos: entries[i].Pos}
		if bad := readEvent(&p.event, entries[i].Raw); bad != nil {
			l.setBroken(entries[i].Raw)
			if err == nil {
				err = &entryError{p.pos, bad}
			}
			continue
		}
		pos, held := l.at[p.number()]
		if held && (pos == p.pos || p.pos == 0) {
			continue
		}
		moved = moved || held
		l.at[p.number()] = p.pos
		l.list = append(l.list, p)
	}
	return l.order(before, moved), err
}

// order brings what was added behind the first events into its place; moved says
// that some of it is there twice.
func (l *Log) order(before int, moved bool) (same int) {
	if !moved && slices.IsSortedFunc(l.list[max(0, before-1):], compare) {
		return before
	}
	slices.SortStableFunc(l.list, compare)
	clear(l.at)
	l.list = slices.DeleteFunc(l.list, func(p placed) bool {
		if _, held := l.at[p.number()]; held {
			return true
		}
		l.at[p.number()] = p.pos
		return false
	})
	return 0
}

func (l *Log) setBroken(raw []byte) {
	if l.broken == nil {
		l.broken = make(map[string]bool)
	}
	l.broken[string(raw)] = true
}

// Len is how many entries the log holds, also those that are not events.
func (l *Log) Len() int { return len(l.list) + len(l.broken) }

// Broken is how many entries are not events.
func (l *Log) Broken() int { return len(l.broken) }

// Newer is how many events a newer version wrote; see model.Event.Known.
func (l *Log) Newer() int {
	count := 0
	for i := range l.list {
		if !l.list[i].event.Known() {
			count++
		}
	}
	return count
}

// Each hands the events from a place on with their bodies to add. A body that can
// not be read is nil.
func (l *Log) Each(from int, add func(pos int64, event *model.Event, body model.Body)) {
	for i := range l.list[from:] {
		p := &l.list[from+i]
		body, err := ReadBody(&p.event)
		if err != nil {
			body = nil
		}
		add(p.pos, &p.event, body)
	}
}

// compare puts placed entries first, by position, then waiting ones by number.
func compare(a, b placed) int {
	if (a.pos == 0) != (b.pos == 0) {
		return cmp.Compare(b.pos, a.pos)
	}
	return cmp.Or(
		cmp.Compare(a.pos, b.pos),
		cmp.Compare(a.event.N, b.event.N),
		cmp.Compare(a.event.Tablet, b.event.Tablet),
	)
}

// entryError says which entry is not an event.
type entryError struct {
	pos int64
	err error
}

func (e *entryError) Error() string {
	return "read entry at position " + strconv.FormatInt(e.pos, 10) + ": " + e.err.Error()
}

func (e *entryError) Unwrap() error { return e.err }
