package server

import (
	"net/http"
	"time"

	"doorsill/internal/account"
)

// sessionEnd signs out and takes the cookie back.
func sessionEnd(s *server, r *http.Request, c account.Caller) (answer, error) {
	if err := s.deps.Accounts.SignOut(r.Context(), c); err != nil {
		return answer{}, err
	}
	return answer{header: s.cookie("", time.Time{})}, nil
}
