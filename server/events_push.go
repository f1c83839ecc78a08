package server

import (
	"errors"
	"net/http"
	"os"

	"doorsill/internal/account"
	"doorsill/internal/intake"
)

// signatureHeader carries the tablet's signature over the first line of a push, in
// base64.
const signatureHeader = "Doorsill-Signature"

// eventsPush takes in what a tablet sends.
func eventsPush(s *server, r *http.Request, c account.Caller) (answer, error) {
	if err := wantType(r, "application/x-ndjson"); err != nil {
		return answer{}, err
	}
	if !s.pushes.allow(c.Person, s.deps.Now()) {
		return answer{}, &refusal{status: http.StatusTooManyRequests, retry: 1, ErrorAnswer: ErrorAnswer{
			Error: "too-many", Message: "This person's tablets send too often. What waits will be sent a little later.",
		}}
	}
	receipt, err := s.deps.Intake.PushSigned(r.Context(), c, r.Body, r.Header.Get(signatureHeader))
	if err != nil {
		return answer{}, explainPush(err)
	}
	return ok(receipt).about(c.Tablet, ""), nil
}

// GapAnswer is the 409 answer when a push left numbers out: the tablet sends
// again from Ack+1.
type GapAnswer struct {
	ErrorAnswer
	Ack int64 `json:"ack"`
}

// explainPush gives a refused push the status and fields that PROTOCOL.md
// promises.
func explainPush(err error) error {
	var refused *intake.PushError
	if errors.Is(err, os.ErrDeadlineExceeded) {
		// Too large for the way here: the tablet then sends fewer at a time.
		return &refusal{status: http.StatusRequestEntityTooLarge, cause: err, ErrorAnswer: ErrorAnswer{
			Error: "too-slow", Message: "The push came too slowly and was cut off; send fewer events at a time.",
		}}
	}
	if !errors.As(err, &refused) {
		return err
	}
	r := &refusal{status: http.StatusBadRequest, cause: err, ErrorAnswer: ErrorAnswer{
		Error: refused.Code, Message: refused.Message, Field: refused.Field, Want: refused.Want,
	}}
	switch refused.Code {
	case intake.CodeGap:
		r.status, r.body = http.StatusConflict, GapAnswer{ErrorAnswer: r.ErrorAnswer, Ack: refused.Ack}
	case intake.CodeLog:
		r.status, r.body = http.StatusConflict, OtherLogAnswer{ErrorAnswer: r.ErrorAnswer, Log: refused.Log}
	case intake.CodeTooLarge:
		r.status = http.StatusRequestEntityTooLarge
	case intake.CodeTablet, intake.CodeSignature, intake.CodeNoSignature:
		r.status = http.StatusForbidden
	case intake.CodeQuarantineFull:
		r.status, r.retry = http.StatusInsufficientStorage, fullRetry
	}
	return r
}
