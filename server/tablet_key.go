package server

import (
	"errors"
	"net/http"

	"github.com/gorilla/mux"

	"doorsill/internal/account"
	"doorsill/internal/signing"
)

// tabletKey registers what the caller's tablet signs with.
func tabletKey(s *server, r *http.Request, c account.Caller) (answer, error) {
	var in TabletKeyRequest
	if err := decode(r, &in); err != nil {
		return answer{}, err
	}
	err := s.deps.Accounts.SetTabletKey(r.Context(), c, mux.Vars(r)["id"], account.NewTabletKey{
		Key: signing.Key{Algorithm: in.Algorithm, Public: in.Public}, Proof: in.Proof, Before: in.Before,
	})
	if errors.Is(err, account.ErrKeyTaken) {
		return answer{}, &refusal{status: http.StatusConflict, cause: err, ErrorAnswer: ErrorAnswer{
			Error: "key", Message: "This tablet signs with another key. Whoever leads your team can withdraw the tablet; then it signs in anew.",
		}}
	}
	return answer{}, err
}
