package server

import (
	"errors"
	"net/http"

	"github.com/gorilla/mux"

	"doorsill/internal/account"
	"doorsill/internal/intake"
)

// clientAssign says who is responsible for a client and where the client
// stands, unless somebody else was quicker.
func clientAssign(s *server, r *http.Request, c account.Caller) (answer, error) {
	var in AssignmentRequest
	if err := decode(r, &in); err != nil {
		return answer{}, err
	}
	id := mux.Vars(r)["id"]
	client, err := s.deps.Intake.Assign(r.Context(), c, id, in.Version, in.Assignee, in.Status)
	var changed *intake.Changed
	if errors.As(err, &changed) {
		return answer{}, &refusal{status: http.StatusConflict, cause: err, body: AssignmentRefused{
			ErrorAnswer: ErrorAnswer{Error: "changed", Message: "Somebody else has changed this client in the meantime. Please look again."},
			Client:      changed.Client,
		}}
	}
	return ok(client).about(id, client.Team), err
}
