package server

import (
	"fmt"
	"net/http"
	"testing"
	"time"

	"doorsill/internal/model"
)

// TestFault38TheServersClockJumps turns the server's clock ten years on and
// back, and a day behind. Order is by position and never by clock; sessions
// and limits neither last for ten years nor lock anybody out for them.
func TestFault38TheServersClockJumps(t *testing.T) {
	const tenYears = 10 * 365 * 24 * time.Hour
	s := newSite(t, Options{})
	n := int64(4)
	push := func() {
		t.Helper()
		s.push(t, clinician, n, s.event(t, n, model.KindVisitNoted, s.visit, model.VisitNoted{Fields: map[string]string{"note": fmt.Sprint(n)}}))
		n++
	}
	push()
	s.clock.turn(tenYears)
	if got := s.send(s.request("GET", "/api/v1/session", "", s.session[clinician])); got.Code != http.StatusUnauthorized {
		t.Errorf("a session of ten years ago: %d", got.Code)
	}
	push() // after signing in again
	ahead := s.session[clinician]
	for range 6 {
		s.send(s.request("POST", "/api/v1/session", `{"name":"clinician","password":"not the right words"}`, nil))
	}
	s.clock.turn(-tenYears - 24*time.Hour)
	if got := s.send(s.request("GET", "/api/v1/session", "", ahead)); got.Code != http.StatusUnauthorized {
		t.Errorf("a session from ten years ahead still holds: %d", got.Code)
	}
	got := s.send(s.request("POST", "/api/v1/session", `{"name":"clinician","password":"`+goodPassword+`"}`, nil))
	if wait := got.Header().Get("Retry-After"); got.Code == http.StatusTooManyRequests && len(wait) > 2 {
		t.Errorf("tries of ten years ahead keep her out for %s s", wait)
	}
	s.clock.turn(time.Minute)
	push()
	push()

	var pulled model.PullAnswer
	s.ask(t, assistant, "GET", "/api/v1/teams/"+s.north+"/events", "").into(t, &pulled)
	if len(pulled.Events) != 6 {
		t.Fatalf("%d entries", len(pulled.Events))
	}
	for i, e := range pulled.Events {
		if i > 0 && e.Pos <= pulled.Events[i-1].Pos {
			t.Errorf("position %d follows %d", e.Pos, pulled.Events[i-1].Pos)
		}
	}
	var c ClientAnswer
	s.ask(t, lead, "GET", "/api/v1/clients/"+s.client, "").into(t, &c)
	if note := c.Visits[0].Visit.Notes["note"]; note != fmt.Sprint(n-1) {
		t.Errorf("the note says %q, the last one written is %d", note, n-1)
	}
}

// blocked is a client that reads nothing: writing to it hangs.
type blocked struct {
	header           http.Header
	writing, release chan struct{}
}

func (b *blocked) Header() http.Header { return b.header }
func (b *blocked) WriteHeader(int)     {}
func (b *blocked) Write(p []byte) (int, error) {
	select {
	case b.writing <- struct{}{}:
	default:
	}
	<-b.release
	return len(p), nil
}

// TestFault35SlowClientsHoldNoPages has a client that does not take its answer,
// and wants nothing of the records held for it meanwhile.
func TestFault35SlowClientsHoldNoPages(t *testing.T) {
	s := newSite(t, Options{})
	disk, can := s.Store.(interface{ Readers() int })
	if !can {
		t.Fatal("the store does not count its readers")
	}
	for _, path := range []string{
		"/api/v1/teams/" + s.north + "/events", "/api/v1/clients/" + s.client, "/api/v1/teams/" + s.north + "/caseload", "/api/v1/people",
	} {
		slow := &blocked{header: http.Header{}, writing: make(chan struct{}, 1), release: make(chan struct{})}
		done := make(chan struct{})
		go func() {
			defer close(done)
			s.Handler.ServeHTTP(slow, s.request("GET", path, "", s.cookieOf(t, clinician)))
		}()
		<-slow.writing
		if n := disk.Readers(); n != 0 {
			t.Errorf("%s: %d readers wait for a client that reads nothing", path, n)
		}
		close(slow.release)
		<-done
	}
}
