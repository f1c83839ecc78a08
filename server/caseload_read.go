package server

import (
	"net/http"

	"github.com/gorilla/mux"

	"doorsill/internal/account"
	"doorsill/internal/caseload"
	"doorsill/internal/validation"
)

// caseloadRead gives a page of a team's caseload.
func caseloadRead(s *server, r *http.Request, c account.Caller) (answer, error) {
	team := mux.Vars(r)["team"]
	q, err := caseloadQuery(r)
	if err != nil {
		return answer{}, err
	}
	page, err := s.deps.Index.Page(c, team, q, s.deps.Now())
	return ok(page).about("", team), err
}

func caseloadQuery(r *http.Request) (q caseload.Query, err error) {
	v := r.URL.Query()
	offset, err := number(r, "offset")
	if err != nil {
		return q, err
	}
	limit, err := number(r, "limit")
	if err != nil {
		return q, err
	}
	switch order := v.Get("order"); order {
	case "", "asc", "desc":
		q.Desc = order == "desc"
	default:
		return q, validation.Invalid("order", "asc or desc")
	}
	q.Sort, q.Q, q.Level, q.Flag = v.Get("sort"), v.Get("q"), v.Get("level"), v.Get("flag")
	q.Assignee, q.Status = v.Get("assignee"), v.Get("status")
	q.Offset, q.Limit = int(min(offset, 1<<31-1)), int(min(limit, caseload.MaxLimit+1))
	return q, nil
}
