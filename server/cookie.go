package server

import (
	"net/http"
	"strings"
	"time"

	"doorsill/internal/account"
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

// Each person who has signed in in a browser has a cookie of this name and their
// id there. It says no more than that: it opens nothing.
func (s *server) browserCookieName() string { return s.cookieName() + "-browser-" }

// maxBrowserCookies is how many of them one request may bring; each takes a look
// into the store.
const maxBrowserCookies = 8

// browserCookie says that the caller has signed in in this browser.
func (s *server) browserCookie(c account.Caller) string {
	cookie := http.Cookie{
		Name: s.browserCookieName() + c.Person, Value: c.Browser, Path: "/", Secure: s.deps.Secure,
		HttpOnly: true, SameSite: http.SameSiteStrictMode, MaxAge: int(account.BrowserFor / time.Second),
	}
	return cookie.String()
}

// browsersOf are the secrets of these cookies, by person.
func (s *server) browsersOf(r *http.Request) map[string]string {
	var browsers map[string]string
	for _, c := range r.Cookies() {
		person, ok := strings.CutPrefix(c.Name, s.browserCookieName())
		if !ok || len(browsers) == maxBrowserCookies {
			continue
		}
		if browsers == nil {
			browsers = make(map[string]string)
		}
		browsers[person] = c.Value
	}
	return browsers
}
