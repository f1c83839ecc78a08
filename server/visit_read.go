package server

import (
	"net/http"

	"github.com/gorilla/mux"

	"doorsill/internal/account"
)

// visitRead gives one visit with its confirmed result.
func visitRead(s *server, r *http.Request, c account.Caller) (answer, error) {
	id := mux.Vars(r)["id"]
	v, err := s.deps.Records.Visit(r.Context(), c, id)
	if err == nil && s.rescored(r, v) {
		v, err = s.deps.Records.Visit(r.Context(), c, id)
	}
	if err != nil {
		return answer{}, err
	}
	a, err := s.wordings.visitAnswer(v)
	if err != nil {
		return answer{}, err
	}
	return ok(a).about(id, v.Visit.Team), nil
}
