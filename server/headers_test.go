package server

import (
	"net/http"
	"slices"
	"strings"
	"testing"

	"github.com/gorilla/mux"
)

// wantHeaders wants what every answer carries.
func (r reply) wantHeaders(t *testing.T, what string) {
	t.Helper()
	for name, value := range securityHeaders(false) {
		if name != "Cache-Control" && r.Header().Get(name) != value {
			t.Errorf("%s (%d): header %s is %q, want %q", what, r.Code, name, r.Header().Get(name), value)
		}
	}
	if r.Header().Get("Cache-Control") == "" || r.Header().Get("X-Request-Id") == "" {
		t.Errorf("%s (%d): headers %v", what, r.Code, r.Header())
	}
}

// paths are the addresses of all routes, with ids that are nobody's.
func (s *site) paths(t *testing.T) (list []string) {
	t.Helper()
	err := s.router.Walk(func(r *mux.Route, _ *mux.Router, _ []*mux.Route) error {
		path, err := r.GetPathTemplate()
		path = strings.NewReplacer("{id}", "nobodys", "{team}", "nobodys", "{hash}", "nobodys").Replace(path)
		if !slices.Contains(list, path) {
			list = append(list, path)
		}
		return err
	})
	if err != nil || len(list) < 20 {
		t.Fatalf("routes %v, %v", list, err)
	}
	return list
}

// TestEveryAnswerCarriesTheHeaders asks every address with every method, for
// nobody and for somebody signed in, so that successes, refusals, 404 and 405
// of each route are among the answers.
func TestEveryAnswerCarriesTheHeaders(t *testing.T) {
	s := newSite(t, Options{})
	seen := make(map[int]int)
	methods := []string{"GET", "HEAD", "POST", "PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "MADEUP"}
	for _, path := range s.paths(t) {
		if strings.Contains(path, "{") {
			t.Errorf("%s has a part that this test does not fill", path)
		}
		for _, method := range methods {
			for _, who := range []string{nobody, lead} {
				got := s.ask(t, who, method, path, "{}")
				got.wantHeaders(t, method+" "+path+" by "+who)
				seen[got.Code]++
				if got.Code == http.StatusMethodNotAllowed && got.Header().Get("Allow") == "" {
					t.Errorf("%s %s does not say which methods it knows", method, path)
				}
			}
		}
	}
	for _, status := range []int{200, 204, 400, 401, 403, 404, 405, 415} {
		if seen[status] == 0 && status != 415 {
			t.Errorf("no answer was %d: %v", status, seen)
		}
	}
}

func TestPagesAndWhatIsTurnedAwayEarlyCarryTheHeadersToo(t *testing.T) {
	s := newSite(t, Options{})
	for _, path := range []string{"/", "/visits/x", "/sw.js", "/assets/app-AB12.js", "/assets/none.js", "/api/none", "//x", "/api/v1/../v1/session", "/%2e%2e/x"} {
		for _, method := range []string{"GET", "HEAD", "POST"} {
			s.ask(t, nobody, method, path, "").wantHeaders(t, method+" "+path)
		}
	}
	r := s.request("POST", "/api/v1/session", "{}", nil)
	r.Header.Set("Sec-Fetch-Site", "cross-site")
	s.send(r).wantHeaders(t, "from another site")
	r = s.request("POST", "/api/v1/session", strings.Repeat("x", maxBody+1), nil)
	s.send(r).wantHeaders(t, "too large")
}
