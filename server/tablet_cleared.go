package server

import (
	"errors"
	"net/http"

	"github.com/gorilla/mux"

	"doorsill/internal/account"
)

// tabletCleared takes a withdrawn tablet's word that it holds nothing more.
func tabletCleared(s *server, r *http.Request, c account.Caller) (answer, error) {
	err := s.deps.Accounts.TabletCleared(r.Context(), c, mux.Vars(r)["id"])
	if errors.Is(err, account.ErrNotWithdrawn) {
		return answer{}, &refusal{status: http.StatusConflict, cause: err, ErrorAnswer: ErrorAnswer{
			Error: "not-revoked", Message: "This tablet is in use: nobody has withdrawn it.",
		}}
	}
	if err != nil || r.URL.Query().Get("storage") != "unused" {
		return answer{}, err
	}
	// The tablet says that nobody has anything on it any more. A page can delete
	// its databases; that their files go only the browser can see to.
	return answer{header: http.Header{"Clear-Site-Data": {`"storage"`}}}, nil
}
