package caseload

import (
	"errors"
	"sync"
	"time"

	"doorsill/internal/account"
	"doorsill/internal/store"
)

// Index holds the caseload of every team in memory. It is filled once from the
// store and then told of every change. It is safe for use by several
// goroutines.
type Index struct {
	mu    sync.RWMutex
	teams map[string]*team
	// held lists, by tablet, the clients that it reported unsent entries of.
	// It is not stored: after a restart a tablet reports again.
	held map[string][]clientKey
	// broken is why lines are missing, or nil.
	broken error
}

type clientKey struct{ team, client string }

// NewIndex returns an empty index.
func NewIndex() *Index {
	return &Index{teams: make(map[string]*team), held: make(map[string][]clientKey)}
}

// Load fills an empty index with the lines of a store. Clients whose line is
// damaged are in it by their id and marked, and are returned: their line can be
// made anew from the log. When even the list of lines is damaged, pages are
// refused with store.ErrDamaged until there is another index. The error is any
// other one of the store.
func (x *Index) Load(r store.Reader) (damaged []string, err error) {
	x.mu.Lock()
	defer x.mu.Unlock()
	for s, err := range r.Summaries("") {
		if errors.Is(err, store.ErrDamaged) {
			if s, err = damagedLine(r, s.Client, err); err == nil {
				damaged = append(damaged, s.Client)
			}
		}
		switch {
		case errors.Is(err, store.ErrDamaged):
			x.broken = err
		case errors.Is(err, store.ErrNotFound):
			// No client: its key was damaged, and the one it had comes by itself.
		case err != nil:
			return damaged, err
		default:
			x.team(s.Team).add(s)
		}
	}
	for _, t := range x.teams {
		t.sortAll()
	}
	return damaged, nil
}

// damagedLine is what stands for a line that can not be read. The error is the
// cause where it is not known whose line it is.
func damagedLine(r store.Reader, client string, cause error) (store.Summary, error) {
	if client == "" {
		return store.Summary{}, cause
	}
	s, err := r.Subject(client)
	return store.Summary{Client: client, Name: client, Team: s.Team, Damaged: true}, err
}

// Put takes in the new lines of clients, after they have been committed.
func (x *Index) Put(summaries ...store.Summary) {
	x.mu.Lock()
	defer x.mu.Unlock()
	for _, s := range summaries {
		x.team(s.Team).put(s)
	}
}

func (x *Index) team(id string) *team {
	t, ok := x.teams[id]
	if !ok {
		t = newTeam(id)
		x.teams[id] = t
	}
	return t
}

// Holding notes which clients a tablet reported unsent entries of, replacing
// its last report. Clients outside the caller's teams are left out.
func (x *Index) Holding(c account.Caller, tablet string, clients []string) {
	x.mu.Lock()
	defer x.mu.Unlock()
	for _, k := range x.held[tablet] {
		x.teams[k.team].hold(k.client, -1)
	}
	delete(x.held, tablet)
	var keys []clientKey
	seen := make(map[string]bool)
	for _, client := range clients {
		for id := range c.Teams {
			t, ok := x.teams[id]
			if ok && !seen[client] && t.has(client) {
				seen[client] = true
				t.hold(client, 1)
				keys = append(keys, clientKey{id, client})
			}
		}
	}
	if len(keys) > 0 {
		x.held[tablet] = keys
	}
}

// Unscored counts the visits of all teams that the engine could not score.
func (x *Index) Unscored() int {
	x.mu.RLock()
	defer x.mu.RUnlock()
	count := 0
	for _, t := range x.teams {
		for i := range t.lines {
			count += t.lines[i].Unscored
		}
	}
	return count
}

// UnscoredClients are those of all teams with a visit that has no score.
func (x *Index) UnscoredClients() (clients []string) {
	x.mu.RLock()
	defer x.mu.RUnlock()
	for _, t := range x.teams {
		for i := range t.lines {
			if t.lines[i].Unscored > 0 {
				clients = append(clients, t.lines[i].Client)
			}
		}
	}
	return clients
}

// Page answers a query about a team for one of its people. Today is the day
// from which waiting and overdue days are counted. The error is
// account.ErrSignedOut, account.ErrNotAllowed, store.ErrDamaged or an
// *validation.Error.
func (x *Index) Page(c account.Caller, teamID string, q Query, today time.Time) (Page, error) {
	if !c.SignedIn() {
		return Page{}, account.ErrSignedOut
	}
	if !c.Member(teamID) {
		return Page{}, account.ErrNotAllowed
	}
	if err := q.check(); err != nil {
		return Page{}, err
	}
	x.mu.RLock()
	defer x.mu.RUnlock()
	if x.broken != nil {
		return Page{}, x.broken
	}
	t, ok := x.teams[teamID]
	if !ok {
		t = newTeam(teamID)
	}
	return t.page(q, dayOf(today)), nil
}
