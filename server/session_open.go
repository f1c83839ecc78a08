package server

import (
	"net/http"

	"doorsill/internal/account"
)

// sessionOpen signs somebody in and gives the browser its cookie.
func sessionOpen(s *server, r *http.Request, c account.Caller) (answer, error) {
	var in SignInRequest
	if err := decode(r, &in); err != nil {
		return answer{}, err
	}
	secret, c, err := s.deps.Accounts.SignIn(r.Context(), account.SignIn{
		Login: in.Name, Password: in.Password, Tablet: in.Tablet, Browsers: s.browsersOf(r),
		Agent: r.UserAgent(), Source: c.Source, Replaces: s.secretOf(r),
	})
	if err != nil {
		return answer{}, err
	}
	body, err := s.sessionAnswer(r, c)
	header := s.cookie(secret, c.Expires)
	header.Add("Set-Cookie", s.browserCookie(c))
	if c.Withdrawn {
		header.Set(tabletHeader, tabletRevoked)
	}
	return answer{body: body, header: header}, err
}
