// Package server is the HTTP edge: routes, the layers that every request goes
// through, and one handler a file. It holds no rules. Who may see what is
// decided by the functions it calls; it tells them who is calling, writes the
// audit trail before an answer leaves, and turns errors into words.
package server

import (
	"io/fs"
	"log/slog"
	"net/http"
	"net/netip"
	"time"

	"github.com/gorilla/mux"

	"doorsill/internal/account"
	"doorsill/internal/agreement"
	"doorsill/internal/audit"
	"doorsill/internal/backup"
	"doorsill/internal/caseload"
	"doorsill/internal/checklist"
	"doorsill/internal/engine"
	"doorsill/internal/intake"
	"doorsill/internal/seal"
	"doorsill/internal/store"
	"doorsill/server/provider"
)

// Deps are what the edge stands on. All are needed unless they say otherwise.
type Deps struct {
	Store    store.Store
	Accounts *account.Service
	Trail    *audit.Trail
	Intake   *intake.Intake
	// Envelopes takes sealed entries in; Organisation is the key that they are
	// sealed to, whose public half every session hears of.
	Envelopes    *intake.Envelopes
	Organisation *seal.Key
	Records      *caseload.Reader
	Index        *caseload.Index
	// Agreement compares two raters of one trial.
	Agreement *agreement.Reader
	// Backups makes backups of the records.
	Backups *backup.Keeper
	// Checklists are the known versions; the first is the current one.
	Checklists []*checklist.Definition
	// Files is the bundled front end; Missing is said instead when Bundled is
	// false.
	Files   fs.FS
	Bundled bool
	Missing string
	Now     func() time.Time
	Log     *slog.Logger
	// Secure says that browsers reach the server by HTTPS; cookies then carry
	// the __Host- prefix. Without it the server must listen on loopback only.
	Secure bool
	// Proxies are the addresses of the proxies in front, whose X-Forwarded-For
	// and X-Forwarded-Proto count; everybody else is then turned away. Without
	// any, requests that carry such headers are refused.
	Proxies []netip.Prefix
	// MetricsToken opens /metrics to others than loopback; empty opens it to
	// nobody else.
	MetricsToken string
	// Provider signs people in for the organisation; nil where there is none.
	Provider *provider.Provider
	// Demo is told to everybody who is not signed in; empty on a real server.
	Demo string
	// Times are the time limits of a request.
	Times Times
	// PushesPerSecond bounds one person's pushes, in bursts of four times
	// that; zero takes 30.
	PushesPerSecond float64
}

// server is what handlers hang on.
type server struct {
	deps       Deps
	files      *files
	metrics    *metrics
	pushes     *rates
	proxies    proxyList
	checklists checklistAnswers
	wordings   wordings
}

// build returns the handler of a whole service, and its router for the tests
// that walk it. The error says that the front end in the binary can not be read.
func build(deps Deps) (*mux.Router, http.Handler, error) {
	files, err := loadFiles(deps.Files, deps.Bundled, deps.Missing)
	if err != nil {
		return nil, nil, err
	}
	if deps.PushesPerSecond == 0 {
		deps.PushesPerSecond = 30
	}
	s := &server{
		deps: deps, files: files, metrics: newMetrics(),
		pushes:     newRates(deps.PushesPerSecond, int(4*deps.PushesPerSecond)),
		checklists: prepareChecklists(deps.Checklists),
		wordings:   prepareWordings(deps.Checklists),
		proxies:    deps.Proxies,
	}
	deps.Intake.OnUnscored(func(visit, why string) {
		deps.Log.Warn("a visit could not be scored", "visit", visit, "why", why, "engine", engine.Version)
	})
	router := s.router()
	handler := withHeaders(securityHeaders(deps.Secure),
		s.withTrace(s.withRecover(s.withProxy(s.withLimits(withSameOrigin(router))))))
	return router, handler, nil
}
