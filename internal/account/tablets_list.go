package account

import (
	"context"

	"doorsill/internal/store"
)

// TabletView is a tablet with the names that people know.
type TabletView struct {
	store.Tablet
	// Owner is whose it is, Withdrawer who revoked it, or empty.
	Owner, Withdrawer string
}

// TabletsOfTeam lists the tablets of a team's people, for its leads and for
// admins.
func (s *Service) TabletsOfTeam(ctx context.Context, c Caller, team string) (list []TabletView, err error) {
	if !c.SignedIn() {
		return nil, ErrSignedOut
	}
	if !c.Leads(team) && !c.Admin {
		return nil, ErrNotAllowed
	}
	err = s.store.View(ctx, func(r store.Reader) error {
		if _, err := r.Team(team); err != nil {
			return found(err)
		}
		members, err := r.MembershipsOfTeam(team)
		if err != nil {
			return err // some may be missing
		}
		for _, m := range members {
			if list, err = appendTablets(list, r, m.Person); err != nil {
				return err
			}
		}
		return nil
	})
	return list, err
}

// TabletsOfPerson lists somebody's tablets, for themselves and for admins, who
// look after the tablets of people that have left every team.
func (s *Service) TabletsOfPerson(ctx context.Context, c Caller, person string) (list []TabletView, err error) {
	if !c.SignedIn() {
		return nil, ErrSignedOut
	}
	if c.Person != person && !c.Admin {
		return nil, ErrNotAllowed
	}
	err = s.store.View(ctx, func(r store.Reader) error {
		list, err = appendTablets(nil, r, person)
		return err
	})
	return list, err
}

func appendTablets(list []TabletView, r store.Reader, person string) ([]TabletView, error) {
	p, err := r.Person(person)
	if err != nil {
		return nil, found(err)
	}
	tablets, err := r.TabletsOfPerson(person)
	if err != nil {
		return nil, err
	}
	for _, t := range tablets {
		v := TabletView{Tablet: t, Owner: p.Name}
		if t.Revoked {
			v.Withdrawer = nameOf(r, t.RevokedBy)
		}
		list = append(list, v)
	}
	return list, nil
}

// nameOf is a person's name; somebody who is no account, or can not be read, stays
// an id.
func nameOf(r store.Reader, id string) string {
	if p, err := r.Person(id); err == nil {
		return p.Name
	}
	return id
}

// HoldingElsewhere lists the caller's tablets, all but the one named, whose last
// report said that they held entries that nobody else has.
func (s *Service) HoldingElsewhere(ctx context.Context, c Caller, but string) (list []store.Tablet, err error) {
	if !c.SignedIn() {
		return nil, ErrSignedOut
	}
	err = s.store.View(ctx, func(r store.Reader) error {
		all, err := r.TabletsOfPerson(c.Person)
		for _, t := range all {
			if t.ID != but && t.Waiting > 0 {
				list = append(list, t)
			}
		}
		return err
	})
	return list, err
}
