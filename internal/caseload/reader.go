package caseload

import (
	"bytes"
	"context"
	"errors"
	"fmt"

	"doorsill/internal/account"
	"doorsill/internal/model"
	"doorsill/internal/record"
	"doorsill/internal/store"
)

// MaxPull bounds the events of one pull.
const MaxPull = 1000

// MaxPullBytes bounds what they hold; one event that is larger comes alone.
const MaxPullBytes = 4 << 20

// ErrOtherLog is returned by Pull when the caller's cursor belongs to another
// log: the server was restored from a copy.
var ErrOtherLog = errors.New("cursor of another log")

// ErrAhead is returned by Pull when the caller's cursor is behind the end of the
// log that it names: it would get nothing until the log is as long.
var ErrAhead = errors.New("cursor behind the end of the log")

// Reader reads clients, visits and the log for the people who may see them.
type Reader struct {
	store store.Store
}

// NewReader returns a reader of a store.
func NewReader(s store.Store) *Reader { return &Reader{store: s} }

// VisitView is a visit with its confirmed result, nil while there is none.
type VisitView struct {
	Visit  model.Visit
	Result *store.Result
	// Blind says that what was said is held back, because the reader rates the
	// same trial and not both have signed.
	Blind bool
	// Damaged says that there is a result that can not be read.
	Damaged bool
}

// ClientView is a client with all visits, oldest first.
type ClientView struct {
	Client model.Client
	Visits []VisitView
}

// Client reads one client of a team of the caller's. The error is
// account.ErrSignedOut, ErrNotAllowed, ErrNotFound or one of the store.
func (rd *Reader) Client(ctx context.Context, c account.Caller, id string) (v ClientView, err error) {
	err = rd.view(ctx, c, func(r store.Reader) error {
		if err := mayRead(r, c, id, model.SubjectClient); err != nil {
			return err
		}
		if v.Client, err = foldClient(r, id); err != nil {
			return err
		}
		v.Visits, err = foldVisits(r, c, id)
		return err
	})
	return v, err
}

// Visit reads one visit of a team of the caller's, with the errors of Client.
func (rd *Reader) Visit(ctx context.Context, c account.Caller, id string) (v VisitView, err error) {
	err = rd.view(ctx, c, func(r store.Reader) error {
		if err := mayRead(r, c, id, model.SubjectVisit); err != nil {
			return err
		}
		if v, err = foldVisit(r, id); err != nil || v.Visit.Started.By == c.Person {
			return err
		}
		visits, err := foldVisits(r, c, v.Visit.Client)
		for _, one := range visits {
			if one.Visit.ID == id && one.Blind {
				v = one
			}
		}
		return err
	})
	return v, err
}

// view reads one moment for somebody who is signed in.
func (rd *Reader) view(ctx context.Context, c account.Caller, fn func(store.Reader) error) error {
	if !c.SignedIn() {
		return account.ErrSignedOut
	}
	return rd.store.View(ctx, fn)
}

// mayRead is the one place that decides who reads a client or a visit.
func mayRead(r store.Reader, c account.Caller, id, kind string) error {
	if c.Admin {
		return account.ErrNotAllowed // whether or not it exists
	}
	s, err := r.Subject(id)
	if errors.Is(err, store.ErrNotFound) || err == nil && s.Kind != kind {
		return account.ErrNotFound
	}
	if err != nil {
		return err
	}
	if !c.Member(s.Team) {
		return account.ErrNotAllowed
	}
	return nil
}

func foldClient(r store.Reader, id string) (model.Client, error) {
	entries, err := r.EntriesOfSubject(id)
	if err != nil {
		return model.Client{}, err
	}
	client, err := record.FoldClient(entries)
	if err != nil {
		return model.Client{}, fmt.Errorf("fold client: %w", err)
	}
	return client, nil
}

func foldVisit(r store.Reader, id string) (v VisitView, err error) {
	entries, err := r.EntriesOfSubject(id)
	if err != nil {
		return v, err
	}
	logs, err := r.Logs()
	if err != nil {
		return v, err
	}
	if v.Visit, err = record.FoldVisit(entries, logs); err != nil {
		return v, fmt.Errorf("fold visit: %w", err)
	}
	result, err := r.Result(id)
	if v.Damaged = errors.Is(err, store.ErrDamaged); v.Damaged || errors.Is(err, store.ErrNotFound) {
		return v, nil // what was said is shown all the same
	}
	v.Result = &result
	return v, err
}

// Pulled is one page of a team's log.
type Pulled struct {
	Logs   model.Logs
	Events []model.Entry
	// Next is the cursor for the next pull, Head the last position of all.
	Next, Head int64
	More       bool
}

// Pull reads up to limit events of a team of the caller's after a position. A
// log that is not empty must name the server's log, else ErrOtherLog; a position
// above the log's last is ErrAhead. Pulled then says which log it is.
func (rd *Reader) Pull(ctx context.Context, c account.Caller, team, log string, after int64, limit int) (p Pulled, err error) {
	if !c.SignedIn() {
		return p, account.ErrSignedOut
	}
	if !c.Member(team) {
		return p, account.ErrNotAllowed
	}
	if limit <= 0 || limit > MaxPull {
		limit = MaxPull
	}
	err = rd.store.View(ctx, func(r store.Reader) error {
		if p.Logs, err = r.Logs(); err != nil {
			return err
		}
		if p.Head, err = r.Head(); err != nil {
			return err
		}
		if log != "" && log != p.Logs.Log {
			return ErrOtherLog
		}
		if after > p.Head {
			return ErrAhead
		}
		entries, more, err := r.EntriesOfTeam(team, after, limit)
		if err != nil {
			return err
		}
		p.take(entries, more, after)
		return nil
	})
	return p, err
}

// take copies the entries out of the moment. The cursor jumps over other
// teams' events once there is nothing more of this one.
func (p *Pulled) take(entries []model.Entry, more bool, after int64) {
	p.Events = make([]model.Entry, 0, len(entries))
	size := 0
	for i, e := range entries {
		if size += len(e.Raw); i > 0 && size > MaxPullBytes {
			entries, more = entries[:i], true
			break
		}
		e.Raw = bytes.Clone(e.Raw)
		p.Events = append(p.Events, e)
	}
	p.More = more
	switch {
	case !more:
		p.Next = p.Head
	default:
		p.Next = entries[len(entries)-1].Pos
	}
}

// Log returns the id of the server's log.
func (rd *Reader) Log(ctx context.Context) (id string, err error) {
	err = rd.store.View(ctx, func(r store.Reader) (err error) {
		id, err = r.LogID()
		return err
	})
	return id, err
}
