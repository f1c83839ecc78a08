package account

import (
	"context"
	"errors"
	"fmt"
	"sort"

	"doorsill/internal/audit"
	"doorsill/internal/store"
)

// SessionInfo is one of a person's sessions, without its secret.
type SessionInfo struct {
	ID            string
	Created, Seen string
	Agent         string
	// Tablet is the label of the tablet that the session is bound to, or empty.
	Tablet  string
	Current bool
}

// Sessions lists the caller's own sessions, last used first.
func (s *Service) Sessions(ctx context.Context, c Caller) ([]SessionInfo, error) {
	list, err := s.sessionsOf(ctx, c)
	if err != nil {
		return nil, err
	}
	infos := make([]SessionInfo, 0, len(list))
	err = s.store.View(ctx, func(r store.Reader) error {
		for _, one := range list {
			t, err := r.Tablet(one.Tablet)
			if err != nil && !errors.Is(err, store.ErrNotFound) {
				return err
			}
			infos = append(infos, SessionInfo{
				ID: publicID(one.Hash), Created: one.Created, Seen: one.Seen,
				Agent: one.Agent, Tablet: t.Label, Current: one.Hash == c.Session,
			})
		}
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("list sessions: %w", err)
	}
	sort.SliceStable(infos, func(i, j int) bool { return infos[i].Seen > infos[j].Seen })
	return infos, nil
}

func (s *Service) sessionsOf(ctx context.Context, c Caller) (live []store.Session, err error) {
	if !c.SignedIn() {
		return nil, ErrSignedOut
	}
	now := stamp(s.now())
	err = s.store.View(ctx, func(r store.Reader) error {
		list, err := r.SessionsOfPerson(c.Person)
		for _, one := range list {
			if one.Expires > now {
				live = append(live, one)
			}
		}
		return err
	})
	return live, err
}

// SignOut ends the caller's session.
func (s *Service) SignOut(ctx context.Context, c Caller) error {
	if !c.SignedIn() {
		return ErrSignedOut
	}
	return s.end1(ctx, c, c.Session, "sign out")
}

// EndSession ends one of the caller's own sessions by the id that Sessions
// gave it.
func (s *Service) EndSession(ctx context.Context, c Caller, id string) error {
	list, err := s.sessionsOf(ctx, c)
	if err != nil {
		return err
	}
	for _, one := range list {
		if publicID(one.Hash) == id {
			return s.end1(ctx, c, one.Hash, "end session")
		}
	}
	return ErrNotFound
}

func (s *Service) end1(ctx context.Context, c Caller, hash, action string) error {
	err := s.store.Update(ctx, func(w store.Writer) error { return w.RemoveSession(hash) })
	if err != nil {
		return fmt.Errorf("end session: %w", err)
	}
	return s.note(c.Source, c.Person, action, publicID(hash), audit.OK)
}

// SignOutEverywhere ends all sessions of a person: the caller's own, or
// anybody's for an admin.
func (s *Service) SignOutEverywhere(ctx context.Context, c Caller, person string) error {
	if !c.SignedIn() {
		return ErrSignedOut
	}
	if c.Person != person && !c.Admin {
		return ErrNotAllowed
	}
	err := s.store.Update(ctx, func(w store.Writer) error {
		if _, err := w.Person(person); err != nil {
			return found(err)
		}
		_, err := w.RemoveSessionsOfPerson(person)
		return err
	})
	if err != nil {
		return fmt.Errorf("end sessions: %w", err)
	}
	return s.note(c.Source, c.Person, "sign out everywhere", person, audit.OK)
}
