package server

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"sync"
	"time"

	"doorsill/internal/intake"
)

// Limits of the edge.
const (
	maxBody   = 64 * 1024
	maxPush   = intake.MaxPush
	maxAtOnce = 256
	// maxOfSource is how many of these one address may hold: a whole clinic
	// can be behind it, and somebody who sends slowly on purpose as well.
	maxOfSource = maxAtOnce / 4
	pushPath    = "/api/v1/events"
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

// crowd counts the requests under way, in all and by source.
type crowd struct {
	mu      sync.Mutex
	all     int
	sources map[string]int
}

// enter says whether there is a place for one more; leave gives it back.
func (c *crowd) enter(source string) bool {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.all >= maxAtOnce || c.sources[source] >= maxOfSource {
		return false
	}
	c.all++
	c.sources[source]++
	return true
}

func (c *crowd) leave(source string) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.all--
	if c.sources[source]--; c.sources[source] == 0 {
		delete(c.sources, source)
	}
}

// withLimits bounds how many requests are under way, how large each is and how
// long it may take.
func (s *server) withLimits(next http.Handler) http.Handler {
	here := &crowd{sources: make(map[string]int)}
	times := s.deps.Times.filled()
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		source := traceOf(r).source
		if !here.enter(source) {
			w.Header().Set("Retry-After", "2")
			writeJSON(w, http.StatusServiceUnavailable, ErrorAnswer{Error: "busy", Message: "The server is busy. Please try again in a moment."})
			return
		}
		defer here.leave(source)
		limit := int64(maxPush)
		switch r.URL.Path {
		case pushPath:
		case sealedPath:
			limit = maxPush / 3 * 4 // the same in base64
		default:
			limit = maxBody
			// A handler under test has no connection to set this on.
			_ = http.NewResponseController(w).SetReadDeadline(time.Now().Add(times.SmallBody))
		}
		r.Body = http.MaxBytesReader(w, wireBody{r.Body}, limit)
		ctx, cancel := context.WithTimeout(r.Context(), times.Answer*3/4)
		defer cancel()
		next.ServeHTTP(w, r.WithContext(ctx))
	})
}

// wireBody says of a body that ends in any other way than it announced, such as
// with chunks that cannot be, that it was cut off: that is no fault of the server.
type wireBody struct{ io.ReadCloser }

func (b wireBody) Read(p []byte) (int, error) {
	n, err := b.ReadCloser.Read(p)
	if err != nil && !errors.Is(err, io.EOF) {
		err = fmt.Errorf("%w: %w", io.ErrUnexpectedEOF, err)
	}
	return n, err
}
