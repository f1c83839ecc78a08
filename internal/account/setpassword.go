package account

import (
	"context"
	"fmt"

	"doorsill/internal/audit"
	"doorsill/internal/store"
)

// SetPassword gives a person a new password: their own, naming the current
// one, or anybody's for an admin. All other sessions of the person end. The
// error may be a *validation.Error, ErrWrongPassword or ErrTooMany.
func (s *Service) SetPassword(ctx context.Context, c Caller, person, current, password string) error {
	if !c.SignedIn() {
		return ErrSignedOut
	}
	own := c.Person == person
	if !own && !c.Admin {
		return ErrNotAllowed
	}
	p, err := s.person(ctx, person)
	if err != nil {
		return err
	}
	if own {
		if err := s.checkCurrent(ctx, c, p, current); err != nil {
			return err
		}
	}
	err = s.store.View(ctx, func(r store.Reader) error {
		roles, err := rolesOf(r, person)
		if err != nil {
			return err
		}
		return s.checkNewPassword(r, password, p, roles)
	})
	if err != nil {
		return err
	}
	hash, err := s.hasher.Hash(ctx, password)
	if err != nil {
		return err
	}
	if err := s.storePassword(ctx, c, person, hash); err != nil {
		return fmt.Errorf("set password: %w", err)
	}
	s.limiter.newPassword(person, p.Login)
	return s.note(c.Source, c.Person, "set password", person, audit.OK)
}

// checkCurrent asks for the password again, so that an open screen alone does
// not take an account over.
func (s *Service) checkCurrent(ctx context.Context, c Caller, p store.Person, current string) error {
	try, err := s.limiter.take(attempt{source: c.Source, login: p.Login, person: p.ID, own: "session " + c.Session}, s.now())
	if err != nil {
		return err
	}
	ok, _, err := s.hasher.Verify(ctx, p.Hash, current)
	if err != nil {
		try.untried()
		return err
	}
	if !ok {
		return ErrWrongPassword
	}
	try.succeeded()
	return nil
}

func (s *Service) storePassword(ctx context.Context, c Caller, person, hash string) error {
	return s.store.Update(ctx, func(w store.Writer) error {
		p, err := w.Person(person)
		if err != nil {
			return found(err)
		}
		p.Hash = hash
		if err := w.SetPerson(p); err != nil {
			return err
		}
		list, err := w.SessionsOfPerson(person)
		if err != nil {
			return err
		}
		for _, one := range list {
			if one.Hash == c.Session {
				continue
			}
			if err := w.RemoveSession(one.Hash); err != nil {
				return err
			}
		}
		return nil
	})
}

func (s *Service) person(ctx context.Context, id string) (p store.Person, err error) {
	err = s.store.View(ctx, func(r store.Reader) (err error) {
		p, err = r.Person(id)
		return found(err)
	})
	return p, err
}

// PersonByLogin finds somebody for the command line; admins only.
func (s *Service) PersonByLogin(ctx context.Context, c Caller, login string) (v PersonView, err error) {
	if err := adminOnly(c); err != nil {
		return PersonView{}, err
	}
	err = s.store.View(ctx, func(r store.Reader) error {
		p, err := r.PersonByLogin(foldLogin(login))
		if err != nil {
			return found(err)
		}
		roles, err := rolesOf(r, p.ID)
		v = viewOf(p, roles)
		return err
	})
	return v, err
}
