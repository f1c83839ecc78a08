package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"

	"doorsill/internal/tablettest"
)

// halfSent opens a connection and sends the head of a push and so much of its
// body.
func halfSent(t *testing.T, tab *tablet, body []byte, sent int) net.Conn {
	t.Helper()
	c, err := net.Dial("tcp", strings.TrimPrefix(tab.url, "http://"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = c.Close() })
	// Whoever asks whether to send the body hears so once the body is waited for.
	_, err = fmt.Fprintf(c, "POST /api/v1/events HTTP/1.1\r\nHost: x\r\nCookie: %s\r\nContent-Type: application/x-ndjson\r\nContent-Length: %d\r\nExpect: 100-continue\r\n\r\n", tab.cookie, len(body))
	if err != nil {
		t.Fatal(err)
	}
	goOn := make([]byte, len("HTTP/1.1 100 Continue\r\n\r\n"))
	if _, err := io.ReadFull(c, goOn); err != nil || !strings.Contains(string(goOn), " 100 ") {
		t.Fatalf("%q, %v", goOn, err)
	}
	if _, err := c.Write(body[:sent]); err != nil {
		t.Fatal(err)
	}
	return c
}

// TestStoppingWithHalfSentRequestsEndsInTimeAndWell tells the real program to
// stop while one push has come half, another but for its last byte, and a third
// connection holds half a head.
func TestStoppingWithHalfSentRequestsEndsInTimeAndWell(t *testing.T) {
	const limit = 4 * time.Second
	dir := t.TempDir()
	team := staffed(t, dir, 2)
	p := startServer(t, dir, os.Args[0], "--stop-within", limit.String())
	var tablets [2]*tablet
	var logs []*tablettest.Tablet
	var bodies [2][]byte
	for i := range tablets {
		tablets[i] = signedIn(t, p.url, clinicianNo(i)).tablet(team)
		someWork(&tablets[i].Tablet)
		var count int
		bodies[i], count = tablets[i].Push(1000)
		tablets[i].Unanswered = append(tablets[i].Unanswered, int64(count))
		logs = append(logs, &tablets[i].Tablet)
	}
	half := halfSent(t, tablets[0], bodies[0], len(bodies[0])/2)
	nearly := halfSent(t, tablets[1], bodies[1], len(bodies[1])-1)
	head, err := net.Dial("tcp", strings.TrimPrefix(p.url, "http://"))
	if err != nil {
		t.Fatal(err)
	}
	defer head.Close()
	if _, err := io.WriteString(head, "POST /api/v1/session HTTP/1.1\r\nHo"); err != nil {
		t.Fatal(err)
	}
	start := time.Now()
	if err := p.cmd.Process.Signal(syscall.SIGTERM); err != nil {
		t.Fatal(err)
	}
	untilRefused(t, p.url)
	// It stops, and what comes to its end is taken in all the same.
	if _, err := nearly.Write(bodies[1][len(bodies[1])-1:]); err != nil {
		t.Fatal(err)
	}
	said, err := io.ReadAll(nearly)
	if err != nil || !bytes.HasPrefix(said, []byte("HTTP/1.1 200 ")) {
		t.Errorf("a push that came to its end while the server stopped: %q, %v", said, err)
	}
	if said, _ := io.ReadAll(half); bytes.Contains(said, []byte(" 200 ")) {
		t.Errorf("half a push was answered %q", said)
	}
	p.gone = true
	err = p.cmd.Wait()
	if took := time.Since(start); err != nil || took > limit+time.Second {
		t.Errorf("ended after %v with %v, want exit code 0 within %v; it said %s", took, err, limit, p.said)
	}
	tablets[1].Ack, tablets[1].Unanswered = tablets[1].Unanswered[0], nil
	tablets[0].Unanswered = nil // half of it is nothing
	wantKept(t, dir, logs...)
}

// untilRefused waits until the server takes no new connections.
func untilRefused(t *testing.T, url string) {
	t.Helper()
	for end := time.Now().Add(20 * time.Second); time.Now().Before(end); {
		c, err := net.Dial("tcp", strings.TrimPrefix(url, "http://"))
		if err != nil {
			return
		}
		_ = c.Close()
	}
	t.Fatal("the server still takes connections")
}

// held returns a gate with one request under way, which ends with release or with
// the test.
func held(t *testing.T) (g *gate, release func()) {
	t.Helper()
	begun, ended := make(chan struct{}), make(chan struct{})
	going, release := context.WithCancel(t.Context())
	g = &gate{handler: http.HandlerFunc(func(http.ResponseWriter, *http.Request) {
		close(begun)
		<-going.Done()
	})}
	go func() {
		g.ServeHTTP(httptest.NewRecorder(), httptest.NewRequest("GET", "/", nil))
		close(ended)
	}()
	t.Cleanup(func() {
		release()
		<-ended
	})
	<-begun
	return g, release
}

// TestStoppingWaitsForARequestWithoutConnection: what a request stands on must
// not be closed while it does not notice that nobody listens any more.
func TestStoppingWaitsForARequestWithoutConnection(t *testing.T) {
	g, release := held(t)
	stopped := make(chan error, 1)
	go func() { stopped <- g.stop(&http.Server{}, time.Hour, slog.New(slog.DiscardHandler)) }()
	for g.passing.TryRLock() { // until it is shut
		g.passing.RUnlock()
		select {
		case err := <-stopped:
			t.Fatalf("stopped while a request was under way: %v", err)
		default:
			runtime.Gosched()
		}
	}
	func() {
		defer func() {
			if cause := recover(); cause != http.ErrAbortHandler {
				t.Errorf("a request that comes after that: %v, want it turned away", cause)
			}
		}()
		g.ServeHTTP(nil, nil)
	}()
	release()
	if err := <-stopped; err != nil {
		t.Error(err)
	}
}

func TestStoppingDoesNotWaitForEver(t *testing.T) {
	g, _ := held(t)
	if err := g.stop(&http.Server{}, 10*time.Millisecond, slog.New(slog.DiscardHandler)); err == nil {
		t.Error("stopped well while a request was under way")
	}
}
