package server

import (
	"net/http"

	"github.com/gorilla/mux"

	"doorsill/internal/account"
)

// tabletHolding takes a tablet's report on what it has not sent.
func tabletHolding(s *server, r *http.Request, c account.Caller) (answer, error) {
	var in HoldingReport
	if err := decode(r, &in); err != nil {
		return answer{}, err
	}
	tablet := mux.Vars(r)["id"]
	if err := s.deps.Accounts.Holding(r.Context(), c, tablet, in.Waiting, in.Oldest); err != nil {
		return answer{}, err
	}
	s.deps.Index.Holding(c, tablet, in.Clients)
	return answer{}, nil
}
