package account

import (
	"context"
	"errors"
	"fmt"

	"doorsill/internal/audit"
	"doorsill/internal/store"
)

// ErrNotWithdrawn is returned when a tablet that is in use says that it has
// cleared itself.
var ErrNotWithdrawn = errors.New("tablet is not withdrawn")

// RevokeTablet withdraws a tablet for good: its sessions may from now on only
// send what the tablet holds, and the tablet clears itself when it hears of it.
// For admins, and for leads of a team that the owner works in. Doing it again
// changes nothing.
func (s *Service) RevokeTablet(ctx context.Context, c Caller, id string) (TabletView, error) {
	if !c.SignedIn() {
		return TabletView{}, ErrSignedOut
	}
	var v TabletView
	var before bool
	err := s.store.Update(ctx, func(w store.Writer) error {
		t, err := tabletLedBy(w, c, id)
		if err != nil {
			return err
		}
		if before = t.Revoked; !before {
			t.Revoked, t.RevokedAt, t.RevokedBy = true, stamp(s.now()), c.Person
			if err := w.SetTablet(t); err != nil {
				return err
			}
		}
		v = TabletView{Tablet: t, Owner: nameOf(w, t.Person), Withdrawer: nameOf(w, t.RevokedBy)}
		return nil
	})
	if err != nil {
		return TabletView{}, fmt.Errorf("withdraw tablet: %w", err)
	}
	if before {
		return v, nil
	}
	return v, s.note(c.Source, c.Person, "withdraw tablet", id, audit.OK)
}

// tabletLedBy finds a tablet that the caller may withdraw. Admins are told
// when there is none; others are not told what exists.
func tabletLedBy(r store.Reader, c Caller, id string) (store.Tablet, error) {
	t, err := r.Tablet(id)
	if c.Admin {
		return t, found(err)
	}
	if errors.Is(err, store.ErrNotFound) {
		return t, ErrNotAllowed
	}
	if err != nil {
		return t, err
	}
	roles, err := rolesOf(r, t.Person)
	if err != nil {
		return t, err
	}
	for team := range roles {
		if c.Leads(team) {
			return t, nil
		}
	}
	return t, ErrNotAllowed
}

// TabletCleared notes that a withdrawn tablet has sent what it held and has
// cleared itself. Only a session on that tablet may say so; the first time
// counts.
func (s *Service) TabletCleared(ctx context.Context, c Caller, id string) error {
	if !c.SignedIn() {
		return ErrSignedOut
	}
	if c.Tablet != id {
		return ErrNotAllowed
	}
	news := false
	err := s.store.Update(ctx, func(w store.Writer) error {
		t, err := ownTablet(w, c, id)
		switch {
		case err != nil:
			return err
		case !t.Revoked:
			return ErrNotWithdrawn
		case t.Cleared != "":
			return nil
		}
		news = true
		t.Cleared, t.Waiting, t.OldestWaiting, t.WaitingClients = stamp(s.now()), 0, "", nil
		return w.SetTablet(t)
	})
	if err != nil {
		return fmt.Errorf("note that a tablet is clear: %w", err)
	}
	if !news {
		return nil
	}
	return s.note(c.Source, c.Person, "tablet cleared", id, audit.OK)
}
