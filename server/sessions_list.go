package server

import (
	"net/http"

	"doorsill/internal/account"
)

// sessionsList lists the caller's own sessions.
func sessionsList(s *server, r *http.Request, c account.Caller) (answer, error) {
	list, err := s.deps.Accounts.Sessions(r.Context(), c)
	if err != nil {
		return answer{}, err
	}
	a := SessionList{Sessions: make([]SessionItem, 0, len(list))}
	for _, one := range list {
		a.Sessions = append(a.Sessions, SessionItem{
			ID: one.ID, Created: one.Created, Seen: one.Seen, Agent: one.Agent, Tablet: one.Tablet, Current: one.Current,
		})
	}
	return ok(a), nil
}
