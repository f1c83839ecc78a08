package server

import (
	"net/http"

	"github.com/gorilla/mux"

	"doorsill/internal/account"
)

// personChange replaces what is known of a person.
func personChange(s *server, r *http.Request, c account.Caller) (answer, error) {
	var in PersonRequest
	if err := decode(r, &in); err != nil {
		return answer{}, err
	}
	p, err := s.deps.Accounts.ChangePerson(r.Context(), c, mux.Vars(r)["id"], account.PersonChange{
		Name: in.Name, Credential: in.Credential, Admin: in.Admin, Closed: in.Closed, Roles: rolesIn(in.Teams),
	})
	return s.personAnswer(r, c, p, err, http.StatusOK)
}
