package server

import (
	"net/http"

	"doorsill/internal/account"
)

// tabletAdd registers the caller's device.
func tabletAdd(s *server, r *http.Request, c account.Caller) (answer, error) {
	var in TabletRequest
	if err := decode(r, &in); err != nil {
		return answer{}, err
	}
	t, err := s.deps.Accounts.AddTablet(r.Context(), c, in.Label)
	return answer{status: http.StatusCreated, body: TabletMade{ID: t.ID}}, err
}
