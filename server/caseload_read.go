package server

import (
	"net/http"

	"github.com/gorilla/mux"

	"doorsill/internal/account"
	"doorsill/internal/caseload"
	"doorsill/internal/validation"
)

// caseloadRead gives a page of a team's caseload. It takes no words to search
// for: they are names, and addresses stay in logs and in browsers.
func caseloadRead(s *server, r *http.Request, c account.Caller) (answer, error) {
	if r.URL.Query().Has("q") {
		return answer{}, validation.Invalid("q", "nothing in the address; words to search for go into the body of POST …/caseload/search")
	}
	return caseloadPage(s, r, c, "")
}

// caseloadSearch gives a page of the clients whose name or reference holds the
// words of the body; the rest of the query is caseloadRead's.
func caseloadSearch(s *server, r *http.Request, c account.Caller) (answer, error) {
	var in CaseloadSearch
	if err := decode(r, &in); err != nil {
		return answer{}, err
	}
	return caseloadPage(s, r, c, in.Q)
}

func caseloadPage(s *server, r *http.Request, c account.Caller, words string) (answer, error) {
	team := mux.Vars(r)["team"]
	q, err := caseloadQuery(r)
	if err != nil {
		return answer{}, err
	}
	q.Q = words
	page, err := s.deps.Index.Page(c, team, q, s.deps.Now())
	if err == nil && c.Leads(team) {
		page.Counts.SetAside, err = s.deps.Records.QuarantineOpen(r.Context(), c, team)
	}
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
	q.Sort, q.Level, q.Flag = v.Get("sort"), v.Get("level"), v.Get("flag")
	q.Assignee, q.Status = v.Get("assignee"), v.Get("status")
	q.Offset, q.Limit = int(min(offset, 1<<31-1)), int(min(limit, caseload.MaxLimit+1))
	return q, nil
}
