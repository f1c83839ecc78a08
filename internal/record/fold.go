package record

import "doorsill/internal/model"

// FoldClient turns a client's entries into the client. Entries are taken in
// log order, then those that wait on a tablet by their number; the order in
// which they are passed does not matter, and an entry that is there twice
// counts once. The error names an entry that is not an event.
func FoldClient(entries []model.Entry) (model.Client, error) {
	fold := NewClientFold()
	err := eachInOrder(entries, fold.Add)
	return fold.Client(), err
}

// FoldVisit turns a visit's entries into the visit, like FoldClient. The logs are
// the one that gave the entries their positions and those before it.
func FoldVisit(entries []model.Entry, logs model.Logs) (model.Visit, error) {
	fold := NewVisitFold(logs)
	err := eachInOrder(entries, fold.Add)
	return fold.Visit(), err
}

// eachInOrder decodes entries, brings them into order, leaves out repeats and
// hands each with its body to add. A body that can not be read is nil.
func eachInOrder(entries []model.Entry, add func(pos int64, event *model.Event, body model.Body)) error {
	var log Log
	if _, err := log.Add(entries); err != nil {
		return err
	}
	log.Each(0, add)
	return nil
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
