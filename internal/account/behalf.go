package account

import (
	"context"
	"errors"
	"fmt"

	"doorsill/internal/store"
)

// OnBehalf returns a caller with somebody's id and roles, for the console alone:
// it hands in what that person wrote and could not send. A closed account
// counts too, since what was written before still has an author. The error is
// ErrNotAllowed, ErrNotFound or one of the store.
func (s *Service) OnBehalf(ctx context.Context, c Caller, person string) (Caller, error) {
	console := Console()
	if c.Person != console.Person || c.Source != console.Source {
		return Caller{}, ErrNotAllowed
	}
	them := Caller{Source: c.Source}
	err := s.store.View(ctx, func(r store.Reader) error {
		p, err := r.Person(person)
		if errors.Is(err, store.ErrNotFound) {
			return ErrNotFound
		}
		if err != nil {
			return err
		}
		them.Person, them.Name, them.Credential = p.ID, p.Name, p.Credential
		them.Teams, err = rolesOf(r, p.ID)
		return err
	})
	if err != nil {
		return Caller{}, fmt.Errorf("act for person %q: %w", person, err)
	}
	return them, nil
}
