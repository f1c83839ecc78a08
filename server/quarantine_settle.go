package server

import (
	"errors"
	"net/http"
	"strconv"

	"github.com/gorilla/mux"

	"doorsill/internal/account"
	"doorsill/internal/intake"
)

// quarantineSettle notes how an entry that was quarantined was dealt with.
func quarantineSettle(s *server, r *http.Request, c account.Caller) (answer, error) {
	var in SettleRequest
	if err := decode(r, &in); err != nil {
		return answer{}, err
	}
	id, err := entryID(mux.Vars(r)["id"])
	if err != nil {
		return answer{}, err
	}
	q, err := s.deps.Intake.Settle(r.Context(), c, id, in.Note)
	if errors.Is(err, intake.ErrTakenIn) {
		return answer{}, &refusal{status: http.StatusConflict, cause: err, ErrorAnswer: ErrorAnswer{
			Error: "taken-in", Message: "This entry was taken in meanwhile and needs no settling. Open the list again to see what became of it.",
		}}
	}
	if err != nil {
		return answer{}, err
	}
	return ok(quarantineRow(q)).about(strconv.FormatInt(id, 10), q.Team), nil
}

// entryID reads the id of a quarantined entry. What is none is answered like an
// entry of another team.
func entryID(text string) (int64, error) {
	id, err := strconv.ParseInt(text, 10, 64)
	if err != nil {
		return 0, account.ErrNotAllowed
	}
	return id, nil
}
