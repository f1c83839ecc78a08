package caseload

import (
	"context"
	"slices"

	"doorsill/internal/account"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// MostQuarantined bounds the entries of one page of what was quarantined.
const MostQuarantined = 200

// States that a page of what was quarantined can be narrowed to.
const (
	StateOpen   = "open"   // somebody has to deal with it
	StateClosed = "closed" // it was settled, or given a place later
)

// QuarantineQuery asks for a page of what was quarantined.
type QuarantineQuery struct {
	// After is the number of the last entry of the page before, 0 at first.
	After int64
	// Limit is how many entries there may be; 0 is MostQuarantined.
	Limit int64
	// State is StateOpen, StateClosed, or empty for both.
	State string
}

// QuarantinePage is a page of what was quarantined, oldest first.
type QuarantinePage struct {
	Entries []store.Quarantined
	// Next is After of the next page, if there is More.
	Next int64
	More bool
}

// Quarantine lists what was quarantined in a team of the caller's: everything for
// its lead, and what came from themselves for others. The error is
// account.ErrSignedOut or ErrNotAllowed, a *validation.Error or one of the store.
func (rd *Reader) Quarantine(ctx context.Context, c account.Caller, team string, q QuarantineQuery) (QuarantinePage, error) {
	if c.SignedIn() && !c.Member(team) {
		return QuarantinePage{}, account.ErrNotAllowed
	}
	f := store.QuarantineFilter{Team: team}
	if !c.Leads(team) {
		f.Person = c.Person
	}
	return rd.quarantine(ctx, c, f, q)
}

// QuarantineOpen counts the entries of a team with which somebody has to deal; for
// its lead. The error is as that of Quarantine.
func (rd *Reader) QuarantineOpen(ctx context.Context, c account.Caller, team string) (n int64, err error) {
	if c.SignedIn() && !c.Leads(team) {
		return 0, account.ErrNotAllowed
	}
	err = rd.view(ctx, c, func(r store.Reader) error {
		count, err := r.QuarantineOpen(store.QuarantineByTeam, team)
		n = count.Entries
		return err
	})
	return n, err
}

// OwnQuarantine lists what was quarantined of the caller's own, also about teams
// that they have left. The error is as that of Quarantine.
func (rd *Reader) OwnQuarantine(ctx context.Context, c account.Caller, q QuarantineQuery) (QuarantinePage, error) {
	return rd.quarantine(ctx, c, store.QuarantineFilter{Person: c.Person}, q)
}

func (rd *Reader) quarantine(ctx context.Context, c account.Caller, f store.QuarantineFilter, q QuarantineQuery) (p QuarantinePage, err error) {
	if q.State != "" && !slices.Contains([]string{StateOpen, StateClosed}, q.State) {
		return p, validation.Invalid("state", StateOpen+" or "+StateClosed)
	}
	f.Open, f.Closed = q.State == StateOpen, q.State == StateClosed
	if q.Limit <= 0 || q.Limit > MostQuarantined {
		q.Limit = MostQuarantined
	}
	err = rd.view(ctx, c, func(r store.Reader) (err error) {
		p.Entries, p.More, err = r.QuarantinePage(f, q.After, int(q.Limit))
		return err
	})
	size := 0
	for i := range p.Entries {
		if size += len(p.Entries[i].Raw); i > 0 && size > MaxPullBytes {
			p.Entries, p.More = p.Entries[:i], true
			break
		}
	}
	if p.Next = q.After; len(p.Entries) > 0 {
		p.Next = p.Entries[len(p.Entries)-1].ID
	}
	return p, err
}
