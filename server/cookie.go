package server

import (
	"net/http"
	"time"
)

// cookieName carries the __Host- prefix where the browser honours it: the
// cookie then can not be set by another host or without HTTPS. Plain HTTP is
// served on loopback only.
func (s *server) cookieName() string {
	if s.deps.Secure {
		return "__Host-doorsill"
	}
	return "doorsill"
}

// cookie holds a session's secret until the time, or removes it when secret is
// empty.
func (s *server) cookie(secret string, until time.Time) http.Header {
	c := http.Cookie{
		Name: s.cookieName(), Value: secret, Path: "/", Secure: s.deps.Secure,
		HttpOnly: true, SameSite: http.SameSiteStrictMode, Expires: until.UTC(),
	}
	if secret == "" {
		c.MaxAge, c.Expires = -1, time.Time{}
	}
	return http.Header{"Set-Cookie": {c.String()}}
}

func (s *server) secretOf(r *http.Request) string {
	c, err := r.Cookie(s.cookieName())
	if err != nil {
		return ""
	}
	return c.Value
}
