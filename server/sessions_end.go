package server

import (
	"net/http"
	"time"

	"github.com/gorilla/mux"

	"doorsill/internal/account"
)

// sessionsEnd signs the caller out everywhere.
func sessionsEnd(s *server, r *http.Request, c account.Caller) (answer, error) {
	if err := s.deps.Accounts.SignOutEverywhere(r.Context(), c, c.Person); err != nil {
		return answer{}, err
	}
	return answer{header: s.cookie("", time.Time{})}, nil
}

// sessionsEndOne ends one of the caller's sessions.
func sessionsEndOne(s *server, r *http.Request, c account.Caller) (answer, error) {
	return answer{}, s.deps.Accounts.EndSession(r.Context(), c, mux.Vars(r)["id"])
}
