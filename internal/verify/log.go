package verify

import (
	"bytes"
	"errors"
	"fmt"

	"doorsill/internal/model"
	"doorsill/internal/record"
	"doorsill/internal/store"
)

// page is how many entries are read at a time.
const page = 1000

// log walks the whole log. When a batch of it can not be read, nothing after it
// is known, so the walk ends there.
func (c *checker) log() error {
	after := int64(0)
	for {
		entries, err := c.r.Entries(after, page)
		for i := range entries {
			if entries[i].Pos != after+1 {
				c.fault(position(entries[i].Pos), "It follows position %d; positions in between are missing.", after)
			}
			after = entries[i].Pos
			c.report.Entries++
			c.entry(&entries[i])
		}
		if err != nil {
			c.fault(position(after+1), "The log can not be read from here on: %v.", err)
			return nil
		}
		if len(entries) < page {
			break
		}
	}
	if head, err := c.r.Head(); err != nil || head != after {
		c.fault("log", "It ends at position %d and says %d%s.", after, head, reason(err))
	}
	return nil
}

func position(pos int64) string { return fmt.Sprintf("log position %d", pos) }

// entry checks one entry: that it can be read, that its tablet's number leads to
// it, that it was written by the tablet's person, and that its subject is known.
func (c *checker) entry(entry *model.Entry) {
	where := position(entry.Pos)
	event, err := record.Decode(entry.Raw)
	if err != nil {
		c.fault(where, "The event can not be read: %v.", err)
		return
	}
	if entry.Received == "" {
		c.fault(where, "It has no time of arrival.")
	}
	placed, err := c.r.Placed(event.Tablet, event.N)
	if err != nil || placed.Pos != entry.Pos || !bytes.Equal(placed.Raw, entry.Raw) {
		c.fault(where, "Event %s is not found under its number%s.", event.Ref(), reason(err))
		return
	}
	c.placed(event.Tablet, event.N)
	if tablet, err := c.r.Tablet(event.Tablet); err != nil {
		c.fault(where, "Its tablet %s is not known%s.", event.Tablet, reason(err))
	} else if tablet.Person != event.Author {
		c.fault(where, "It was not written by the person whose tablet %s is.", event.Tablet)
	}
	c.subject(where, &event, entry.Pos)
}

func reason(err error) string {
	if err == nil || errors.Is(err, store.ErrNotFound) {
		return ""
	}
	return ": " + err.Error()
}

func (c *checker) subject(where string, event *model.Event, pos int64) {
	s, err := c.r.Subject(event.Subject)
	if err != nil {
		c.fault(where, "What it is about, %s, is not known%s.", event.Subject, reason(err))
		return
	}
	known := c.subjects[s.ID]
	c.subjects[s.ID] = append(known, pos)
	c.teams[s.Team] = append(c.teams[s.Team], pos)
	if known != nil {
		return
	}
	if want, opens := opened(event); !opens || s != want {
		c.fault(where, "Event %s should open %s %s and does not fit it.", event.Ref(), s.Kind, s.ID)
	}
	switch s.Kind {
	case model.SubjectClient:
		c.clients = append(c.clients, s)
	case model.SubjectVisit:
		c.visits = append(c.visits, s)
		c.opened = append(c.opened, openedVisit{where, s})
	}
}

// opened is the subject that an event opens. A visit takes its client's team,
// which is the one it names.
func opened(event *model.Event) (s store.Subject, opens bool) {
	body, err := record.ReadBody(event)
	if err != nil {
		return s, false
	}
	switch b := body.(type) {
	case *model.ClientOpened:
		return store.Subject{ID: event.Subject, Kind: model.SubjectClient, Team: b.Team, Client: event.Subject}, true
	case *model.VisitStarted:
		return store.Subject{ID: event.Subject, Kind: model.SubjectVisit, Team: b.Team, Client: b.Client, Checklist: b.Checklist.Hash}, true
	case *model.ControlListed:
		return store.Subject{ID: event.Subject, Kind: model.SubjectControl, Team: b.Team}, true
	}
	return s, false
}

// openedVisit is a visit and the log position that opened it.
type openedVisit struct {
	where string
	visit store.Subject
}

// visitsOfClients checks that each visit is listed once with its client.
func (c *checker) visitsOfClients() {
	listed := map[string]map[string]int{}
	for _, o := range c.opened {
		client := o.visit.Client
		if listed[client] == nil {
			listed[client] = map[string]int{}
			visits, err := c.r.VisitsOfClient(client)
			if err != nil {
				c.fault(o.where, "The visits of client %s can not be read: %v.", client, err)
			}
			for _, id := range visits {
				listed[client][id]++
			}
		}
		if times := listed[client][o.visit.ID]; times != 1 {
			c.fault(o.where, "Visit %s is listed %d times with its client.", o.visit.ID, times)
		}
	}
}

// lists compares the lists by team and by subject with the log.
func (c *checker) lists() error {
	c.visitsOfClients()
	for _, team := range sorted(c.teams) {
		want := c.teams[team]
		entries, more, err := c.r.EntriesOfTeam(team, 0, len(want)+1)
		c.same("list of team "+team, entries, want, more, err)
	}
	for _, subject := range sorted(c.subjects) {
		entries, err := c.r.EntriesOfSubject(subject)
		c.same("list of subject "+subject, entries, c.subjects[subject], false, err)
	}
	return nil
}

func (c *checker) same(where string, entries []model.Entry, want []int64, more bool, err error) {
	if err != nil {
		c.fault(where, "It can not be read: %v.", err)
		return
	}
	for i := range min(len(entries), len(want)) {
		if entries[i].Pos != want[i] {
			c.fault(where, "It names position %d where the log has %d.", entries[i].Pos, want[i])
			return
		}
	}
	if len(entries) != len(want) || more {
		c.fault(where, "It names %d entries, the log has %d.", len(entries), len(want))
	}
}
