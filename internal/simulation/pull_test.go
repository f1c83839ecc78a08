package simulation

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/http"
	"net/url"
	"slices"

	"doorsill/internal/model"
	"doorsill/internal/record"
)

// pullAnswer is one page; fields that must be there are pointers.
type pullAnswer struct {
	Log     *string            `json:"log"`
	Earlier []model.EarlierLog `json:"earlier"`
	Events  []struct {
		Pos int64           `json:"pos"`
		Raw json.RawMessage `json:"raw"`
	} `json:"events"`
	Next       *int64 `json:"next"`
	More       *bool  `json:"more"`
	ServerTime string `json:"server_time"`
}

// pull takes in a team to its end; true when the log turned out to be another.
func (t *tablet) pull(team string) (newLog bool, err error) {
	for {
		after := t.disk.cursors[team].after
		p, err := t.askPage(team, after)
		if p == nil {
			return err == nil, err
		}
		if err := t.applyPage(team, after, *p); err != nil {
			return false, err
		}
		if !*p.More || *p.Next <= after {
			return t.bringBack(team)
		}
	}
}

// askPage asks for one page; nil when the log turned out to be another, which
// is taken on.
func (t *tablet) askPage(team string, after int64) (*pullAnswer, error) {
	log := t.disk.log
	path := fmt.Sprintf("/api/v1/teams/%s/events?log=%s&after=%d&limit=%d", team, url.QueryEscape(log), after, t.page)
	status, body, err := t.ask("GET", path, "", nil)
	if err != nil {
		return nil, err
	}
	if status == http.StatusConflict {
		var c conflictAnswer
		if json.Unmarshal(body, &c) != nil {
			return nil, errForeign
		}
		if c.Log == nil {
			c.Log = new(string)
		}
		if c.Error == "log" && *c.Log == log {
			return nil, errForeign
		}
		t.takeNewLog(*c.Log)
		return nil, nil
	}
	var p pullAnswer
	if json.Unmarshal(body, &p) != nil || p.Log == nil || p.Next == nil || p.More == nil {
		return nil, errForeign
	}
	if log != "" && *p.Log != log {
		t.takeNewLog(*p.Log)
		return nil, nil
	}
	return &p, nil
}

// applyPage writes the rows and moves the cursor in one transaction.
func (t *tablet) applyPage(team string, after int64, p pullAnswer) error {
	var news []row
	var events []model.Event
	last, named := t.disk.ack, map[string]bool{}
	for _, e := range p.Events {
		event, err := record.Decode(e.Raw)
		if err != nil {
			return errForeign
		}
		if event.Tablet == t.disk.tablet && t.disk.n == t.disk.ack {
			last = max(last, event.N)
		}
		named[event.Subject], named[clientIn(event)] = true, true
		events = append(events, event)
	}
	for i, event := range events {
		news = append(news, t.rowsOf(team, event, p.Events[i].Pos, p.Events[i].Raw, max(last, t.disk.n))...)
	}
	forward := func(r *rows) {
		was := r.cursors[team]
		r.cursors[team] = cursor{*p.Next, was.count + len(p.Events), was.done || !*p.More, was.old && *p.More}
		r.log, r.earlier = *p.Log, p.Earlier
	}
	if t.w.mut == cursorFirst {
		t.commit(forward)
	}
	t.commit(func(r *rows) {
		for _, one := range news {
			r.events[one.key] = one
		}
		if r.cursors[team].old && !*p.More && t.w.mut != ghostsCount {
			r.dropUnplaced(team)
		}
		if last > r.ack {
			r.n, r.ack = last, last
		}
		forward(r)
		for i, one := range r.memory.left {
			// News of a client who has left this tablet, or a new visit to them.
			r.memory.left[i].back = one.back || slices.ContainsFunc(one.subjects, func(id string) bool { return named[id] })
		}
		r.noteReceipt(t, p.ServerTime, receipt{r.ack, *p.Next})
		t.w.movedTo(t, *p.Log, team, *p.Next)
	})
	t.refresh()
	return nil
}

// rowsOf are the rows of an entry; two when another device wrote under this
// tablet's name and number. Of a number up to used that it has nothing of, the
// entry becomes its own.
func (t *tablet) rowsOf(team string, event model.Event, pos int64, raw []byte, used int64) []row {
	one := row{key: string(event.Ref()), subject: event.Subject, pos: pos, team: team, raw: raw}
	mine := t.disk.events[one.key]
	switch {
	case mine.own != 0 && (mine.pos == pos || bytes.Equal(mine.raw, raw) || t.w.mut == forksMerged):
		// An own event keeps its bytes and takes only its place.
		one.own, one.raw, one.acked = mine.own, mine.raw, mine.acked
	case event.Tablet == t.disk.tablet && mine.own == 0 && event.N <= used && event.N > t.disk.memory.gone && t.w.mut != filesNotKept:
		one.own = event.N
		if one.own > t.disk.ack {
			one.acked = t.w.clock
		}
	case event.Tablet == t.disk.tablet:
		// Another device writes under this tablet's name: what it said lies
		// beside what was said here, which does not count.
		one.key += forked
		if mine.own != 0 {
			mine.quarantined = true
			return []row{mine, one}
		}
	}
	return []row{one}
}

// forked is added to the key of an event that another device wrote under this
// tablet's name and number.
const forked = "~log"

// dropUnplaced: what others said and a restored server does not have is kept
// and does not count, until the server gives it a place.
func (r *rows) dropUnplaced(team string) {
	for key, one := range r.events {
		if one.own == 0 && one.pos == 0 && (one.team == team || one.team == "") {
			one.quarantined = true
			r.events[key] = one
		}
	}
}
