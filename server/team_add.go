package server

import (
	"net/http"

	"doorsill/internal/account"
)

// teamAdd makes a team.
func teamAdd(s *server, r *http.Request, c account.Caller) (answer, error) {
	var in TeamRequest
	if err := decode(r, &in); err != nil {
		return answer{}, err
	}
	t, err := s.deps.Accounts.AddTeam(r.Context(), c, in.Name)
	return answer{status: http.StatusCreated, body: TeamRow{ID: t.ID, Name: t.Name}}, err
}
