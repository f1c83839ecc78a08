package server

import (
	"errors"
	"net/http"
	"time"

	"doorsill/internal/account"
	"doorsill/internal/store"
)

// HealthAnswer is the answer of GET /healthz. Status is "ok", "store" when the
// records can not be read, "damaged" when the end of the log or of the audit trail
// can not be relied on and nothing is taken in any more, "full" when only space is
// missing, or "differs" when something does not follow from the log.
type HealthAnswer struct {
	Status string `json:"status"`
	// Verified is when the records were last verified while serving; left out
	// where they were not.
	Verified string `json:"verified,omitempty"`
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
	return ok(s.verifiedHealth()), nil
}

// verifiedHealth is the answer of a server that works, by what its last pass over
// the records found.
func (s *server) verifiedHealth() HealthAnswer {
	last := s.deps.Watch.Last()
	if last.At.IsZero() {
		return HealthAnswer{Status: "ok"}
	}
	h := HealthAnswer{Status: "ok", Verified: last.At.UTC().Format(time.RFC3339)}
	if !last.Clean() {
		h.Status = "differs"
	}
	return h
}
