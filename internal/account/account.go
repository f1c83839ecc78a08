// Package account knows the people of a service: who may sign in, in which
// team they work and in which role, which sessions and tablets are theirs. It
// knows nothing of clients.
//
// Every function that reads or writes takes the Caller and decides itself
// whether the caller may; the HTTP edge only says who is calling.
package account

import (
	"crypto/rand"
	"encoding/hex"
	"errors"
	"io"
	"time"

	"doorsill/internal/audit"
	"doorsill/internal/model"
	"doorsill/internal/store"
)

// These are what the functions of this package refuse with.
var (
	// ErrSignedOut is returned when there is no session, or it has ended.
	ErrSignedOut = errors.New("not signed in")

	// ErrNotAllowed is returned when the caller's role does not cover what
	// was asked, or what was asked about does not exist for them.
	ErrNotAllowed = errors.New("not allowed")

	// ErrNotFound is returned to callers who may know that a record does not
	// exist.
	ErrNotFound = errors.New("not found")

	// ErrWrongPassword is returned for an unknown login and a wrong password
	// alike.
	ErrWrongPassword = errors.New("login or password is wrong")

	// ErrTooMany is returned when sign-in was tried too often; see TooMany.
	ErrTooMany = errors.New("too many tries")

	// ErrBusy is returned when too many passwords wait to be checked.
	ErrBusy = errors.New("busy")
)

// Caller is the person on whose behalf something is done. The zero Caller is
// nobody and may do nothing.
type Caller struct {
	// Person is the person's id; empty for nobody.
	Person     string
	Name       string
	Credential string
	// Login is the name that the person signs in with.
	Login string
	// Admin may manage people and teams, and has no role in any team.
	Admin bool
	// Teams holds the person's role by team id.
	Teams map[string]string
	// Session is the hash of the session's secret.
	Session string
	// Tablet is the tablet that the session is bound to, or empty.
	Tablet string
	// Withdrawn says that this tablet was revoked: the session may only send
	// what the tablet holds and say that it is clear.
	Withdrawn bool
	// ByProvider says that the sign-in provider opened the session, so that no
	// password was typed on this device.
	ByProvider bool
	// Browser is the secret by which the browser is to be known to have signed
	// this person in; only signing in gives it.
	Browser string
	// Expires is when the session ends at the latest.
	Expires time.Time
	// Source is where the request came from, for the audit trail.
	Source string
}

// SignedIn says whether there is a person at all.
func (c Caller) SignedIn() bool { return c.Person != "" }

// Role returns the caller's role in a team, or "".
func (c Caller) Role(team string) string { return c.Teams[team] }

// Member says whether the caller works in the team, whatever the role.
func (c Caller) Member(team string) bool { return team != "" && c.Teams[team] != "" }

// Leads says whether the caller leads the team.
func (c Caller) Leads(team string) bool {
	return team != "" && c.Teams[team] == model.RoleLead
}

// Options are what a service of accounts is made with.
type Options struct {
	Store store.Store
	Trail *audit.Trail
	// Now is the clock.
	Now func() time.Time
	// Random is the source of secrets and ids; nil takes crypto/rand.
	Random io.Reader
	// TabletNames makes the names of tablets; the zero value makes them without
	// marks.
	TabletNames TabletNames
	// Cost of a password hash; zero takes ServerCost.
	Cost Cost
	// Idle ends a session that was not used for so long; zero takes 4 h. It
	// is longer than a desk application's, because a home visit without a
	// network lies between two requests; the tablet locks itself after
	// minutes.
	Idle time.Duration
	// Absolute ends every session; zero takes 12 h.
	Absolute time.Duration
	// Names are what the service and its organisation are called, such as host
	// names: no password may be made of them.
	Names []string
}

// Service is the accounts of one service. Close it before its trail.
type Service struct {
	store       store.Store
	tabletNames TabletNames
	trail       *audit.Trail
	now         func() time.Time
	random      io.Reader
	hasher      *Hasher
	limiter     *signInLimiter
	refusals    *refusals
	idle        time.Duration
	absolute    time.Duration
	names       []string
}

// New returns a service of accounts.
func New(o Options) (*Service, error) {
	if o.Random == nil {
		o.Random = rand.Reader
	}
	if o.Cost == (Cost{}) {
		o.Cost = ServerCost()
	}
	if o.Idle == 0 {
		o.Idle = 4 * time.Hour
	}
	if o.Absolute == 0 {
		o.Absolute = 12 * time.Hour
	}
	hasher, err := NewHasher(o.Cost, o.Random)
	if err != nil {
		return nil, err
	}
	return &Service{
		store: o.Store, tabletNames: o.TabletNames, trail: o.Trail, now: o.Now, random: o.Random, hasher: hasher,
		limiter: newSignInLimiter(), refusals: newRefusals(), idle: o.Idle, absolute: o.Absolute, names: o.Names,
	}, nil
}

// newID returns 128 random bits in hex.
func (s *Service) newID() (string, error) {
	b := make([]byte, 16)
	if _, err := io.ReadFull(s.random, b); err != nil {
		return "", err
	}
	return hex.EncodeToString(b), nil
}

func stamp(t time.Time) string { return t.UTC().Format(store.TimeLayout) }
