package server

import (
	"errors"
	"net/http"
	"time"

	"doorsill/internal/account"
)

// sessionRead says who is signed in.
func sessionRead(s *server, r *http.Request, c account.Caller) (answer, error) {
	body, err := s.sessionAnswer(r, c)
	return ok(body), err
}

func (s *server) sessionAnswer(r *http.Request, c account.Caller) (SessionAnswer, error) {
	log, err := s.deps.Desk.Log(r.Context())
	if err != nil {
		return SessionAnswer{}, err
	}
	a := SessionAnswer{
		Person: PersonBrief{ID: c.Person, Name: c.Name, Credential: c.Credential},
		Teams:  []Membership{}, Admin: c.Admin, Tablet: c.Tablet, Log: log,
		Expires:      c.Expires.UTC().Format(time.RFC3339),
		Organisation: OrganisationKey{ID: s.deps.Organisation.ID(), Key: s.deps.Organisation.Public()},
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

// withDemo adds to "please sign in" how to do so, on a demo.
func (s *server) withDemo(err error) error {
	if s.deps.Demo == "" || !errors.Is(err, account.ErrSignedOut) {
		return err
	}
	return &refusal{status: http.StatusUnauthorized, cause: err, body: SignedOutAnswer{
		ErrorAnswer: ErrorAnswer{Error: "signed-out", Message: "Please sign in."},
		Demo:        &DemoHint{Text: s.deps.Demo},
	}}
}
