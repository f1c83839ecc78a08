package server

import (
	"net/http"

	"doorsill/internal/account"
	"doorsill/internal/store"
)

// HealthAnswer is the answer of GET /healthz. Status is "ok", "store" when the
// records can not be read, or "full" when they can, but nothing is taken in.
type HealthAnswer struct {
	Status string `json:"status"`
}

// healthRead says whether the store can be read.
func healthRead(s *server, r *http.Request, _ account.Caller) (answer, error) {
	if _, err := s.deps.Records.Log(r.Context()); err != nil {
		return answer{status: http.StatusServiceUnavailable, body: HealthAnswer{Status: "store"}}, nil
	}
	if disk, is := s.deps.Store.(store.Spacious); is && disk.Room() != nil {
		return ok(HealthAnswer{Status: "full"}), nil
	}
	return ok(HealthAnswer{Status: "ok"}), nil
}
