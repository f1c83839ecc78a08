package server

import (
	"errors"
	"net/http"

	"github.com/gorilla/mux"

	"doorsill/internal/account"
)

// personPassword sets a password. A wrong current one is 400 here, since the
// caller stays signed in.
func personPassword(s *server, r *http.Request, c account.Caller) (answer, error) {
	var in PasswordRequest
	if err := decode(r, &in); err != nil {
		return answer{}, err
	}
	err := s.deps.Accounts.SetPassword(r.Context(), c, mux.Vars(r)["id"], in.Current, in.Password)
	if errors.Is(err, account.ErrWrongPassword) {
		return answer{}, &refusal{status: http.StatusBadRequest, cause: err, ErrorAnswer: ErrorAnswer{
			Error: "wrong-password", Message: "The current password is wrong.", Field: "current", Want: "the password that you signed in with",
		}}
	}
	return answer{}, err
}
