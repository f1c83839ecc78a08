package record

import (
	"cmp"
	"slices"
	"strconv"

	"doorsill/internal/model"
)

// FoldClient turns a client's entries into the client. Entries are taken in
// log order, then those that wait on a tablet by their number; the order in
// which they are passed does not matter, and an entry that is there twice
// counts once. The error names an entry that is not an event.
func FoldClient(entries []model.Entry) (model.Client, error) {
	fold := NewClientFold()
	err := eachInOrder(entries, fold.Add)
	return fold.Client(), err
}

// FoldVisit turns a visit's entries into the visit, like FoldClient.
func FoldVisit(entries []model.Entry) (model.Visit, error) {
	fold := NewVisitFold()
	err := eachInOrder(entries, fold.Add)
	return fold.Visit(), err
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

// placed is a decoded entry.
type placed struct {
	pos   int64
	event model.Event
}

// eachInOrder decodes entries, brings them into order, leaves out repeats and
// hands each with its body to add. A body that can not be read is nil.
func eachInOrder(entries []model.Entry, add func(pos int64, event *model.Event, body model.Body)) error {
	list := make([]placed, len(entries))
	for i, entry := range entries {
		event, err := Decode(entry.Raw)
		if err != nil {
			return &entryError{entry.Pos, err}
		}
		list[i] = placed{entry.Pos, event}
	}
	slices.SortStableFunc(list, compare)
	type number struct {
		tablet string
		n      int64
	}
	counted := make(map[number]bool, len(list))
	for i := range list {
		p := &list[i]
		number := number{p.event.Tablet, p.event.N}
		if counted[number] {
			continue
		}
		counted[number] = true
		body, err := ReadBody(&p.event)
		if err != nil {
			body = nil
		}
		add(p.pos, &p.event, body)
	}
	return nil
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

// stamp says who said an event.
func stamp(pos int64, event *model.Event) model.Stamp {
	return model.Stamp{Ref: event.Ref(), By: event.Author, At: event.At, Pos: pos}
}

// ClientFold is a client's fold under way. Events must be added in order.
type ClientFold struct{ client model.Client }

// NewClientFold starts a fold.
func NewClientFold() *ClientFold { return &ClientFold{} }

// Add takes the next event; body is nil when it can not be read. Events of
// other kinds change nothing.
func (f *ClientFold) Add(pos int64, event *model.Event, body model.Body) {
	c := &f.client
	switch b := body.(type) {
	case *model.ClientOpened:
		if c.ID != "" {
			return
		}
		*c = model.Client{
			ID: event.Subject, Team: b.Team, Ref: b.Ref, Name: b.Name, Born: b.Born, Referred: b.Referred,
			Priority: b.Priority, Course: b.Course, Reason: b.Reason, Visiting: b.Visiting,
			Status: "waiting", Opened: stamp(pos, event),
		}
	case *model.ClientChanged:
		for key, value := range b.Fields {
			c.Set(key, value)
		}
	case *model.ClientAssigned:
		c.Assignee, c.Status, c.Version = b.Assignee, b.Status, b.Version
	default:
		return
	}
	c.Changed = stamp(pos, event)
}

// Client is the client as it stands.
func (f *ClientFold) Client() model.Client { return f.client }
