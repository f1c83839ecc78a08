package server

import (
	"net/http"

	"github.com/gorilla/mux"

	"doorsill/internal/account"
	"doorsill/internal/caseload"
)

// clientRead gives a client with all visits.
func clientRead(s *server, r *http.Request, c account.Caller) (answer, error) {
	id := mux.Vars(r)["id"]
	v, err := s.deps.Records.Client(r.Context(), c, id)
	if err != nil {
		return answer{}, err
	}
	a := ClientAnswer{Client: v.Client, Visits: make([]VisitAnswer, 0, len(v.Visits))}
	for _, one := range v.Visits {
		a.Visits = append(a.Visits, visitAnswer(one))
	}
	return ok(a).about(id, v.Client.Team), nil
}

func visitAnswer(v caseload.VisitView) VisitAnswer {
	a := VisitAnswer{Visit: v.Visit, Blind: v.Blind}
	switch {
	case v.Result == nil:
	case len(v.Result.Text) == 0:
		a.Unscored = true
	default:
		a.Result = &ResultBrief{
			Text: string(v.Result.Text), SHA256: v.Result.SHA256, Engine: v.Result.Engine, Rules: v.Result.Rules,
		}
	}
	return a
}
