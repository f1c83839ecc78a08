package server

import (
	"net/http"

	"github.com/gorilla/mux"

	"doorsill/internal/account"
)

// agreementRead says how far the raters of a team agree, for its lead.
func agreementRead(s *server, r *http.Request, c account.Caller) (answer, error) {
	team := mux.Vars(r)["team"]
	report, err := s.deps.Agreement.Report(r.Context(), c, team)
	return ok(report).about("", team), err
}
