package server

import (
	"net/http"

	"doorsill/internal/account"
)

// teamsList lists all teams for an admin and the caller's own for others.
func teamsList(s *server, r *http.Request, c account.Caller) (answer, error) {
	teams, err := s.deps.Accounts.Teams(r.Context(), c)
	a := TeamList{Teams: make([]TeamRow, 0, len(teams))}
	for _, t := range teams {
		a.Teams = append(a.Teams, TeamRow{ID: t.ID, Name: t.Name})
	}
	return ok(a), err
}
