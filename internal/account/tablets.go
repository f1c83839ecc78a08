package account

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"
	"unicode/utf8"

	"doorsill/internal/audit"
	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

const maxLabel = 80

// NewTablet is what a device says of itself when it registers.
type NewTablet struct {
	// Label is what the team's list calls it, at most 80 characters.
	Label string
	// ID is its name from before, or empty. A server that was restored from a copy
	// older than the registration does not know it; the tablet keeps it, so that
	// what it sends again is what it sent.
	ID string
}

// AddTablet registers the caller's device and binds the session to it. A new name
// is for who works in a team, ten a day at most, else ErrManyTablets. A name from
// before that is another person's, by who has it or by its mark, is Invalid.
func (s *Service) AddTablet(ctx context.Context, c Caller, n NewTablet) (store.Tablet, error) {
	switch {
	case !c.SignedIn():
		return store.Tablet{}, ErrSignedOut
	case c.Admin:
		return store.Tablet{}, ErrNotAllowed // holds no clinical content
	}
	label := strings.TrimSpace(n.Label)
	if utf8.RuneCountInString(label) > maxLabel {
		return store.Tablet{}, validation.Invalid("label", "at most 80 characters")
	}
	if n.ID == "" && len(c.Teams) == 0 {
		return store.Tablet{}, ErrNotAllowed
	}
	id, err := s.nameOf(c, n)
	if err != nil {
		return store.Tablet{}, err
	}
	_, proven := s.tabletNames.Whose(n.ID, c.Person)
	t := store.Tablet{ID: id, Person: c.Person, Label: label, Registered: stamp(s.now())}
	err = s.store.Update(ctx, func(w store.Writer) error {
		if err := s.register(w, &t, proven); err != nil {
			return err
		}
		session, err := w.Session(c.Session)
		if err != nil {
			return found(err)
		}
		session.Tablet = id
		return w.SetSession(session)
	})
	if err != nil {
		return store.Tablet{}, fmt.Errorf("add tablet: %w", err)
	}
	return t, s.note(c.Source, c.Person, "add tablet", id, audit.OK)
}

// register adds a tablet, or takes it as it stands when it is the same person's.
func (s *Service) register(w store.Writer, t *store.Tablet, proven bool) error {
	known, err := w.Tablet(t.ID)
	switch {
	case errors.Is(err, store.ErrNotFound):
		count, err := newTabletsToday(w, t.Person, s.now())
		if err == nil && count >= MostTabletsADay && !proven {
			err = ErrManyTablets
		}
		if err != nil {
			return err
		}
		return w.SetTablet(*t)
	case err == nil && known.Person != t.Person:
		return validation.Invalid("id", "a name that is no other person's tablet")
	}
	*t = known
	return err
}

// nameOf is the tablet's name from before, or a new one.
func (s *Service) nameOf(c Caller, n NewTablet) (string, error) {
	if n.ID == "" {
		random, err := s.newID()
		return s.tabletNames.of(random, c.Person), err
	}
	if marked, theirs := s.tabletNames.Whose(n.ID, c.Person); marked && !theirs {
		return "", validation.Invalid("id", "a name that is no other person's tablet")
	}
	if n.ID == model.ServerTablet || !validation.ValidID(n.ID) {
		return "", validation.Invalid("id", "the name that a server gave this tablet")
	}
	return n.ID, nil
}

// Holding notes what a tablet says that it has not sent: how many events, and
// the tablet's own time of the oldest (RFC 3339, or empty). Only the tablet's
// owner may say so.
func (s *Service) Holding(ctx context.Context, c Caller, tablet string, waiting int, oldest string) error {
	if !c.SignedIn() {
		return ErrSignedOut
	}
	at, err := checkHolding(waiting, oldest)
	if err != nil {
		return err
	}
	// Tablets report on every sync; only news is worth a write.
	var t store.Tablet
	err = s.store.View(ctx, func(r store.Reader) error {
		t, err = ownTablet(r, c, tablet)
		return err
	})
	if err != nil || t.Waiting == int64(waiting) && t.OldestWaiting == at {
		return err
	}
	err = s.store.Update(ctx, func(w store.Writer) error {
		t, err := ownTablet(w, c, tablet)
		if err != nil {
			return err
		}
		t.Waiting, t.OldestWaiting = int64(waiting), at
		return w.SetTablet(t)
	})
	if err != nil {
		return fmt.Errorf("note what a tablet holds: %w", err)
	}
	return nil
}

// ownTablet returns a tablet of the caller's; whether somebody else's exists is
// not told.
func ownTablet(r store.TabletReader, c Caller, id string) (store.Tablet, error) {
	t, err := r.Tablet(id)
	if errors.Is(err, store.ErrNotFound) || err == nil && t.Person != c.Person {
		return store.Tablet{}, ErrNotAllowed
	}
	return t, err
}

func checkHolding(waiting int, oldest string) (at string, err error) {
	if waiting < 0 || waiting > 10_000_000 {
		return "", validation.Invalid("waiting", "a number from 0 to 10,000,000")
	}
	if waiting == 0 || oldest == "" {
		return "", nil
	}
	t, err := time.Parse(time.RFC3339, oldest)
	if err != nil {
		return "", validation.Invalid("oldest", "a time such as 2026-01-31T14:05:00.000Z")
	}
	return stamp(t), nil
}
