package server

import (
	"net/http"

	"github.com/gorilla/mux"

	"doorsill/internal/account"
)

// clientRead gives a client with all visits.
func clientRead(s *server, r *http.Request, c account.Caller) (answer, error) {
	id := mux.Vars(r)["id"]
	v, err := s.deps.Records.Client(r.Context(), c, id)
	if err == nil && s.rescored(r, v.Visits...) {
		v, err = s.deps.Records.Client(r.Context(), c, id)
	}
	if err != nil {
		return answer{}, err
	}
	a := ClientAnswer{Client: v.Client, Visits: make([]VisitAnswer, 0, len(v.Visits))}
	for _, one := range v.Visits {
		visit, err := s.wordings.visitAnswer(one)
		if err != nil {
			return answer{}, err
		}
		a.Visits = append(a.Visits, visit)
	}
	return ok(a).about(id, v.Client.Team), nil
}
