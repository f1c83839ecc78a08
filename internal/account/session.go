package account

import (
	"context"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"doorsill/internal/store"
)

const (
	secretBytes = 32
	// seenEvery bounds how often a session's last use is written down.
	seenEvery = 5 * time.Minute

	// clockSlack is how far in the future a session may have been opened. One
	// from further ahead was opened while the server's clock was wrong, and
	// would last until that time comes.
	clockSlack = 5 * time.Minute
	maxAgent   = 200
)

// newSecret returns 256 random bits as text.
func (s *Service) newSecret() (string, error) {
	raw := make([]byte, secretBytes)
	if _, err := io.ReadFull(s.random, raw); err != nil {
		return "", fmt.Errorf("make secret: %w", err)
	}
	return base64.RawURLEncoding.EncodeToString(raw), nil
}

// openSession makes a new session and ends the one that it replaces. browser is
// the secret with which the browser is known from now on.
func (s *Service) openSession(ctx context.Context, p store.Person, in SignIn) (secret, browser string, opened store.Session, err error) {
	secret, err = s.newSecret()
	if err != nil {
		return "", "", store.Session{}, err
	}
	fresh, err := s.newSecret()
	if err != nil {
		return "", "", store.Session{}, err
	}
	now := s.now()
	session := store.Session{
		Hash: hashSecret(secret), Person: p.ID, ByProvider: in.byProvider, Agent: clip(in.Agent, maxAgent),
		Created: stamp(now), Seen: stamp(now), Expires: stamp(now.Add(min(s.idle, s.absolute))),
	}
	err = s.store.Update(ctx, func(w store.Writer) error {
		if _, err := w.RemoveSessionsExpired(stamp(now)); err != nil {
			return err
		}
		if in.Replaces != "" {
			if err := w.RemoveSession(hashSecret(in.Replaces)); err != nil {
				return err
			}
		}
		// A revoked tablet is bound too, or signing in again would free it.
		if t, err := w.Tablet(in.Tablet); err == nil && t.Person == p.ID {
			session.Tablet = t.ID
		}
		if browser, err = s.remember(w, p.ID, in.Browsers[p.ID], fresh, in.Source); err != nil {
			return err
		}
		return errors.Join(w.SetSession(session), contact(w, session.Tablet, session.Seen))
	})
	if err != nil {
		return "", "", store.Session{}, fmt.Errorf("open session: %w", err)
	}
	return secret, browser, session, nil
}

// Authenticate returns the caller that a cookie's secret stands for, and notes
// that the session was used. The error is ErrSignedOut or one of the store.
func (s *Service) Authenticate(ctx context.Context, secret, source string) (Caller, error) {
	if secret == "" {
		return Caller{}, ErrSignedOut
	}
	var session store.Session
	err := s.store.View(ctx, func(r store.Reader) (err error) {
		session, err = r.Session(hashSecret(secret))
		return err
	})
	if errors.Is(err, store.ErrNotFound) {
		return Caller{}, ErrSignedOut
	}
	if err != nil {
		return Caller{}, fmt.Errorf("look up session: %w", err)
	}
	now := s.now()
	if session.Expires <= stamp(now) || session.Created > stamp(now.Add(clockSlack)) {
		return Caller{}, ErrSignedOut
	}
	if session.Seen <= stamp(now.Add(-seenEvery)) {
		if err := s.touch(ctx, session.Hash, now); err != nil {
			return Caller{}, err
		}
	}
	return s.caller(ctx, session, source)
}

// touch moves the idle end of a session; the absolute end stays.
func (s *Service) touch(ctx context.Context, hash string, now time.Time) error {
	err := s.store.Update(ctx, func(w store.Writer) error {
		session, err := w.Session(hash)
		if errors.Is(err, store.ErrNotFound) {
			return ErrSignedOut
		}
		if err != nil {
			return err
		}
		session.Seen = stamp(now)
		session.Expires = min(stamp(now.Add(s.idle)), stamp(s.end(session)))
		return errors.Join(w.SetSession(session), contact(w, session.Tablet, session.Seen))
	})
	if err != nil {
		return fmt.Errorf("note use of session: %w", err)
	}
	return nil
}

// contact notes when a tablet was last heard of.
func contact(w store.Writer, tablet, at string) error {
	t, err := w.Tablet(tablet)
	if errors.Is(err, store.ErrNotFound) {
		return nil // a browser that is no tablet
	}
	if err != nil {
		return err
	}
	t.Seen = at
	return w.SetTablet(t)
}

// end is when a session ends whatever happens.
func (s *Service) end(session store.Session) time.Time {
	created, err := time.Parse(store.TimeLayout, session.Created)
	if err != nil {
		return time.Time{}
	}
	return created.Add(s.absolute)
}

// caller reads who the session's person is now: roles are never older than the
// request.
func (s *Service) caller(ctx context.Context, session store.Session, source string) (Caller, error) {
	c := Caller{Session: session.Hash, Tablet: session.Tablet, ByProvider: session.ByProvider, Expires: s.end(session), Source: source}
	err := s.store.View(ctx, func(r store.Reader) error {
		p, err := r.Person(session.Person)
		if errors.Is(err, store.ErrNotFound) || err == nil && !p.Active {
			return ErrSignedOut
		}
		if err != nil {
			return err
		}
		c.Person, c.Name, c.Credential, c.Login, c.Admin = p.ID, p.Name, p.Credential, p.Login, p.Admin
		if c.Withdrawn, err = withdrawn(r, session.Tablet); err != nil {
			return err
		}
		if p.Admin {
			return nil // an admin has no team, whatever is stored
		}
		c.Teams, err = rolesOf(r, p.ID)
		return err
	})
	if err != nil {
		return Caller{}, err
	}
	return c, nil
}

func withdrawn(r store.Reader, tablet string) (bool, error) {
	t, err := r.Tablet(tablet)
	if errors.Is(err, store.ErrNotFound) {
		return false, nil
	}
	return t.Revoked, err
}

// RolesOf returns a person's roles by team id.
func RolesOf(r store.Reader, person string) (map[string]string, error) { return rolesOf(r, person) }

func rolesOf(r store.Reader, person string) (map[string]string, error) {
	list, err := r.MembershipsOfPerson(person)
	if err != nil {
		return nil, err
	}
	roles := make(map[string]string, len(list))
	for _, m := range list {
		roles[m.Team] = m.Role
	}
	return roles, nil
}

// hashSecret is what is stored instead of a secret. The secret is random and
// long, so a plain hash is enough.
func hashSecret(secret string) string {
	sum := sha256.Sum256([]byte(secret))
	return hex.EncodeToString(sum[:])
}

// publicID names a session in lists without giving its stored hash away.
func publicID(hash string) string {
	return hashSecret("session " + hash)[:16]
}

func clip(s string, most int) string {
	if len(s) > most {
		s = s[:most]
	}
	return strings.ToValidUTF8(s, "")
}

// found turns the store's ErrNotFound into ours.
func found(err error) error {
	if errors.Is(err, store.ErrNotFound) {
		return ErrNotFound
	}
	return err
}
