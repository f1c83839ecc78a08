package account

import (
	"context"
	"fmt"
	"sort"
	"strings"
	"unicode/utf8"

	"doorsill/internal/audit"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// AddTeam makes a team; admins only. The error may be a *validation.Error.
func (s *Service) AddTeam(ctx context.Context, c Caller, name string) (store.Team, error) {
	if err := adminOnly(c); err != nil {
		return store.Team{}, err
	}
	name = strings.TrimSpace(name)
	if n := utf8.RuneCountInString(name); n == 0 || n > maxName {
		return store.Team{}, validation.Invalid("name", "1 to 120 characters")
	}
	id, err := s.newID()
	if err != nil {
		return store.Team{}, err
	}
	team := store.Team{ID: id, Name: name}
	err = s.store.Update(ctx, func(w store.Writer) error {
		all, err := w.Teams()
		if err != nil {
			return err
		}
		for _, t := range all {
			if strings.EqualFold(t.Name, name) {
				return validation.Invalid("name", "a name that no other team has")
			}
		}
		return w.SetTeam(team)
	})
	if err != nil {
		return store.Team{}, fmt.Errorf("add team: %w", err)
	}
	return team, s.note(c.Source, c.Person, "add team", id, audit.OK)
}

// Teams lists all teams for an admin and the caller's own for others, ordered
// by name.
func (s *Service) Teams(ctx context.Context, c Caller) (list []store.Team, err error) {
	if !c.SignedIn() {
		return nil, ErrSignedOut
	}
	err = s.store.View(ctx, func(r store.Reader) error {
		all, err := r.Teams()
		for _, t := range all {
			if c.Admin || c.Member(t.ID) {
				list = append(list, t)
			}
		}
		return err
	})
	sort.SliceStable(list, func(i, j int) bool { return list[i].Name < list[j].Name })
	return list, err
}
