package server

import (
	"net/http"

	"doorsill/internal/account"
)

// HealthAnswer is the answer of GET /healthz.
type HealthAnswer struct {
	Status string `json:"status"`
}

// healthRead says whether the store can be read.
func healthRead(s *server, r *http.Request, _ account.Caller) (answer, error) {
	if _, err := s.deps.Desk.Log(r.Context()); err != nil {
		return answer{status: http.StatusServiceUnavailable, body: HealthAnswer{Status: "store"}}, nil
	}
	return ok(HealthAnswer{Status: "ok"}), nil
}
