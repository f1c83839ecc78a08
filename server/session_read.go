package server

import (
	"errors"
	"net/http"
	"time"

	"doorsill/internal/account"
	"doorsill/internal/store"
)

// sessionRead says who is signed in.
func sessionRead(s *server, r *http.Request, c account.Caller) (answer, error) {
	body, err := s.sessionAnswer(r, c)
	return ok(body), err
}

// unlockByPassword is said where no password was typed when signing in: the key
// of what is on the tablet still needs one.
const unlockByPassword = "password-needed"

func (s *server) sessionAnswer(r *http.Request, c account.Caller) (SessionAnswer, error) {
	log, err := s.deps.Records.Log(r.Context())
	if err != nil {
		return SessionAnswer{}, err
	}
	a := SessionAnswer{
		Person: PersonBrief{ID: c.Person, Name: c.Name, Credential: c.Credential},
		Login:  c.Login, Teams: []Membership{}, Admin: c.Admin, Tablet: c.Tablet, Log: log,
		ServerTime:   s.deps.Now().UTC().Format(store.TimeLayout),
		Expires:      c.Expires.UTC().Format(time.RFC3339),
		Organisation: OrganisationKey{ID: s.deps.Organisation.ID(), Key: s.deps.Organisation.Public()},
	}
	if c.ByProvider {
		a.Unlock = unlockByPassword
	}
	if c.Admin {
		return a, nil
	}
	teams, err := s.deps.Accounts.Teams(r.Context(), c)
	for _, t := range teams {
		a.Teams = append(a.Teams, Membership{ID: t.ID, Name: t.Name, Role: c.Role(t.ID)})
	}
	return a, err
}

// withHints adds to "please sign in" the ways to do so that a browser can not
// know: a demo's own words, the organisation's sign-in, and why it refused
// somebody.
func (s *server) withHints(r *http.Request, err error) error {
	if !errors.Is(err, account.ErrSignedOut) || s.deps.Demo == "" && s.deps.Provider == nil {
		return err
	}
	body := SignedOutAnswer{ErrorAnswer: ErrorAnswer{Error: "signed-out", Message: "Please sign in."}}
	if s.deps.Demo != "" {
		body.Demo = &DemoHint{Text: s.deps.Demo}
	}
	if s.deps.Provider != nil {
		body.Provider, body.Refused = "/api/v1/oidc/start", wordsOf(r.URL.Query().Get("refused"))
	}
	return &refusal{status: http.StatusUnauthorized, cause: err, body: body}
}
