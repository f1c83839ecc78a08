package server

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"time"

	"doorsill/internal/intake"
)

// Limits of the edge.
const (
	maxBody  = 64 * 1024
	maxPush  = intake.MaxPush
	pushPath = "/api/v1/events"
	// sealedPath takes what a tablet sealed and can not open any more.
	sealedPath = "/api/v1/sealed"
)

// Times bound how long one request may take. Zero fields take the defaults.
type Times struct {
	// Header is for the handshake and again for the head of a request; 5 s.
	Header time.Duration
	// Body is for a whole push with its head, SmallBody for any other request;
	// 50 s and 15 s. A tablet gives up after 60 s and would not know why.
	Body, SmallBody time.Duration
	// Slow is how long a body may come as slowly as it likes; 10 s. From then on
	// it must have come at leastRate on average.
	Slow time.Duration
	// Answer is for the work and the sending of the answer; 60 s. The work is
	// given up after three quarters of it, so that there is time to say so.
	Answer time.Duration
	// Idle is how long a connection may wait for its next request; 120 s.
	Idle time.Duration
}

func (t Times) filled() Times {
	fill := func(d *time.Duration, otherwise time.Duration) {
		if *d == 0 {
			*d = otherwise
		}
	}
	fill(&t.Header, 5*time.Second)
	fill(&t.Body, 50*time.Second)
	fill(&t.SmallBody, 15*time.Second)
	fill(&t.Slow, 10*time.Second)
	fill(&t.Answer, 60*time.Second)
	fill(&t.Idle, 120*time.Second)
	return t
}

// NewHTTPServer returns a server around the handler with time limits that a
// slow reader or writer can not stretch.
func NewHTTPServer(h http.Handler, log *slog.Logger, t Times) *http.Server {
	t = t.filled()
	return &http.Server{
		Handler:           h,
		ReadHeaderTimeout: t.Header,
		ReadTimeout:       t.Body,
		WriteTimeout:      t.Answer,
		IdleTimeout:       t.Idle,
		MaxHeaderBytes:    16 * 1024,
		ErrorLog:          slog.NewLogLogger(log.Handler(), slog.LevelWarn),
	}
}

// withLimits bounds how many requests are under way, how large each is and how
// long it may take.
func (s *server) withLimits(next http.Handler) http.Handler {
	here := newCrowd()
	times := s.deps.Times.filled()
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		leave, ok := here.enter(traceOf(r).source, s.knownIn(r))
		if !ok {
			w.Header().Set("Retry-After", "2")
			writeJSON(w, http.StatusServiceUnavailable, ErrorAnswer{Error: "busy", Message: "The server is busy. Please try again in a moment."})
			return
		}
		defer leave()
		most, within := int64(maxBody), times.SmallBody
		switch r.URL.Path {
		case pushPath:
			most, within = maxPush, times.Body
		case sealedPath:
			most, within = maxPush/3*4, times.Body // the same in base64
		}
		r.Body = http.MaxBytesReader(w, newWireBody(w, r.Body, times, within), most)
		ctx, cancel := context.WithTimeout(r.Context(), times.Answer*3/4)
		defer cancel()
		next.ServeHTTP(w, r.WithContext(ctx))
	})
}

// knownIn is the person whose session or known browser a request comes with, or
// empty. What can not be looked up is a stranger's.
func (s *server) knownIn(r *http.Request) string {
	person, err := s.deps.Accounts.Known(r.Context(), s.secretOf(r), s.browsersOf(r))
	if err != nil {
		s.deps.Log.Warn("whose place a request may take could not be looked up", "id", traceOf(r).id, "error", err)
	}
	return person
}

// leastRate is how many bytes a second a body must bring on average: an eighth of
// what GPRS brought (common knowledge, no source; a proposal, not validated). A
// whole push must come in Times.Body, so a tablet on a bad line sends fewer
// entries at a time.
const leastRate = 1024

// wireBody is a body as it comes over a connection. It ends when it comes too
// slowly; and of one that ends in any other way than it announced, such as with
// chunks that cannot be, it says that it was cut off: that is no fault of the
// server.
type wireBody struct {
	io.ReadCloser
	conn  *http.ResponseController
	begun time.Time
	times Times
	// end is when all of it must have come.
	end  time.Time
	read int64
}

func newWireBody(w http.ResponseWriter, body io.ReadCloser, times Times, within time.Duration) *wireBody {
	now := time.Now()
	return &wireBody{ReadCloser: body, conn: http.NewResponseController(w), begun: now, times: times, end: now.Add(within)}
}

// Read waits for more no longer than the rate allows.
func (b *wireBody) Read(p []byte) (int, error) {
	slow := b.begun.Add(b.times.Slow + time.Duration(b.read)*time.Second/leastRate)
	if slow.After(b.end) {
		slow = b.end
	}
	// A handler under test has no connection to set this on.
	_ = b.conn.SetReadDeadline(slow)
	n, err := b.ReadCloser.Read(p)
	b.read += int64(n)
	if errors.Is(err, io.EOF) {
		// The connection is watched on, so that work for nobody ends.
		_ = b.conn.SetReadDeadline(b.begun.Add(b.times.Answer))
	} else if err != nil {
		err = fmt.Errorf("%w: %w", io.ErrUnexpectedEOF, err)
	}
	return n, err
}
