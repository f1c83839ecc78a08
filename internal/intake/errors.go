package intake

import (
	"errors"

	"doorsill/internal/model"
)

// ErrClosed is returned when the intake has been closed; the caller may try
// again after a restart.
var ErrClosed = errors.New("intake is closed")

// Codes of a PushError.
const (
	CodeGap      = "gap"       // from is beyond the receipt; send again from Ack+1
	CodeLog      = "log"       // the server's log is another; send everything again
	CodeDamaged  = "damaged"   // header, count or hash do not match what came
	CodeTooLarge = "too-large" // more than a push may hold
	CodeTablet   = "tablet"    // the tablet is not the caller's, or not the revoked one that sends
	// CodeSignature is of a push that the tablet's key did not sign, CodeNoSignature
	// of one that nothing signed although it must be.
	CodeSignature   = "signature"
	CodeNoSignature = "unsigned"

	// CodeQuarantineFull is that the next event would be set aside and too many
	// of the tablet or person are, with which nobody has dealt.
	CodeQuarantineFull = "quarantine-full"
)

// PushError refuses a whole push. Nothing of it was taken in.
type PushError struct {
	Code string
	// Message is a sentence for the person who looks at the tablet.
	Message string
	// Field and Want name a field of the header and what was expected there.
	Field, Want string
	// Ack is the receipt, with CodeGap.
	Ack int64
	// Log is the server's log, with CodeLog.
	Log string
}

// Error is the sentence.
func (e *PushError) Error() string { return e.Message }

func damaged(field, want, message string) *PushError {
	return &PushError{Code: CodeDamaged, Field: field, Want: want, Message: message}
}

// Changed is returned by Assign when somebody else was quicker.
type Changed struct {
	// Client is the client as it stands.
	Client model.Client
}

// Error says what happened.
func (c *Changed) Error() string {
	return "somebody else has changed the client in the meantime; look at it again"
}
