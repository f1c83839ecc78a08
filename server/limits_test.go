package server

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

// crowded returns the limits around a handler that holds every request until
// the test ends, and a way to send one from an address.
func crowded(t *testing.T) (hold func(source string), ask func(source string) *httptest.ResponseRecorder) {
	t.Helper()
	s := &server{}
	release, held, gone := make(chan struct{}), make(chan struct{}), make(chan struct{})
	n := 0
	h := s.withLimits(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == "/hold" {
			held <- struct{}{}
			<-release
		}
	}))
	send := func(path, source string) *httptest.ResponseRecorder {
		w, r := httptest.NewRecorder(), httptest.NewRequest("GET", path, nil)
		r.RemoteAddr = source + ":1000"
		h.ServeHTTP(w, r)
		return w
	}
	t.Cleanup(func() {
		close(release)
		for range n {
			<-gone
		}
	})
	hold = func(source string) {
		n++
		go func() {
			send("/hold", source)
			gone <- struct{}{}
		}()
		<-held
	}
	return hold, func(source string) *httptest.ResponseRecorder { return send("/", source) }
}

func TestManyRequestsAtOnceAreTurnedAway(t *testing.T) {
	hold, ask := crowded(t)
	for i := range maxAtOnce {
		hold(fmt.Sprintf("192.0.2.%d", i/maxOfSource))
	}
	if w := ask("198.51.100.1"); w.Code != http.StatusServiceUnavailable || w.Header().Get("Retry-After") == "" {
		t.Errorf("one more than the server takes: %d %v", w.Code, w.Header())
	}
}

func TestOneAddressCanNotTakeEveryPlace(t *testing.T) {
	hold, ask := crowded(t)
	for range maxOfSource {
		hold("192.0.2.1")
	}
	if w := ask("192.0.2.1"); w.Code != http.StatusServiceUnavailable {
		t.Errorf("one more from the same address: %d", w.Code)
	}
	if w := ask("198.51.100.1"); w.Code != http.StatusOK {
		t.Errorf("somebody else: %d", w.Code)
	}
}

func TestDeepJSONIsRefused(t *testing.T) {
	s := openSite(t, Options{})
	for _, deep := range []string{strings.Repeat("[", 60_000), `{"name":` + strings.Repeat(`{"a":`, 11_000)} {
		if got := s.ask(t, nobody, "POST", "/api/v1/session", deep); got.Code != http.StatusBadRequest || got.refused(t).Error != "broken-json" {
			t.Errorf("%d %s", got.Code, got.Body)
		}
	}
}

func TestMadeUpMethodsAreCountedTogether(t *testing.T) {
	s := openSite(t, Options{})
	for i := range 50 {
		s.ask(t, nobody, fmt.Sprintf("MADEUP%d", i), "/healthz", "")
	}
	r := s.request("GET", "/metrics", "", nil)
	r.RemoteAddr = "127.0.0.1:1"
	text := s.send(r).Body.String()
	if !strings.Contains(text, `method="other"`) || strings.Contains(text, "MADEUP") {
		t.Errorf("the metrics hold what outsiders made up:\n%s", text)
	}
}
