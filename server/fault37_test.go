package server

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"doorsill/internal/caseload"
	"doorsill/internal/model"
	"doorsill/internal/store"
)

// patience is how long these tests wait for something that must happen long
// before.
const patience = 20 * time.Second

// socket is a service on a real port.
type socket struct {
	*site
	at     string
	closed chan net.Conn // connections that the server has let go
	views  *atomic.Int32 // reads of the store under way for people
}

// watched counts the reads that are under way.
type watched struct {
	store.Store
	views *atomic.Int32
}

func (w watched) View(ctx context.Context, fn func(store.Reader) error) error {
	w.views.Add(1)
	defer w.views.Add(-1)
	return w.Store.View(ctx, fn)
}

// serveSocket serves the site over TCP, with the smallest send buffers, so that
// a reader that stops is felt at once.
func serveSocket(t *testing.T, times Times) socket {
	t.Helper()
	s := socket{site: newSite(t, Options{}), closed: make(chan net.Conn, 16), views: new(atomic.Int32)}
	log := slog.New(slog.DiscardHandler)
	_, handler, err := build(Deps{
		Store: s.Store, Accounts: s.Accounts, Trail: s.Trail, Intake: s.Intake, Index: s.Index, Watch: s.Watch, Organisation: s.organisation,
		Records: caseload.NewReader(watched{s.Store, s.views}),
		Files:   bundle(), Bundled: true, Now: s.clock.Now, Log: log, Times: times,
	})
	if err != nil {
		t.Fatal(err)
	}
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	s.at = listener.Addr().String()
	hs := NewHTTPServer(handler, log, times)
	hs.ConnState = func(c net.Conn, state http.ConnState) {
		if state == http.StateClosed {
			s.closed <- c
		}
	}
	hs.ConnContext = func(ctx context.Context, c net.Conn) context.Context {
		if err := c.(*net.TCPConn).SetWriteBuffer(4096); err != nil {
			t.Error(err)
		}
		return ctx
	}
	go func() { _ = hs.Serve(listener) }()
	t.Cleanup(func() { _ = hs.Close() })
	return s
}

// dial opens a connection that fails the test when it waits too long.
func (s socket) dial(t *testing.T) *net.TCPConn {
	t.Helper()
	c, err := net.Dial("tcp", s.at)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = c.Close() })
	if err := c.SetDeadline(time.Now().Add(patience)); err != nil {
		t.Fatal(err)
	}
	return c.(*net.TCPConn)
}

// untilCut reads until the server ends the connection.
func untilCut(t *testing.T, c net.Conn) string {
	t.Helper()
	said, err := io.ReadAll(c)
	var slow net.Error
	if ok := isTimeout(err, &slow); ok {
		t.Fatalf("the server still waits, having said %q", said)
	}
	return string(said)
}

func isTimeout(err error, slow *net.Error) bool {
	e, ok := err.(net.Error)
	*slow = e
	return ok && e.Timeout()
}

// drip sends one more byte whenever the time has come, until the connection
// ends: every byte arrives well before any time between two bytes would run out.
func drip(c net.Conn) {
	beat := time.NewTicker(20 * time.Millisecond)
	defer beat.Stop()
	for range beat.C {
		if _, err := c.Write([]byte("x")); err != nil {
			return
		}
	}
}

func send(t *testing.T, c net.Conn, text string) {
	t.Helper()
	if _, err := io.WriteString(c, text); err != nil {
		t.Fatal(err)
	}
}

func TestFault37ASlowHeadIsCut(t *testing.T) {
	s := serveSocket(t, Times{Header: 200 * time.Millisecond, Body: time.Hour, Answer: time.Hour})
	c := s.dial(t)
	send(t, c, "GET /healthz HTTP/1.1\r\nHost: x\r\nX-Slow: ")
	go drip(c)
	if said := untilCut(t, c); strings.Contains(said, "200") {
		t.Errorf("answered %q", said)
	}
	s.stillAnswers(t)
}

// stillAnswers wants others to be served.
func (s socket) stillAnswers(t *testing.T) {
	t.Helper()
	got, err := http.Get("http://" + s.at + "/healthz")
	if err != nil {
		t.Fatal(err)
	}
	defer got.Body.Close()
	if got.StatusCode != http.StatusOK {
		t.Errorf("somebody else gets %d", got.StatusCode)
	}
}

func TestFault37ASlowBodyIsCut(t *testing.T) {
	for _, c := range []struct {
		name, path, kind string
		times            Times
		cookie           bool
		status           int
	}{
		{"of a push", pushPath, "application/x-ndjson", Times{Header: time.Hour, Body: 300 * time.Millisecond, SmallBody: time.Hour}, true, 413}, // the tablet then halves what it sends
		{"of somebody who is not signed in", "/api/v1/session", "application/json", Times{Header: time.Hour, Body: time.Hour, SmallBody: 300 * time.Millisecond}, false, 408},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := serveSocket(t, c.times)
			cookie := ""
			if c.cookie {
				cookie = "Cookie: " + s.cookieOf(t, clinician).String() + "\r\n"
			}
			conn := s.dial(t)
			send(t, conn, fmt.Sprintf("POST %s HTTP/1.1\r\nHost: x\r\n%sContent-Type: %s\r\nContent-Length: 4000\r\n\r\n{\"name\":\"", c.path, cookie, c.kind))
			go drip(conn)
			said := untilCut(t, conn)
			if !strings.HasPrefix(said, fmt.Sprintf("HTTP/1.1 %d ", c.status)) || !strings.Contains(said, `"error":"too-slow"`) {
				t.Errorf("answered %q", said)
			}
			s.stillAnswers(t)
		})
	}
}

// bigNotes pushes so much text that a page of it fits into no buffer.
func (s socket) bigNotes(t *testing.T, from int64, count int) {
	t.Helper()
	text := strings.Repeat("n", 20_000)
	var lines [][]byte
	for i := range count {
		lines = append(lines, s.event(t, from+int64(i), model.KindVisitNoted, s.visit,
			model.VisitNoted{Fields: map[string]string{"note": text, "story": text, "goals": text, "risks": text, "consent": text}}))
	}
	s.push(t, clinician, from, lines...)
}

func TestFault37ASlowReaderHoldsNothing(t *testing.T) {
	s := serveSocket(t, Times{Header: time.Hour, Body: time.Hour, Answer: 4 * time.Second, Idle: time.Hour})
	s.bigNotes(t, 4, 40)
	s.bigNotes(t, 44, 40)
	c := s.dial(t)
	if err := c.SetReadBuffer(4096); err != nil {
		t.Fatal(err)
	}
	send(t, c, fmt.Sprintf("GET /api/v1/teams/%s/events HTTP/1.1\r\nHost: x\r\nCookie: %s\r\n\r\n", s.north, s.cookieOf(t, assistant)))
	first, err := bufio.NewReaderSize(c, 16).ReadString('\n')
	if err != nil || !strings.HasPrefix(first, "HTTP/1.1 200 ") {
		t.Fatalf("%q, %v", first, err)
	}
	// The answer is on its way and its reader has stopped: nothing of the
	// store is held, and others write.
	if n := s.views.Load(); n != 0 {
		t.Errorf("%d reads of the store are under way for somebody who does not read on", n)
	}
	s.bigNotes(t, 84, 1)
	select {
	case <-s.closed:
	case <-time.After(patience):
		t.Error("the server still sends to somebody who does not read")
	}
	s.stillAnswers(t)
}

func TestAPageOfALogIsBounded(t *testing.T) {
	s := socket{site: newSite(t, Options{})}
	s.bigNotes(t, 4, 40)
	s.bigNotes(t, 44, 40)
	seen, after := 0, int64(0)
	for more := true; more; {
		got := s.ask(t, assistant, "GET", fmt.Sprintf("/api/v1/teams/%s/events?after=%d", s.north, after), "")
		if got.Body.Len() > caseload.MaxPullBytes+256<<10 {
			t.Errorf("a page of %d bytes", got.Body.Len())
		}
		var page model.PullAnswer
		got.into(t, &page)
		more, after, seen = page.More, page.Next, seen+bytes.Count(got.Body.Bytes(), []byte(`"raw":`))
	}
	if seen != 82 { // two of the client and the visit, eighty notes
		t.Errorf("%d events came over all pages", seen)
	}
}
