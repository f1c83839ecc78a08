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
	// Tablet is the tablet that the browser says it is, or empty. It is no
	// secret and proves nothing.
	Tablet string
	// Browsers are the secrets that the browser holds, by person; see
	// Caller.Browser.
	Browsers map[string]string
	// Agent is what the browser calls itself; Source where it calls from.
	Agent  string
	Source string
	// Replaces is the secret of the session that the browser had before, or
	// empty; it ends.
	Replaces string
	// byProvider is set when the sign-in provider stands in for the password.
	byProvider bool
}

// SignIn checks a password and opens a session. It returns the secret for the
// browser's cookie, which is kept nowhere else. The error is ErrWrongPassword,
// ErrTooMany, ErrBusy, or one of the store.
func (s *Service) SignIn(ctx context.Context, in SignIn) (secret string, c Caller, err error) {
	who, err := s.lookUp(ctx, in)
	if err != nil {
		return "", Caller{}, err
	}
	try, err := s.limiter.take(who.attempt(in.Source), s.now())
	if err != nil {
		return "", Caller{}, errors.Join(err, s.refused(in.Source, who.person.ID, "sign in", true))
	}
	person, err := s.checkPassword(ctx, who, in.Password)
	if err != nil {
		if errors.Is(err, ErrWrongPassword) {
			err = errors.Join(err, s.refused(in.Source, person.ID, "sign in", false))
		} else {
			try.untried()
		}
		return "", Caller{}, err
	}
	try.succeeded()
	return s.signedIn(ctx, person, in, "sign in")
}

// signedIn opens the session of somebody who has shown who they are.
func (s *Service) signedIn(ctx context.Context, p store.Person, in SignIn, action string) (secret string, c Caller, err error) {
	secret, browser, session, err := s.openSession(ctx, p, in)
	if err != nil {
		return "", Caller{}, err
	}
	if err := errors.Join(s.settle(false), s.note(in.Source, p.ID, action, p.ID, audit.OK)); err != nil {
		return "", Caller{}, err
	}
	c, err = s.caller(ctx, session, in.Source)
	c.Browser = browser
	return secret, c, err
}

// claim is who somebody says they are.
type claim struct {
	login string
	// person is whose login it is, or nobody.
	person store.Person
	// browser is the hash of the browser's secret when they have signed in there
	// before, else empty.
	browser string
	// network says that they have signed in from this network before.
	network bool
}

func (c claim) attempt(source string) attempt {
	a := attempt{source: source, login: c.login, person: c.person.ID, network: c.network}
	if c.browser != "" {
		a.own = "browser " + c.browser
	}
	return a
}

// lookUp finds whom a login belongs to, and whether they are known where they
// are. That there is nobody is no error: it must not be told.
func (s *Service) lookUp(ctx context.Context, in SignIn) (claim, error) {
	who := claim{login: foldLogin(in.Login)}
	err := s.store.View(ctx, func(r store.Reader) (err error) {
		who.person, err = r.PersonByLogin(who.login)
		return err
	})
	if errors.Is(err, store.ErrNotFound) {
		return who, nil
	}
	if err != nil {
		return claim{}, fmt.Errorf("look up login: %w", err)
	}
	if b, ok := s.knownBrowser(who.person, in.Browsers[who.person.ID]); ok {
		who.browser = b.Hash + " " + who.person.ID
	}
	who.network = s.knownNetwork(who.person, attackerNetwork(in.Source))
	return who, nil
}

// checkPassword returns the person of the login when the password is theirs.
// With ErrWrongPassword the person may be known all the same, for the trail.
// Whoever can not sign in is checked against a hash that no password has:
// every answer takes the time of one hash.
func (s *Service) checkPassword(ctx context.Context, who claim, password string) (store.Person, error) {
	p, hash, line := who.person, who.person.Hash, int32(hashesWaiting)
	if !p.Active || hash == "" {
		hash = s.hasher.nobody
	}
	if who.browser != "" {
		line = knownWaiting
	}
	ok, stale, err := s.hasher.verify(ctx, hash, password, line)
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
