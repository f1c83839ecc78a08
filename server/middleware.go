package server

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"log/slog"
	"net/http"
	"runtime/debug"

	"doorsill/internal/panics"
)

type contextKey int

const tracedKey contextKey = iota

// traced is what the outer layers learn about a request on its way in.
type traced struct {
	id     string
	source string
	route  string // the pattern, once the router has matched
	person string // once the session has been read
}

// traceOf never returns nil: a handler under test may run without the layers.
func traceOf(r *http.Request) *traced {
	if t, ok := r.Context().Value(tracedKey).(*traced); ok {
		return t
	}
	return &traced{id: "none", source: proxyList(nil).sourceOf(r)}
}

// statusWriter remembers what was answered.
type statusWriter struct {
	http.ResponseWriter
	status int
	bytes  int
}

// WriteHeader notes the first status.
func (w *statusWriter) WriteHeader(status int) {
	if w.status == 0 {
		w.status = status
	}
	w.ResponseWriter.WriteHeader(status)
}

// Write counts bytes.
func (w *statusWriter) Write(b []byte) (int, error) {
	if w.status == 0 {
		w.status = http.StatusOK
	}
	n, err := w.ResponseWriter.Write(b)
	w.bytes += n
	return n, err
}

// Unwrap lets http.ResponseController reach the connection.
func (w *statusWriter) Unwrap() http.ResponseWriter { return w.ResponseWriter }

// withTrace gives the request an id and writes one log line and one count when
// it is answered. Neither holds a path, a query or a body: those can name
// clients.
func (s *server) withTrace(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		t := &traced{id: newRequestID(), source: s.proxies.sourceOf(r), route: "none"}
		w.Header().Set("X-Request-Id", t.id)
		sw := &statusWriter{ResponseWriter: w}
		start := s.deps.Now()
		next.ServeHTTP(sw, r.WithContext(context.WithValue(r.Context(), tracedKey, t)))
		took := s.deps.Now().Sub(start)
		method := methodOf(r)
		s.metrics.observe(method, t.route, sw.status, took)
		s.deps.Log.LogAttrs(r.Context(), levelOf(sw.status), "request",
			slog.String("id", t.id), slog.String("method", method), slog.String("route", t.route),
			slog.Int("status", sw.status), slog.Int("bytes", sw.bytes),
			slog.Float64("ms", float64(took.Microseconds())/1000), slog.String("person", t.person), slog.String("source", t.source))
	})
}

// methodOf is the method when HTTP has it. Others come from whoever likes to
// make one up, and each would take a place among the counts for ever.
func methodOf(r *http.Request) string {
	switch r.Method {
	case http.MethodGet, http.MethodHead, http.MethodPost, http.MethodPut, http.MethodDelete, http.MethodPatch, http.MethodOptions:
		return r.Method
	}
	return "other"
}

func levelOf(status int) slog.Level {
	if status >= 500 {
		return slog.LevelError
	}
	return slog.LevelInfo
}

// withRecover answers a panic like any other unforeseen error.
func (s *server) withRecover(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		defer func() {
			cause := recover()
			if cause == nil {
				return
			}
			if cause == http.ErrAbortHandler {
				panic(cause)
			}
			t := traceOf(r)
			s.deps.Log.Error("panic", "id", t.id, "route", t.route, "cause", panics.Cause(cause), "stack", string(debug.Stack()))
			_, e, _ := explainPlain(nil, t.id)
			writeJSON(w, http.StatusInternalServerError, e)
		}()
		next.ServeHTTP(w, r)
	})
}

// withSameOrigin refuses writes that another site's page caused.
func withSameOrigin(next http.Handler) http.Handler {
	protection := http.NewCrossOriginProtection()
	protection.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		writeJSON(w, http.StatusForbidden, ErrorAnswer{Error: "cross-origin", Message: "This request came from another site."})
	}))
	return protection.Handler(next)
}

func newRequestID() string {
	b := make([]byte, 8)
	if _, err := rand.Read(b); err != nil {
		return "none"
	}
	return hex.EncodeToString(b)
}
