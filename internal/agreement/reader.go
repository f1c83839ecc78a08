// Package agreement shows the lead of a team how far two therapists agree who
// rated the same trial apart. It gathers the pairs of signed visits; what the
// figures are and mean comes from the engine.
package agreement

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"sync"

	"doorsill/internal/account"
	"doorsill/internal/checklist"
	"doorsill/internal/model"
	"doorsill/internal/record"
	"doorsill/internal/store"
)

// Reader reads pairs of visits for leads. It is safe for use by several
// goroutines.
type Reader struct {
	store store.Store
	lists map[string]*checklist.Definition // by hash

	mu    sync.Mutex
	found map[string]*seconds // by team
}

// seconds are the visits of a team that a second rater began, as far as the
// log was read: it only grows, so nothing is read twice.
type seconds struct {
	after  int64
	visits []string
}

// New returns a reader of a store; checklists are the known versions.
func New(s store.Store, checklists []*checklist.Definition) *Reader {
	rd := &Reader{store: s, lists: make(map[string]*checklist.Definition), found: make(map[string]*seconds)}
	for _, list := range checklists {
		rd.lists[list.Hash()] = list
	}
	return rd
}

// Report says how far raters agree in a team, for its lead. The error is
// account.ErrSignedOut, ErrNotAllowed or one of the store.
func (rd *Reader) Report(ctx context.Context, c account.Caller, team string) (Report, error) {
	if !c.SignedIn() {
		return Report{}, account.ErrSignedOut
	}
	if !c.Leads(team) {
		return Report{}, account.ErrNotAllowed
	}
	var g gathering
	err := rd.store.View(ctx, func(r store.Reader) error {
		visits, err := rd.seconds(r, team)
		if err != nil {
			return err
		}
		for _, id := range visits {
			if err := rd.pair(r, team, id, &g); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return Report{}, err
	}
	return g.report()
}

// page is how many events are read at a time.
const page = 1000

// seconds lists the visits of second raters, oldest first.
func (rd *Reader) seconds(r store.Reader, team string) ([]string, error) {
	rd.mu.Lock()
	defer rd.mu.Unlock()
	s := rd.found[team]
	if s == nil {
		s = new(seconds)
		rd.found[team] = s
	}
	for more := true; more; {
		entries, left, err := r.EntriesOfTeam(team, s.after, page)
		if err != nil {
			return nil, err
		}
		for _, e := range entries {
			s.after = e.Pos
			s.take(e.Raw)
		}
		more = left && len(entries) > 0
	}
	return s.visits[:len(s.visits):len(s.visits)], nil
}

// take keeps the visit of an event that starts a second rating. Only few
// events name the field, so most are never decoded.
func (s *seconds) take(raw []byte) {
	if !bytes.Contains(raw, []byte(`"second_of"`)) {
		return
	}
	event, err := record.Decode(raw)
	if err == nil && event.Kind == model.KindVisitStarted {
		s.visits = append(s.visits, event.Subject)
	}
}

// pair reads both visits and adds them when they can be compared.
func (rd *Reader) pair(r store.Reader, team, id string, g *gathering) error {
	second, err := rd.rating(r, id)
	if err != nil || second.visit.SecondOf == "" {
		return err
	}
	first, err := rd.rating(r, second.visit.SecondOf)
	if errors.Is(err, store.ErrNotFound) {
		return nil // the first visit has not come yet
	}
	if err != nil {
		return err
	}
	switch {
	case first.visit.Team != team || first.visit.Client != second.visit.Client:
	case first.visit.Signed == nil || second.visit.Signed == nil || first.result == nil || second.result == nil:
		g.open++
	default:
		if first.had(second) || second.had(first) {
			g.byApp++
		}
		g.add(first.read(), second.read())
	}
	return nil
}

// rating is one therapist's visit with its result.
type rating struct {
	visit model.Visit
	// result is nil where there is none, or none of the present format.
	result *model.Result
	// list is nil when the checklist is not known.
	list *checklist.Definition
	// said is the position of the first thing that was said of the trial, 0 for
	// none; seen is how far its rater's tablet had pulled the log when the last
	// thing before signing was said.
	said, seen int64
	// unsure says that the tablet had pulled more, of a log that is no more.
	unsure bool
	closed bool
}

// notice takes up what an entry tells about who had seen what.
func (r *rating) notice(e model.Entry, logs model.Logs) error {
	event, err := record.Decode(e.Raw)
	if err != nil {
		return err
	}
	switch {
	case event.Kind == model.KindVisitStarted, event.Kind == model.KindKitPacked:
	case r.said == 0:
		r.said = e.Pos
	}
	if event.Author == r.visit.Started.By && !r.closed {
		known := logs.Seen(&event, e.Pos)
		r.seen = max(r.seen, known)
		r.unsure = r.unsure || known < event.Seen
	}
	r.closed = r.closed || event.Kind == model.KindVisitSigned
	return nil
}

// had says whether a rater's tablet had been sent something of the other
// rating before its own was signed, or may have been.
func (r *rating) had(other rating) bool {
	return other.said > 0 && (r.unsure || r.seen >= other.said)
}

func (rd *Reader) rating(r store.Reader, id string) (rating, error) {
	if _, err := r.Subject(id); err != nil {
		return rating{}, err
	}
	entries, err := r.EntriesOfSubject(id)
	if err != nil {
		return rating{}, err
	}
	logs, err := r.Logs()
	if err != nil {
		return rating{}, err
	}
	visit, err := record.FoldVisit(entries, logs)
	if err != nil {
		return rating{}, fmt.Errorf("fold visit: %w", err)
	}
	one := rating{visit: visit, list: rd.lists[visit.Checklist.Hash]}
	for _, e := range entries {
		if err := one.notice(e, logs); err != nil {
			return one, fmt.Errorf("read visit: %w", err)
		}
	}
	result, err := r.Result(id)
	if errors.Is(err, store.ErrNotFound) {
		return one, nil
	}
	if err != nil || result.Format != model.ResultFormat || len(result.Body) == 0 {
		return one, err
	}
	one.result = new(model.Result)
	if err := json.Unmarshal(result.Body, one.result); err != nil {
		return one, fmt.Errorf("read result of %s: %w", id, err)
	}
	return one, nil
}
