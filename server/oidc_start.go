package server

import (
	"encoding/base64"
	"encoding/json"
	"errors"
	"html"
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

// oidcFailed is a page, not JSON: the browser itself came here. The log names
// the cause, the page what to do.
func (s *server) oidcFailed(r *http.Request, err error) answer {
	t := traceOf(r)
	s.deps.Log.Warn("sign-in by provider failed", "id", t.id, "source", t.source, "error", err)
	status, words := http.StatusForbidden, "Your organisation’s sign-in said no. Begin again, or ask whoever manages accounts here."
	switch {
	case errors.Is(err, provider.ErrUnreachable):
		status, words = http.StatusServiceUnavailable, "Your organisation’s sign-in can not be reached. Try again in a moment. What is on this tablet opens with your password as before."
	case errors.Is(err, provider.ErrAttempt):
		status, words = http.StatusBadRequest, "This sign-in took too long, or was begun in another browser. Begin again."
	case errors.Is(err, account.ErrNoAccount):
		words = "You are signed in at your organisation, but there is no account for you here. Ask whoever manages accounts here to write your e-mail address into yours."
	case errors.Is(err, account.ErrUnverified):
		words = "Your organisation has not verified your e-mail address, so it does not show who you are. Ask your organisation’s help desk."
	}
	return answer{status: status, page: "<!doctype html>\n<html lang=\"en-GB\"><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width\">" +
		"<title>Not signed in – Doorsill</title>\n<h1>Not signed in</h1>\n<p>" + html.EscapeString(words) + "</p>\n<p><a href=\"/\">Back to the start</a></p>\n" +
		"<p>Request " + html.EscapeString(t.id) + "</p>\n</html>\n",
		header: http.Header{"Set-Cookie": {s.attemptCookie(keptAttempt{}, 0)}}}
}
