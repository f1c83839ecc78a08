package server

import (
	"errors"
	"io"
	"net/http"

	"doorsill/internal/account"
	"doorsill/internal/seal"
)

// sealedPush takes entries that a tablet can not open any more, sealed to the
// organisation's key. The receipt is that of a push.
func sealedPush(s *server, r *http.Request, c account.Caller) (answer, error) {
	if err := wantType(r, "application/json"); err != nil {
		return answer{}, err
	}
	if !s.pushes.allow(c.Person, s.deps.Now()) {
		return answer{}, &refusal{status: http.StatusTooManyRequests, retry: 1, ErrorAnswer: ErrorAnswer{
			Error: "too-many", Message: "This person's tablets send too often. What waits will be sent a little later.",
		}}
	}
	data, err := io.ReadAll(r.Body)
	if err != nil {
		return answer{}, err
	}
	e, err := seal.Parse(data)
	if err != nil {
		return answer{}, explainEnvelope(err)
	}
	receipt, err := s.deps.Envelopes.Push(r.Context(), c, e)
	if err != nil {
		return answer{}, explainEnvelope(explainPush(err))
	}
	return ok(receipt).about(e.Tablet, ""), nil
}

// explainEnvelope says what is wrong with an envelope; other errors pass.
func explainEnvelope(err error) error {
	switch {
	case errors.Is(err, seal.ErrOtherKey):
		return &refusal{status: http.StatusUnprocessableEntity, cause: err, ErrorAnswer: ErrorAnswer{
			Error: "other-key", Field: "key", Message: "This was sealed to another organisation's key. Keep the file and tell your administrator.",
		}}
	case errors.Is(err, seal.ErrEnvelope):
		return &refusal{status: http.StatusBadRequest, cause: err, ErrorAnswer: ErrorAnswer{
			Error: "damaged", Message: "The sealed entries could not be read: " + err.Error() + ".",
		}}
	}
	return err
}
