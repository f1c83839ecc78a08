package server

import (
	"net/http"

	"github.com/gorilla/mux"

	"doorsill/internal/account"
)

// tabletRevoke withdraws a tablet for good.
func tabletRevoke(s *server, r *http.Request, c account.Caller) (answer, error) {
	v, err := s.deps.Accounts.RevokeTablet(r.Context(), c, mux.Vars(r)["id"])
	if err != nil {
		return answer{}, err
	}
	return ok(tabletRow(v)), nil
}
