package server

import (
	"errors"
	"net/http"

	"doorsill/internal/account"
	"doorsill/internal/store"
)

// HealthAnswer is the answer of GET /healthz. Status is "ok", "store" when the
// records can not be read, "damaged" when the end of the log or of the audit trail
// can not be relied on and nothing is taken in any more, or "full" when only space
// is missing.
type HealthAnswer struct {
	Status string `json:"status"`
}

// healthRead says whether the store can be read and added to.
func healthRead(s *server, r *http.Request, _ account.Caller) (answer, error) {
	_, err := s.deps.Records.Log(r.Context())
	if log, is := s.deps.Store.(store.Checked); is && err == nil {
		err = log.Sound()
	}
	if errors.Is(err, store.ErrDamaged) {
		return answer{status: http.StatusServiceUnavailable, body: HealthAnswer{Status: "damaged"}}, nil
	}
	if err != nil {
		return answer{status: http.StatusServiceUnavailable, body: HealthAnswer{Status: "store"}}, nil
	}
	if disk, is := s.deps.Store.(store.Spacious); is && disk.Room() != nil {
		return ok(HealthAnswer{Status: "full"}), nil
	}
	return ok(HealthAnswer{Status: "ok"}), nil
}
