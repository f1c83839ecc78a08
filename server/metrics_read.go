package server

import (
	"bytes"
	"crypto/subtle"
	"net/http"

	"doorsill/internal/account"
	"doorsill/internal/store"
)

// metricsRead prints the metrics for loopback or whoever has the token. Behind
// a proxy everything comes from loopback, so only the token counts.
func metricsRead(s *server, r *http.Request, _ account.Caller) (answer, error) {
	if !s.mayReadMetrics(r) {
		return answer{}, account.ErrNotAllowed
	}
	var head int64
	err := s.deps.Store.View(r.Context(), func(reader store.Reader) (err error) {
		head, err = reader.Head()
		return err
	})
	if err != nil {
		return answer{}, err
	}
	var out bytes.Buffer
	s.metrics.write(&out, []gauge{
		{"doorsill_log_head", "Last position of the log.", float64(head)},
		{"doorsill_visits_unscored", "Visits that the engine could not score.", float64(s.deps.Index.Unscored())},
	})
	return answer{text: out.String()}, nil
}

func (s *server) mayReadMetrics(r *http.Request) bool {
	if token := s.deps.MetricsToken; token != "" {
		given := r.Header.Get("Authorization")
		if subtle.ConstantTimeCompare([]byte(given), []byte("Bearer "+token)) == 1 {
			return true
		}
	}
	return len(s.proxies) == 0 && peerOf(r).IsLoopback()
}
