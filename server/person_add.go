package server

import (
	"net/http"

	"doorsill/internal/account"
)

// personAdd makes an account.
func personAdd(s *server, r *http.Request, c account.Caller) (answer, error) {
	var in PersonRequest
	if err := decode(r, &in); err != nil {
		return answer{}, err
	}
	p, err := s.deps.Accounts.AddPerson(r.Context(), c, account.NewPerson{
		Login: in.Login, Name: in.Name, Credential: in.Credential, Password: in.Password,
		Admin: in.Admin, Roles: rolesIn(in.Teams),
	})
	return s.personAnswer(r, c, p, err, http.StatusCreated)
}

func rolesIn(list []RoleRequest) map[string]string {
	roles := make(map[string]string, len(list))
	for _, m := range list {
		roles[m.ID] = m.Role
	}
	return roles
}

func (s *server) personAnswer(r *http.Request, c account.Caller, p account.PersonView, err error, status int) (answer, error) {
	if err != nil {
		return answer{}, err
	}
	names, err := s.teamNames(r.Context(), c)
	return answer{status: status, body: personRow(p, names)}, err
}
