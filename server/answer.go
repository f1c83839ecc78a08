package server

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"net/http"
	"os"
	"strconv"

	"doorsill/internal/account"
	"doorsill/internal/intake"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// answer is what a handler gives back; the edge writes it after the audit
// trail has been written.
type answer struct {
	// status 0 is 200, or 204 when there is no body.
	status int
	body   any
	// text is sent as plain text instead of a body.
	text string
	// header is added to the usual ones.
	header http.Header
	// subject and team say in the audit trail what was read or written.
	subject, team string
	// untraced leaves the audit trail alone: nothing about a client was in
	// the answer.
	untraced bool
}

func ok(body any) answer { return answer{body: body} }

func (a answer) about(subject, team string) answer {
	a.subject, a.team = subject, team
	return a
}

func (a answer) write(w http.ResponseWriter) {
	for name, values := range a.header {
		w.Header()[name] = values
	}
	status := a.status
	if a.text != "" {
		w.Header().Set("Content-Type", "text/plain; version=0.0.4; charset=utf-8")
		_, _ = io.WriteString(w, a.text)
		return
	}
	if a.body == nil {
		if status == 0 {
			status = http.StatusNoContent
		}
		w.WriteHeader(status)
		return
	}
	if status == 0 {
		status = http.StatusOK
	}
	writeJSON(w, status, a.body)
}

// sumHeader carries the SHA-256 of the answer's body, in hex: a tablet that
// believed a receipt with a wrong number in it would never send what is
// missing.
const sumHeader = "Doorsill-Sum"

func sumOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// appender writes its own JSON form. encoding/json would write the events in it
// anew: without spaces, and "<" as an escape.
type appender interface{ AppendJSON(b []byte) []byte }

func toJSON(body any) ([]byte, error) {
	if a, own := body.(appender); own {
		return a.AppendJSON(nil), nil
	}
	return json.Marshal(body)
}

func writeJSON(w http.ResponseWriter, status int, body any) {
	data, err := toJSON(body)
	if err != nil {
		status = http.StatusInternalServerError
		data = []byte(`{"error":"internal","message":"The answer could not be written."}`)
	}
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Content-Length", strconv.Itoa(len(data)))
	w.Header().Set(sumHeader, sumOf(data))
	w.WriteHeader(status)
	_, _ = w.Write(data) // when the reader has gone there is nobody to tell
}

// refusal is an error with its answer, for what only the edge knows.
type refusal struct {
	status int
	ErrorAnswer
	// body is sent instead of the ErrorAnswer where it must say more.
	body any
	// retry is how many seconds to wait before trying again, or 0.
	retry int
	// cause is the error that the refusal words, or nil.
	cause error
}

// Error is the sentence for people.
func (r *refusal) Error() string { return r.Message }

// Unwrap returns the cause.
func (r *refusal) Unwrap() error { return r.cause }

// isDenied says whether somebody was kept from something.
func isDenied(err error) bool {
	var edge *refusal
	if errors.As(err, &edge) && edge.status == http.StatusForbidden {
		return true
	}
	return errors.Is(err, account.ErrNotAllowed)
}

// badInput is the answer to what cannot be taken in.
func badInput(bad *validation.Error) ErrorAnswer {
	answer := ErrorAnswer{Error: bad.Code, Message: bad.Error(), Field: bad.Path, Want: bad.Want}
	if bad.Code == validation.CodeInvalid {
		answer.Message = "Please correct " + bad.Path + ": expected " + bad.Want + "."
	}
	return answer
}

// explain turns an error into its answer. Errors that nobody foresaw say no
// more than the request's id.
func explain(err error, requestID string) (status int, body any, retryAfter int) {
	var edge *refusal
	var bad *validation.Error
	var tooLarge *http.MaxBytesError
	if errors.As(err, &edge) {
		if edge.body != nil {
			return edge.status, edge.body, edge.retry
		}
		return edge.status, edge.ErrorAnswer, edge.retry
	}
	if errors.As(err, &tooLarge) {
		return http.StatusRequestEntityTooLarge, ErrorAnswer{
			Error: "too-large", Message: "That is more than the server takes at once.",
			Want: fmt.Sprintf("at most %d bytes", tooLarge.Limit),
		}, 0
	}
	if errors.As(err, &bad) {
		return http.StatusBadRequest, badInput(bad), 0
	}
	var tooMany *account.TooMany
	if errors.As(err, &tooMany) {
		return explainTooMany(tooMany)
	}
	return explainPlain(err, requestID)
}

func explainTooMany(t *account.TooMany) (status int, body any, retryAfter int) {
	seconds := int(math.Ceil(t.Wait.Seconds()))
	message := fmt.Sprintf("Too many tries from here. Please wait %d seconds.", seconds)
	if t.Name {
		message = fmt.Sprintf("Too many wrong passwords were tried for this name. Please wait %d minutes, "+
			"or sign in where you have signed in before: in the same browser, or from the same network. "+
			"If it goes on, an administrator can set a new password.", (seconds+59)/60)
	}
	return http.StatusTooManyRequests, ErrorAnswer{Error: "too-many", Message: message}, seconds
}

// fullRetry is how many seconds a tablet waits for room on the server: somebody
// has to make it.
const fullRetry = 60

// explainPlain knows the errors that carry nothing but their meaning.
func explainPlain(err error, requestID string) (status int, body any, retryAfter int) {
	switch {
	case errors.Is(err, account.ErrSignedOut):
		return http.StatusUnauthorized, ErrorAnswer{Error: "signed-out", Message: "Please sign in."}, 0
	case errors.Is(err, account.ErrWrongPassword):
		return http.StatusUnauthorized, ErrorAnswer{Error: "wrong-password", Message: "The login or the password is wrong."}, 0
	case errors.Is(err, account.ErrNotAllowed):
		return http.StatusForbidden, ErrorAnswer{Error: "not-allowed", Message: "Your role does not cover this."}, 0
	case errors.Is(err, account.ErrNotFound), errors.Is(err, store.ErrNotFound):
		return http.StatusNotFound, ErrorAnswer{Error: "not-found", Message: "There is nothing with this id."}, 0
	case errors.Is(err, account.ErrBusy):
		return http.StatusServiceUnavailable, ErrorAnswer{Error: "busy", Message: "Many people are signing in. Please try again in a moment."}, 2
	case errors.Is(err, store.ErrFull):
		return http.StatusServiceUnavailable, ErrorAnswer{
			Error: "server-full", Message: "The server is full and takes nothing in. What you saved stays on this tablet and is sent when there is room again.",
		}, fullRetry
	case errors.Is(err, os.ErrDeadlineExceeded):
		return http.StatusRequestTimeout, ErrorAnswer{Error: "too-slow", Message: "The request came too slowly and was cut off. Nothing of it was taken in."}, 0
	case errors.Is(err, io.ErrUnexpectedEOF):
		return http.StatusBadRequest, ErrorAnswer{Error: "cut-off", Message: "The request was cut off on its way. Nothing of it was taken in."}, 0
	case errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded), errors.Is(err, store.ErrClosed), errors.Is(err, intake.ErrClosed):
		return http.StatusServiceUnavailable, ErrorAnswer{Error: "stopped", Message: "The request was ended before it was done."}, 2
	}
	return http.StatusInternalServerError, ErrorAnswer{
		Error: "internal", Message: "Something went wrong on the server. Nothing was lost on the tablet. Quote request " + requestID + ".",
	}, 0
}
