package server

import (
	"net/http"

	"doorsill/internal/account"
)

// oidcReturn takes somebody back from the sign-in provider and opens their
// session.
func oidcReturn(s *server, r *http.Request, c account.Caller) (answer, error) {
	if s.deps.Provider == nil {
		return answer{}, account.ErrNotFound
	}
	kept := s.attemptOf(r)
	who, err := s.deps.Provider.Finish(r.Context(), kept.Attempt, r.URL.Query())
	if err != nil {
		return s.oidcFailed(r, err), nil
	}
	secret, c, err := s.deps.Accounts.SignInByProvider(r.Context(),
		account.ProviderIdentity{Issuer: who.Issuer, Subject: who.Subject, Email: who.Email, EmailVerified: who.Verified},
		account.SignIn{Tablet: kept.Tablet, Browsers: s.browsersOf(r), Agent: r.UserAgent(), Source: c.Source, Replaces: s.secretOf(r)})
	if err != nil {
		return s.oidcFailed(r, err), nil
	}
	a := answer{status: http.StatusSeeOther, header: s.cookie(secret, c.Expires)}
	a.header.Add("Set-Cookie", s.browserCookie(c))
	a.header.Add("Set-Cookie", s.attemptCookie(keptAttempt{}, 0))
	a.header.Set("Location", "/")
	return a, nil
}
