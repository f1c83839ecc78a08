package account

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"doorsill/internal/audit"
	"doorsill/internal/store"
)

// SignIn is one try to sign in.
type SignIn struct {
	Login    string
	Password string
	// Tablet is the tablet that the browser says it is, or empty. It counts
	// only when it belongs to the person.
	Tablet string
	// Agent is what the browser calls itself; Source where it calls from.
	Agent  string
	Source string
	// Replaces is the secret of the session that the browser had before, or
	// empty; it ends.
	Replaces string
}

// SignIn checks a password and opens a session. It returns the secret for the
// browser's cookie, which is kept nowhere else. The error is ErrWrongPassword,
// ErrTooMany, ErrBusy, or one of the store.
func (s *Service) SignIn(ctx context.Context, in SignIn) (secret string, c Caller, err error) {
	login := foldLogin(in.Login)
	giveBack, err := s.limiter.take(in.Source, login, s.now())
	if err != nil {
		return "", Caller{}, err
	}
	person, err := s.checkPassword(ctx, login, in.Password)
	if err != nil {
		if errors.Is(err, ErrWrongPassword) {
			err = errors.Join(err, s.note(in.Source, person.ID, "sign in", person.ID, audit.Denied))
		} else {
			giveBack()
		}
		return "", Caller{}, err
	}
	giveBack()
	secret, session, err := s.openSession(ctx, person, in)
	if err != nil {
		return "", Caller{}, err
	}
	if err := s.note(in.Source, person.ID, "sign in", person.ID, audit.OK); err != nil {
		return "", Caller{}, err
	}
	c, err = s.caller(ctx, session, in.Source)
	return secret, c, err
}

// checkPassword returns the person of the login when the password is theirs.
// With ErrWrongPassword the person may be known all the same, for the trail.
func (s *Service) checkPassword(ctx context.Context, login, password string) (store.Person, error) {
	var p store.Person
	err := s.store.View(ctx, func(r store.Reader) (err error) {
		p, err = r.PersonByLogin(login)
		return err
	})
	if errors.Is(err, store.ErrNotFound) || err == nil && !p.Active {
		if err := s.hasher.VerifyNobody(ctx, password); err != nil {
			return p, err
		}
		return p, ErrWrongPassword
	}
	if err != nil {
		return p, fmt.Errorf("look up login: %w", err)
	}
	ok, stale, err := s.hasher.Verify(ctx, p.Hash, password)
	if err != nil {
		return p, err
	}
	if !ok {
		return p, ErrWrongPassword
	}
	if stale {
		return s.rehash(ctx, p, password)
	}
	return p, nil
}

// rehash stores the hash again at today's cost.
func (s *Service) rehash(ctx context.Context, p store.Person, password string) (store.Person, error) {
	hash, err := s.hasher.Hash(ctx, password)
	if err != nil {
		return p, err
	}
	err = s.store.Update(ctx, func(w store.Writer) error {
		now, err := w.Person(p.ID)
		if err != nil || now.Hash != p.Hash {
			return err // changed meanwhile: leave it
		}
		now.Hash = hash
		return w.SetPerson(now)
	})
	return p, err
}

// foldLogin makes one login out of the ways to type it.
func foldLogin(login string) string {
	login = strings.ToLower(norm.NFKC.String(strings.TrimSpace(login)))
	if utf8.RuneCountInString(login) > maxLogin {
		login = string([]rune(login)[:maxLogin])
	}
	return login
}

// note writes a line of the audit trail about an account.
func (s *Service) note(source, person, action, subject, result string) error {
	return s.trail.Note(audit.Note{Person: person, Action: action, Subject: subject, From: source, Result: result})
}
