package server

import (
	"net/http"
	"strconv"
	"strings"

	"github.com/gorilla/mux"

	"doorsill/internal/account"
	"doorsill/internal/audit"
)

// handler answers one request for a caller, who is nobody on open routes.
type handler func(s *server, r *http.Request, c account.Caller) (answer, error)

// route is one line of the table. Action goes into the audit trail when the
// request was answered; routes about accounts have none, since the account
// package writes its own lines. A denied request always leaves a line.
type route struct {
	method, path string
	action       string
	handle       handler
	who          audience
}

// audience says who a route is for, before its handler looks at roles.
type audience int

const (
	// signedIn is everybody with a session.
	signedIn audience = iota
	// anybody is answered without a session.
	anybody
	// withdrawn is signedIn and also for sessions on a revoked tablet, which
	// get nothing else.
	withdrawn
)

// routes is every address of the API.
func routes() []route {
	return []route{
		{"POST", "/api/v1/session", "", sessionOpen, anybody},
		{"GET", "/api/v1/session", "", sessionRead, withdrawn},
		{"DELETE", "/api/v1/session", "", sessionEnd, withdrawn},
		{"GET", "/api/v1/sessions", "", sessionsList, signedIn},
		{"DELETE", "/api/v1/sessions", "", sessionsEnd, signedIn},
		{"DELETE", "/api/v1/sessions/{id}", "", sessionsEndOne, signedIn},

		{"POST", "/api/v1/tablets", "", tabletAdd, signedIn},
		{"PUT", "/api/v1/tablets/{id}/key", "", tabletKey, signedIn},
		{"POST", "/api/v1/tablets/{id}/holding", "", tabletHolding, signedIn},
		{"POST", "/api/v1/tablets/{id}/revoke", "", tabletRevoke, signedIn},
		{"POST", "/api/v1/tablets/{id}/cleared", "", tabletCleared, withdrawn},
		{"GET", "/api/v1/teams/{team}/tablets", "read tablets", tabletsList, signedIn},
		{"GET", "/api/v1/people/{id}/tablets", "read tablets", tabletsOfPerson, signedIn},

		{"GET", "/api/v1/checklists", "", checklistsList, signedIn},
		{"GET", "/api/v1/checklists/{hash}", "", checklistRead, signedIn},

		{"POST", pushPath, "write events", eventsPush, withdrawn},
		{"POST", sealedPath, "write sealed events", sealedPush, withdrawn},
		{"GET", "/api/v1/teams/{team}/events", "read events", eventsPull, signedIn},

		{"GET", "/api/v1/teams/{team}/caseload", "read caseload", caseloadRead, signedIn},
		{"POST", "/api/v1/teams/{team}/caseload/search", "read caseload", caseloadSearch, signedIn},
		{"GET", "/api/v1/teams/{team}/agreement", "read agreement", agreementRead, signedIn},
		{"GET", "/api/v1/clients/{id}", "read client", clientRead, signedIn},
		{"PUT", "/api/v1/clients/{id}/assignment", "assign client", clientAssign, signedIn},
		{"GET", "/api/v1/visits/{id}", "read visit", visitRead, signedIn},
		{"GET", "/api/v1/teams/{team}/quarantine", "read quarantine", quarantineList, signedIn},
		{"GET", "/api/v1/quarantine", "read quarantine", quarantineOwn, signedIn},
		{"POST", "/api/v1/quarantine/confirm", "confirm quarantine", quarantineConfirm, signedIn},
		{"POST", "/api/v1/quarantine/{id}/settle", "settle quarantine", quarantineSettle, signedIn},

		{"GET", "/api/v1/people", "", peopleList, signedIn},
		{"POST", "/api/v1/people", "", personAdd, signedIn},
		{"PUT", "/api/v1/people/{id}", "", personChange, signedIn},
		{"POST", "/api/v1/people/{id}/password", "", personPassword, signedIn},
		{"PUT", "/api/v1/people/{id}/identity", "", personIdentity, signedIn},
		{"GET", "/api/v1/teams", "", teamsList, signedIn},
		{"POST", "/api/v1/teams", "", teamAdd, signedIn},

		{"GET", "/api/v1/oidc/start", "", oidcStart, anybody},
		{"GET", "/api/v1/oidc/return", "", oidcReturn, anybody},
		{"GET", "/api/v1/backup", "", backupRead, signedIn},
		{"POST", "/api/v1/backup", "make backup", backupMake, signedIn},

		{"GET", "/healthz", "", healthRead, anybody},
		{"GET", "/metrics", "", metricsRead, anybody},
	}
}

func (s *server) router() *mux.Router {
	router := mux.NewRouter()
	for _, rt := range routes() {
		router.Methods(rt.method).Path(rt.path).Handler(s.edge(rt))
	}
	router.NotFoundHandler = http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		traceOf(r).route = "files"
		s.files.ServeHTTP(w, r)
	})
	router.MethodNotAllowedHandler = http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Allow", strings.Join(methodsAt(router, r), ", "))
		writeJSON(w, http.StatusMethodNotAllowed, ErrorAnswer{Error: "method", Message: "This address does not know that method."})
	})
	return router
}

// methodsAt are the methods that the address of a request does know.
func methodsAt(router *mux.Router, r *http.Request) (methods []string) {
	for _, method := range []string{http.MethodDelete, http.MethodGet, http.MethodPost, http.MethodPut} {
		other := r.Clone(r.Context())
		other.Method = method
		var match mux.RouteMatch
		if router.Match(other, &match) && match.MatchErr == nil {
			methods = append(methods, method)
		}
	}
	return methods
}

// edge runs one route: who is calling, what they get, what the trail says.
func (s *server) edge(rt route) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		t := traceOf(r)
		t.route = rt.path
		c, err := s.callerOf(r, rt.who)
		t.person = c.Person
		if c.Withdrawn {
			w.Header().Set(tabletHeader, tabletRevoked)
		}
		if err == nil {
			err = rt.admits(c)
		}
		var a answer
		if err == nil {
			a, err = rt.handle(s, r, c)
		}
		if trailErr := s.trace(rt, r, c, a, err); trailErr != nil {
			a, err = answer{}, trailErr
		}
		if err != nil {
			s.fail(w, r, err)
			return
		}
		a.write(w)
	})
}

// A session on a revoked tablet hears of it with every answer, so that the
// tablet sends what it holds and clears itself.
const (
	tabletHeader  = "Doorsill-Tablet"
	tabletRevoked = "revoked"
)

// admits keeps sessions on a revoked tablet out of everything that a tablet
// does not need in order to send what it holds.
func (rt route) admits(c account.Caller) error {
	if !c.Withdrawn || rt.who == withdrawn {
		return nil
	}
	return &refusal{status: http.StatusForbidden, ErrorAnswer: ErrorAnswer{
		Error: "tablet-revoked", Message: "This tablet was withdrawn. It sends what it still holds and then clears itself.",
	}}
}

// callerOf reads the session; routes for anybody do without.
func (s *server) callerOf(r *http.Request, who audience) (account.Caller, error) {
	source := traceOf(r).source
	if who == anybody {
		return account.Caller{Source: source}, nil
	}
	return s.deps.Accounts.Authenticate(r.Context(), s.secretOf(r), source)
}

// trace writes the line of the audit trail: every answer about a client, and
// every request that somebody signed in was denied.
func (s *server) trace(rt route, r *http.Request, c account.Caller, a answer, err error) error {
	n := audit.Note{Person: c.Person, Action: rt.action, Subject: a.subject, Team: a.team, From: c.Source}
	switch {
	case isDenied(err) && c.SignedIn():
		n.Result, n.Subject, n.Team = audit.Denied, idOf(r), mux.Vars(r)["team"]
		if n.Action == "" {
			n.Action = rt.method + " " + rt.path
		}
	case err != nil, rt.action == "", a.untraced:
		return nil
	}
	return s.deps.Trail.Note(n)
}

// idOf is the id that the address names. It came from outside, so it is cut.
func idOf(r *http.Request) string { return clipID(mux.Vars(r)["id"]) }

func clipID(id string) string { return id[:min(len(id), 64)] }

// fail writes an error, and logs the ones that nobody foresaw.
func (s *server) fail(w http.ResponseWriter, r *http.Request, err error) {
	t := traceOf(r)
	if t.route == "/api/v1/session" {
		err = s.withHints(r, err)
	}
	status, body, retry := explain(err, t.id)
	if retry > 0 {
		w.Header().Set("Retry-After", strconv.Itoa(retry))
	}
	if status >= http.StatusInternalServerError {
		s.deps.Log.Error("request failed", "id", t.id, "route", t.route, "error", err)
	}
	writeJSON(w, status, body)
}
