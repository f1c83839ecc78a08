package server

import (
	"errors"
	"net/http"
	"strconv"

	"doorsill/internal/account"
	"doorsill/internal/intake"
)

// quarantineConfirm takes in entries that came unsigned, on the word of their
// author or of the lead of an author who is gone. The receipt is that of a push.
func quarantineConfirm(s *server, r *http.Request, c account.Caller) (answer, error) {
	var in ConfirmRequest
	if err := decode(r, &in); err != nil {
		return answer{}, err
	}
	ids := make([]int64, 0, len(in.Entries))
	for _, text := range in.Entries {
		id, err := entryID(text)
		if err != nil {
			return answer{}, err
		}
		ids = append(ids, id)
	}
	receipt, err := s.deps.Intake.Confirm(r.Context(), c, ids, in.Reason)
	if errors.Is(err, intake.ErrAuthorIsHere) {
		return answer{}, &refusal{status: http.StatusConflict, cause: err, ErrorAnswer: ErrorAnswer{
			Error: "author", Message: "Whoever wrote these entries works in your team: they confirm them on their own tablet, under “This tablet”.",
		}}
	}
	if err != nil {
		return answer{}, explainPush(err)
	}
	return ok(receipt).about(strconv.FormatInt(ids[0], 10), ""), nil
}
