package server

import (
	"encoding/base64"
	"encoding/json"
	"errors"
	"net/http"
	"time"

	"doorsill/internal/account"
	"doorsill/server/provider"
)

// oidcStart sends the browser to the organisation's sign-in provider.
func oidcStart(s *server, r *http.Request, _ account.Caller) (answer, error) {
	if s.deps.Provider == nil {
		return answer{}, account.ErrNotFound
	}
	location, attempt, err := s.deps.Provider.Begin(r.Context())
	if err != nil {
		return s.oidcFailed(r, err), nil
	}
	kept := keptAttempt{Attempt: attempt, Tablet: clipID(r.URL.Query().Get("tablet"))}
	return answer{status: http.StatusSeeOther, header: http.Header{
		"Location": {location}, "Set-Cookie": {s.attemptCookie(kept, attemptFor)},
	}}, nil
}

// keptAttempt is what a browser keeps while its person is at the provider.
type keptAttempt struct {
	provider.Attempt
	// Tablet is the tablet that the browser says it is, or empty.
	Tablet string `json:"tablet,omitempty"`
}

// attemptFor is how long somebody may take at the provider.
const attemptFor = 10 * time.Minute

func (s *server) attemptName() string { return s.cookieName() + "-attempt" }

// attemptCookie is sent along when the provider sends the browser back, so it
// can not be as strict as the session's; it opens nothing by itself.
func (s *server) attemptCookie(kept keptAttempt, age time.Duration) string {
	text, _ := json.Marshal(kept) // texts only
	c := http.Cookie{
		Name: s.attemptName(), Value: base64.RawURLEncoding.EncodeToString(text), Path: "/", Secure: s.deps.Secure,
		HttpOnly: true, SameSite: http.SameSiteLaxMode, MaxAge: int(age / time.Second),
	}
	if age <= 0 {
		c.Value, c.MaxAge = "", -1
	}
	return c.String()
}

func (s *server) attemptOf(r *http.Request) (kept keptAttempt) {
	c, err := r.Cookie(s.attemptName())
	if err != nil {
		return keptAttempt{}
	}
	text, err := base64.RawURLEncoding.DecodeString(c.Value)
	if err != nil || json.Unmarshal(text, &kept) != nil {
		return keptAttempt{}
	}
	return kept
}

// oidcFailed sends the browser, which came here itself, back to the sign-in
// screen with a code for the reason. The log names the cause.
func (s *server) oidcFailed(r *http.Request, err error) answer {
	t := traceOf(r)
	s.deps.Log.Warn("sign-in by provider failed", "id", t.id, "source", t.source, "error", err)
	return answer{status: http.StatusSeeOther, header: http.Header{
		"Location": {"/sign-in?refused=" + reasonOf(err)}, "Set-Cookie": {s.attemptCookie(keptAttempt{}, 0)},
	}}
}

// Why a sign-in at the provider did not open a session.
const (
	reasonUnreachable = "unreachable"
	reasonAttempt     = "attempt"
	reasonNoAccount   = "no-account"
	reasonUnverified  = "unverified"
	reasonRefused     = "refused"
)

func reasonOf(err error) string {
	switch {
	case errors.Is(err, provider.ErrUnreachable):
		return reasonUnreachable
	case errors.Is(err, provider.ErrAttempt):
		return reasonAttempt
	case errors.Is(err, account.ErrNoAccount):
		return reasonNoAccount
	case errors.Is(err, account.ErrUnverified):
		return reasonUnverified
	}
	return reasonRefused
}

// wordsOf says a reason to the person, who sees it on the sign-in screen. The
// code came by way of an address, so any other text counts as a plain refusal.
func wordsOf(reason string) string {
	switch reason {
	case "":
		return ""
	case reasonUnreachable:
		return "Your organisation’s sign-in can not be reached. Try again in a moment. What is on this tablet opens with its password as before."
	case reasonAttempt:
		return "This sign-in took too long, or was begun in another browser. Begin again."
	case reasonNoAccount:
		return "You are signed in at your organisation, but there is no account for you here. Ask whoever manages accounts here to write your e-mail address into yours."
	case reasonUnverified:
		return "Your organisation has not verified your e-mail address, so it does not show who you are. Ask your organisation’s help desk."
	}
	return "Your organisation’s sign-in said no. Begin again, or ask whoever manages accounts here."
}
