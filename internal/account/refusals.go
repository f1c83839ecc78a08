package account

import (
	"errors"
	"slices"
	"strings"
	"sync"
	"time"

	"doorsill/internal/audit"
)

// Failed sign-ins leave lines in the audit trail, and whoever has no account
// must not make it grow as they like. In each window a source has so many lines
// of its own; what fails after that, and whatever the limiter refuses, is counted
// and makes one line for each person that was named when the window has ended.
// Proposal, not validated.
const (
	refusalWindow = time.Hour
	refusalLines  = sourceTries
	// maxSpells bounds the memory; beyond it, windows end early.
	maxSpells = 10_000
)

// refusals counts the failed sign-ins that have no line of their own.
type refusals struct {
	mu     sync.Mutex
	spells map[string]*spell
	// next is when the first window ends.
	next time.Time
}

// spell is one window of one source.
type spell struct {
	from  time.Time
	lines int
	more  map[tried]int
}

// tried is what failed, and for whom: an id, or empty for a name that nobody has.
type tried struct{ action, person string }

func newRefusals() *refusals { return &refusals{spells: make(map[string]*spell)} }

// add takes one failed sign-in in. It says whether it shall have a line of its
// own: never when the limiter had refused it.
func (r *refusals) add(source string, t tried, limited bool, now time.Time) (own bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	s, ok := r.spells[source]
	if !ok {
		s = &spell{from: now, more: make(map[tried]int)}
		r.spells[source] = s
		if end := now.Add(refusalWindow); len(r.spells) == 1 || end.Before(r.next) {
			r.next = end
		}
	}
	if !limited && s.lines < refusalLines {
		s.lines++
		return true
	}
	s.more[t]++
	return false
}

// due takes out the windows that have ended, or all of them, and returns the
// lines that they make. A window from the future ended when the clock was set
// back.
func (r *refusals) due(now time.Time, all bool) (notes []audit.Note) {
	r.mu.Lock()
	defer r.mu.Unlock()
	all = all || len(r.spells) >= maxSpells
	if !all && now.Before(r.next) && !now.Before(r.next.Add(-refusalWindow)) {
		return nil
	}
	r.next = now.Add(refusalWindow)
	for source, s := range r.spells {
		end := s.from.Add(refusalWindow)
		if !all && now.Before(end) && !now.Before(s.from) {
			if end.Before(r.next) {
				r.next = end
			}
			continue
		}
		delete(r.spells, source)
		for t, times := range s.more {
			notes = append(notes, audit.Note{Person: t.person, Action: t.action, Subject: t.person, From: source, Result: audit.Denied, Times: times})
		}
	}
	slices.SortFunc(notes, func(a, b audit.Note) int {
		return strings.Compare(a.From+"\x00"+a.Action+"\x00"+a.Person, b.From+"\x00"+b.Action+"\x00"+b.Person)
	})
	return notes
}

// refused writes down that a sign-in failed, now or together with others later.
func (s *Service) refused(source, person, action string, limited bool) error {
	err := s.settle(false)
	if s.refusals.add(network(source), tried{action, person}, limited, s.now()) {
		err = errors.Join(err, s.note(source, person, action, person, audit.Denied))
	}
	return err
}

// settle writes the lines of windows that have ended, or of all of them.
func (s *Service) settle(all bool) (err error) {
	for _, n := range s.refusals.due(s.now(), all) {
		err = errors.Join(err, s.trail.Note(n))
	}
	return err
}

// Close writes down what was only counted so far. Sign-ins must have ended, and
// the trail must be open.
func (s *Service) Close() error { return s.settle(true) }
