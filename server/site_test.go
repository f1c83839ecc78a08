package server

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/gorilla/mux"

	"doorsill/internal/account"
	"doorsill/internal/audit"
	"doorsill/internal/caseload"
	"doorsill/internal/checklist/authoring"
	"doorsill/internal/model"
	"doorsill/internal/store"
)

// Who asks, in the tests of this package.
const (
	nobody    = "nobody"
	assistant = "assistant"
	clinician = "clinician"
	lead      = "lead of the team"
	otherLead = "lead of another team"
	admin     = "admin"
	revoked   = "revoked session"
	// twoTeams is an assistant in the north and leads the south.
	twoTeams = "person of two teams"
)

const goodPassword = "seven loose cobblestones"

// secretName is the invented client's name; whoever must not see clinical
// content must never see it.
const secretName = "Quillon Marrowby"

// site is a whole service with people of every kind, and one client with one
// visit in the north team.
type site struct {
	*App
	router  *mux.Router
	clock   *clock
	ids     map[string]string // person ids by kind
	north   string
	south   string
	tablet  string // the clinician's
	client  string
	visit   string
	session map[string]*http.Cookie
}

type clock struct {
	mu  sync.Mutex
	now time.Time
}

func (c *clock) Now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.now
}

func (c *clock) turn(d time.Duration) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.now = c.now.Add(d)
}

// newSite opens a service with people and a client.
func newSite(t *testing.T, o Options) *site {
	t.Helper()
	s := openSite(t, o)
	s.fill(t)
	return s
}

// openSite opens an empty service; the audit trail is checked when the test
// ends.
func openSite(t *testing.T, o Options) *site {
	t.Helper()
	c := &clock{now: time.Date(2026, 3, 10, 9, 0, 0, 0, time.UTC)}
	o.Now, o.NoSync, o.Files = c.Now, true, bundle()
	o.PasswordCost = account.Cost{MemoryKiB: 64, Passes: 1, Lanes: 1}
	app, err := Open(t.TempDir(), o)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if _, err := audit.Verify(context.Background(), app.Store); err != nil {
			t.Error(err)
		}
		if err := app.Close(); err != nil {
			t.Error(err)
		}
	})
	return &site{App: app, clock: c, router: app.router, ids: map[string]string{}, session: map[string]*http.Cookie{}}
}

func (s *site) fill(t *testing.T) {
	t.Helper()
	s.north, s.south = s.addTeam(t, "North"), s.addTeam(t, "South")
	for kind, roles := range map[string]map[string]string{
		assistant: {s.north: model.RoleAssistant}, clinician: {s.north: model.RoleClinician},
		lead: {s.north: model.RoleLead}, otherLead: {s.south: model.RoleLead}, admin: nil,
		twoTeams: {s.north: model.RoleAssistant, s.south: model.RoleLead},
	} {
		p, err := s.Accounts.AddPerson(t.Context(), account.Console(), account.NewPerson{
			Login: strings.ReplaceAll(kind, " ", "-"), Name: "An invented " + kind, Password: goodPassword, Admin: kind == admin, Roles: roles,
		})
		if err != nil {
			t.Fatal(err)
		}
		s.ids[kind] = p.ID
	}
	s.client, s.visit = strings.Repeat("c1", 16), strings.Repeat("d2", 16)
	var made TabletMade
	s.ask(t, clinician, "POST", "/api/v1/tablets", `{"label":"blue"}`).into(t, &made)
	s.tablet = made.ID
	s.push(t, clinician, 1,
		s.event(t, 1, model.KindClientOpened, s.client, model.ClientOpened{
			Team: s.north, Ref: "R-77", Name: secretName, Referred: "2026-01-05", Priority: "urgent", Course: "stable"}),
		s.event(t, 2, model.KindVisitStarted, s.visit, s.visitStarted()),
		s.event(t, 3, model.KindAnswerGiven, s.visit, model.AnswerGiven{Item: "no-such-item", State: model.StateAnswered, Level: "3"}),
	)
}

func (s *site) visitStarted() model.VisitStarted {
	d := authoring.Standard()
	return model.VisitStarted{Client: s.client, Team: s.north, Unit: "gf",
		Checklist: model.ChecklistRef{ID: d.ID, Version: d.Version, Hash: d.Hash()}}
}

func (s *site) addTeam(t *testing.T, name string) string {
	t.Helper()
	team, err := s.Accounts.AddTeam(t.Context(), account.Console(), name)
	if err != nil {
		t.Fatal(err)
	}
	return team.ID
}

// event is one line as the clinician's tablet writes it.
func (s *site) event(t *testing.T, n int64, kind, subject string, body any) []byte {
	t.Helper()
	inner, err := json.Marshal(body)
	if err != nil {
		t.Fatal(err)
	}
	line, err := json.Marshal(model.Event{
		Tablet: s.tablet, N: n, Kind: kind, Subject: subject, Author: s.ids[clinician],
		At: "2026-03-10T08:59:00.000Z", Zone: "Etc/UTC", Schema: model.SchemaNow, Body: inner,
	})
	if err != nil {
		t.Fatal(err)
	}
	return line
}

// pushBody wraps lines into the body of a push.
func pushBody(tablet string, from int64, lines ...[]byte) string {
	rest := append(bytes.Join(lines, []byte("\n")), '\n')
	sum := sha256.Sum256(rest)
	head := fmt.Sprintf(`{"log":"","tablet":%q,"from":%d,"count":%d,"sha256":%q}`, tablet, from, len(lines), hex.EncodeToString(sum[:]))
	return head + "\n" + string(rest)
}

func (s *site) push(t *testing.T, who string, from int64, lines ...[]byte) reply {
	t.Helper()
	got := s.ask(t, who, "POST", pushPath, pushBody(s.tablet, from, lines...))
	if got.Code != http.StatusOK {
		t.Fatalf("push: %d %s", got.Code, got.Body)
	}
	return got
}

// reply is what came back.
type reply struct{ *httptest.ResponseRecorder }

func (r reply) into(t *testing.T, v any) {
	t.Helper()
	if r.Code >= 300 {
		t.Fatalf("status %d: %s", r.Code, r.Body)
	}
	if err := json.Unmarshal(r.Body.Bytes(), v); err != nil {
		t.Fatalf("%v in %s", err, r.Body)
	}
}

func (r reply) refused(t *testing.T) ErrorAnswer {
	t.Helper()
	var e ErrorAnswer
	if err := json.Unmarshal(r.Body.Bytes(), &e); err != nil || r.Code < 400 || e.Error == "" || e.Message == "" {
		t.Fatalf("%d %s is not an error in words (%v)", r.Code, r.Body, err)
	}
	return e
}

// ask sends one request as somebody who has just signed in.
func (s *site) ask(t *testing.T, who, method, path, body string) reply {
	t.Helper()
	return s.send(s.request(method, path, body, s.cookieOf(t, who)))
}

func (s *site) request(method, path, body string, cookie *http.Cookie) *http.Request {
	r := httptest.NewRequest(method, path, strings.NewReader(body))
	r.Header.Set("Content-Type", "application/json")
	if path == pushPath {
		r.Header.Set("Content-Type", "application/x-ndjson")
	}
	if cookie != nil {
		r.AddCookie(cookie)
	}
	return r
}

func (s *site) send(r *http.Request) reply {
	w := httptest.NewRecorder()
	s.Handler.ServeHTTP(w, r)
	return reply{w}
}

// cookieOf signs in once for each kind of caller; sign-outs are noticed.
func (s *site) cookieOf(t *testing.T, who string) *http.Cookie {
	t.Helper()
	switch who {
	case nobody:
		return nil
	case revoked:
		cookie := s.signIn(t, lead)
		if got := s.send(s.request("DELETE", "/api/v1/session", "", cookie)); got.Code != http.StatusNoContent {
			t.Fatalf("sign out: %d %s", got.Code, got.Body)
		}
		return cookie
	}
	if c := s.session[who]; c != nil && s.send(s.request("GET", "/api/v1/session", "", c)).Code == http.StatusOK {
		return c
	}
	s.session[who] = s.signIn(t, who)
	return s.session[who]
}

func (s *site) signIn(t *testing.T, who string) *http.Cookie {
	t.Helper()
	body := fmt.Sprintf(`{"name":%q,"password":%q}`, strings.ReplaceAll(who, " ", "-"), goodPassword)
	got := s.send(s.request("POST", "/api/v1/session", body, nil))
	if got.Code != http.StatusOK || len(got.Result().Cookies()) != 2 {
		t.Fatalf("sign in as %s: %d %s", who, got.Code, got.Body)
	}
	return got.Result().Cookies()[0]
}

// trail returns the audit lines from a number on.
func (s *site) trail(t *testing.T, after int64) (lines []store.AuditEntry) {
	t.Helper()
	err := s.Store.View(t.Context(), func(r store.Reader) error {
		for e, err := range r.AuditEntries(after) {
			if err != nil {
				return err
			}
			lines = append(lines, e)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return lines
}

// page is the north team's caseload as its lead sees it.
func (s *site) page() caseload.Page {
	c := account.Caller{Person: s.ids[lead], Teams: map[string]string{s.north: model.RoleLead}}
	p, err := s.Index.Page(c, s.north, caseload.Query{}, s.clock.Now())
	if err != nil {
		panic(err)
	}
	return p
}
