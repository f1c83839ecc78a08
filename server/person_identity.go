package server

import (
	"net/http"

	"github.com/gorilla/mux"

	"doorsill/internal/account"
)

// personIdentity says who a person is at the sign-in provider.
func personIdentity(s *server, r *http.Request, c account.Caller) (answer, error) {
	var in IdentityRequest
	if err := decode(r, &in); err != nil {
		return answer{}, err
	}
	return answer{}, s.deps.Accounts.SetIdentity(r.Context(), c, mux.Vars(r)["id"], in.Email, in.Subject)
}
