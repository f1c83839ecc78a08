package server

import (
	"fmt"
	"net/http"
	"strings"
	"testing"
)

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
