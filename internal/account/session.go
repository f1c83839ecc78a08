package account

import (
	"context"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"sort"
	"strings"
	"time"

	"doorsill/internal/audit"
	"doorsill/internal/store"
)

const (
	secretBytes = 32
	// seenEvery bounds how often a session's last use is written down.
	seenEvery = 5 * time.Minute
	maxAgent  = 200
)

// SessionInfo is one of a person's sessions, without its secret.
type SessionInfo struct {
	ID            string
	Created, Seen string
	Agent         string
	Current       bool
}

// openSession makes a new session and ends the one that it replaces.
func (s *Service) openSession(ctx context.Context, p store.Person, in SignIn) (string, store.Session, error) {
	raw := make([]byte, secretBytes)
	if _, err := io.ReadFull(s.random, raw); err != nil {
		return "", store.Session{}, fmt.Errorf("make session: %w", err)
	}
	secret := base64.RawURLEncoding.EncodeToString(raw)
	now := s.now()
	session := store.Session{
		Hash: hashSecret(secret), Person: p.ID, Agent: clip(in.Agent, maxAgent),
		Created: stamp(now), Seen: stamp(now), Expires: stamp(now.Add(min(s.idle, s.absolute))),
	}
	err := s.store.Update(ctx, func(w store.Writer) error {
		if _, err := w.RemoveSessionsExpired(stamp(now)); err != nil {
			return err
		}
		if in.Replaces != "" {
			if err := w.RemoveSession(hashSecret(in.Replaces)); err != nil {
				return err
			}
		}
		if t, err := w.Tablet(in.Tablet); err == nil && t.Person == p.ID && !t.Revoked {
			session.Tablet = t.ID
		}
		return w.SetSession(session)
	})
	if err != nil {
		return "", store.Session{}, fmt.Errorf("open session: %w", err)
	}
	return secret, session, nil
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
	if session.Expires <= stamp(now) {
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
		return w.SetSession(session)
	})
	if err != nil {
		return fmt.Errorf("note use of session: %w", err)
	}
	return nil
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
	c := Caller{Session: session.Hash, Tablet: session.Tablet, Expires: s.end(session), Source: source}
	err := s.store.View(ctx, func(r store.Reader) error {
		p, err := r.Person(session.Person)
		if errors.Is(err, store.ErrNotFound) || err == nil && !p.Active {
			return ErrSignedOut
		}
		if err != nil {
			return err
		}
		c.Person, c.Name, c.Credential, c.Admin = p.ID, p.Name, p.Credential, p.Admin
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

// Sessions lists the caller's own sessions, last used first.
func (s *Service) Sessions(ctx context.Context, c Caller) ([]SessionInfo, error) {
	list, err := s.sessionsOf(ctx, c)
	if err != nil {
		return nil, err
	}
	infos := make([]SessionInfo, 0, len(list))
	for _, one := range list {
		infos = append(infos, SessionInfo{
			ID: publicID(one.Hash), Created: one.Created, Seen: one.Seen,
			Agent: one.Agent, Current: one.Hash == c.Session,
		})
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
