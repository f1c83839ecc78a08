package server

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"testing"

	"github.com/gorilla/mux"

	"doorsill/internal/audit"
	"doorsill/internal/model"
	"doorsill/internal/store"
)

// callers is the order of the columns below.
var callers = []string{nobody, revoked, assistant, clinician, lead, otherLead, admin, twoTeams}

// access is one row: how a route is asked, and what each caller gets.
type access struct {
	route string
	path  func(s *site, who string) string
	body  func(s *site, who string) string
	want  [8]int
}

func at(format string, args ...func(*site, string) string) func(*site, string) string {
	return func(s *site, who string) string {
		values := make([]any, len(args))
		for i, arg := range args {
			values[i] = arg(s, who)
		}
		return fmt.Sprintf(format, values...)
	}
}

func northTeam(s *site, _ string) string { return s.north }
func theClient(s *site, _ string) string { return s.client }
func theVisit(s *site, _ string) string  { return s.visit }
func theTablet(s *site, _ string) string { return s.tablet }
func theLead(s *site, _ string) string   { return s.ids[lead] }
func standard(s *site, _ string) string  { return s.checklists[0].Hash() }

// theVersion is the client's version now, since each success raises it.
func theVersion(s *site, _ string) string {
	for _, row := range s.page().Rows {
		return strconv.FormatInt(row.Version, 10)
	}
	return "0"
}

func loginOf(_ *site, who string) string { return "new-" + strings.ReplaceAll(who, " ", "-") }

// accessTable says for every route what each kind of caller gets.
func accessTable() []access {
	const (
		yes, made, done = http.StatusOK, http.StatusCreated, http.StatusNoContent
		out, no, gone   = http.StatusUnauthorized, http.StatusForbidden, http.StatusNotFound
		clash           = http.StatusConflict
	)
	empty := at("")
	// nobody revoked assistant clinician lead otherLead admin; twoTeams is an
	// assistant here and leads the other team
	all := [8]int{out, out, yes, yes, yes, yes, yes, yes}
	team := [8]int{out, out, yes, yes, yes, no, no, yes}
	leads := [8]int{out, out, no, no, yes, no, no, no}
	admins := func(status int) [8]int { return [8]int{out, out, no, no, no, no, status, no} }
	return []access{
		{"POST /api/v1/session", at("/api/v1/session"), at(`{"name":"lead-of-the-team","password":"` + goodPassword + `"}`), [8]int{yes, yes, yes, yes, yes, yes, yes, yes}},
		{"GET /api/v1/session", at("/api/v1/session"), empty, all},
		{"DELETE /api/v1/session", at("/api/v1/session"), empty, [8]int{out, out, done, done, done, done, done, done}},
		{"GET /api/v1/sessions", at("/api/v1/sessions"), empty, all},
		{"DELETE /api/v1/sessions", at("/api/v1/sessions"), empty, [8]int{out, out, done, done, done, done, done, done}},
		{"DELETE /api/v1/sessions/{id}", at("/api/v1/sessions/0123456789abcdef"), empty, [8]int{out, out, gone, gone, gone, gone, gone, gone}},

		{"POST /api/v1/tablets", at("/api/v1/tablets"), at(`{"label":"new"}`), [8]int{out, out, made, made, made, made, no, made}},
		{"PUT /api/v1/tablets/{id}/key", at("/api/v1/tablets/%s/key", theTablet), keyOne, [8]int{out, out, no, done, no, no, no, no}},
		{"POST /api/v1/tablets/{id}/holding", at("/api/v1/tablets/%s/holding", theTablet), at(`{"waiting":2}`), [8]int{out, out, no, done, no, no, no, no}},
		{"POST /api/v1/tablets/{id}/revoke", at("/api/v1/tablets/%s/revoke", theTablet), empty, [8]int{out, out, no, no, yes, no, yes, no}},
		{"POST /api/v1/tablets/{id}/cleared", at("/api/v1/tablets/%s/cleared", theTablet), empty, [8]int{out, out, no, clash, no, no, no, no}}, // in use: nobody has withdrawn it
		{"GET /api/v1/teams/{team}/tablets", at("/api/v1/teams/%s/tablets", northTeam), empty, [8]int{out, out, no, no, yes, no, yes, no}},
		{"GET /api/v1/people/{id}/tablets", at("/api/v1/people/%s/tablets", theLead), empty, [8]int{out, out, no, no, yes, no, yes, no}},

		{"GET /api/v1/checklists", at("/api/v1/checklists"), empty, all},
		{"GET /api/v1/checklists/{hash}", at("/api/v1/checklists/%s", standard), empty, all},

		{"POST /api/v1/events", at(pushPath), pushOne, [8]int{out, out, no, yes, no, no, no, no}},
		{"POST /api/v1/sealed", at(sealedPath), sealedOne, [8]int{out, out, no, yes, no, no, no, no}},
		{"GET /api/v1/teams/{team}/events", at("/api/v1/teams/%s/events", northTeam), empty, team},

		{"GET /api/v1/teams/{team}/caseload", at("/api/v1/teams/%s/caseload", northTeam), empty, team},
		{"POST /api/v1/teams/{team}/caseload/search", at("/api/v1/teams/%s/caseload/search", northTeam), at(`{"q":"marrowby"}`), team},
		{"GET /api/v1/teams/{team}/agreement", at("/api/v1/teams/%s/agreement", northTeam), empty, leads},
		{"GET /api/v1/clients/{id}", at("/api/v1/clients/%s", theClient), empty, team},
		{"PUT /api/v1/clients/{id}/assignment", at("/api/v1/clients/%s/assignment", theClient), at(`{"version":%s,"assignee":"%s","status":"active"}`, theVersion, theLead), [8]int{out, out, no, yes, yes, no, no, no}},
		{"GET /api/v1/visits/{id}", at("/api/v1/visits/%s", theVisit), empty, team},
		{"GET /api/v1/teams/{team}/quarantine", at("/api/v1/teams/%s/quarantine", northTeam), empty, team},
		{"GET /api/v1/quarantine", at("/api/v1/quarantine"), empty, all},                                                                                            // one's own
		{"POST /api/v1/quarantine/confirm", at("/api/v1/quarantine/confirm"), confirmOne, [8]int{out, out, no, yes, clash, no, no, no}},                             // the author; the lead where the author is gone
		{"POST /api/v1/quarantine/{id}/settle", at("/api/v1/quarantine/1/settle"), at(`{"note":"asked on the phone"}`), [8]int{out, out, no, yes, yes, no, no, no}}, // whoever sent it, and the lead

		{"GET /api/v1/people", at("/api/v1/people"), empty, all},
		{"POST /api/v1/people", at("/api/v1/people"), at(`{"login":"%s","name":"N","password":"`+goodPassword+`","credential":"","admin":false,"closed":false,"teams":[]}`, loginOf), admins(made)},
		{"PUT /api/v1/people/{id}", at("/api/v1/people/%s", theLead), at(`{"name":"N","credential":"","admin":false,"closed":false,"teams":[{"id":"%s","role":"lead"}]}`, northTeam), admins(yes)},
		{"POST /api/v1/people/{id}/password", at("/api/v1/people/%s/password", theLead), at(`{"current":"` + goodPassword + `","password":"` + goodPassword + `"}`), [8]int{out, out, no, no, done, no, done, no}},
		{"GET /api/v1/teams", at("/api/v1/teams"), empty, all},
		{"POST /api/v1/teams", at("/api/v1/teams"), at(`{"name":"%s"}`, loginOf), admins(made)},

		{"PUT /api/v1/people/{id}/identity", at("/api/v1/people/%s/identity", theLead), at(`{"email":"lead@example.org","subject":""}`), admins(done)},
		{"GET /api/v1/oidc/start", at("/api/v1/oidc/start"), empty, [8]int{gone, gone, gone, gone, gone, gone, gone, gone}}, // no provider is set up
		{"GET /api/v1/oidc/return", at("/api/v1/oidc/return"), empty, [8]int{gone, gone, gone, gone, gone, gone, gone, gone}},
		{"GET /api/v1/backup", at("/api/v1/backup"), empty, admins(yes)},
		{"POST /api/v1/backup", at("/api/v1/backup"), empty, admins(http.StatusConflict)}, // this one has no folder for backups

		{"GET /healthz", at("/healthz"), empty, [8]int{yes, yes, yes, yes, yes, yes, yes, yes}},
		{"GET /metrics", at("/metrics"), empty, [8]int{no, no, no, no, no, no, no, no}}, // from elsewhere, without the token
	}
}

// pushOne is one more event of the clinician's tablet.
func pushOne(s *site, _ string) string { return pushBody(s.tablet, 4, lineFour(s)) }

func lineFour(s *site) []byte {
	return []byte(fmt.Sprintf(`{"tablet":%q,"n":4,"kind":%q,"subject":%q,"author":%q,"at":"2026-03-10T08:59:30.000Z","zone":"Etc/UTC","schema":1,"seen":0,"body":{"fields":{"note":"x"}}}`,
		s.tablet, model.KindVisitNoted, s.visit, s.ids[clinician]))
}

// TestEveryRouteForEveryCaller walks the router, so that a route without a row
// fails here.
func TestEveryRouteForEveryCaller(t *testing.T) {
	rows := make(map[string]access)
	for _, row := range accessTable() {
		rows[row.route] = row
	}
	walked := 0
	err := newSite(t, Options{}).router.Walk(func(r *mux.Route, _ *mux.Router, _ []*mux.Route) error {
		path, err := r.GetPathTemplate()
		if err != nil {
			return err
		}
		methods, err := r.GetMethods()
		if err != nil {
			return fmt.Errorf("%s answers any method: %w", path, err)
		}
		for _, method := range methods {
			walked++
			row, ok := rows[method+" "+path]
			if !ok {
				t.Errorf("%s %s has no row: say who may use it", method, path)
				continue
			}
			t.Run(row.route, func(t *testing.T) { row.check(t, method) })
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if walked != len(rows) {
		t.Errorf("%d routes and %d rows", walked, len(rows))
	}
}

func (a access) check(t *testing.T, method string) {
	s := newSite(t, Options{})
	for i, who := range callers {
		cookie := s.cookieOf(t, who)
		before := int64(len(s.trail(t, 0)))
		got := s.send(s.request(method, a.path(s, who), a.body(s, who), cookie))
		if got.Code != a.want[i] {
			t.Errorf("%s gets %d, want %d: %s", who, got.Code, a.want[i], got.Body)
		}
		for name, value := range securityHeaders(false) {
			if name != "Cache-Control" && got.Header().Get(name) != value {
				t.Errorf("%s: header %s is %q, want %q", who, name, got.Header().Get(name), value)
			}
		}
		if got.Header().Get("X-Request-Id") == "" || got.Header().Get("Cache-Control") == "" {
			t.Errorf("%s: headers %v", who, got.Header())
		}
		if got.Code >= 400 {
			got.refused(t)
		}
		if who == nobody || who == revoked || who == otherLead || who == admin {
			if strings.Contains(got.Body.String(), secretName) {
				t.Errorf("%s sees the client's name: %s", who, got.Body)
			}
		}
		if got.Code == http.StatusForbidden && a.route != "GET /metrics" {
			s.wantDenied(t, before, who)
		}
	}
}

// wantDenied wants the last line of the trail to say who was kept out.
func (s *site) wantDenied(t *testing.T, before int64, who string) {
	t.Helper()
	lines := s.trail(t, before)
	if len(lines) != 1 || lines[0].Person != s.ids[who] || !strings.HasSuffix(lines[0].Detail, "result="+audit.Denied) {
		t.Errorf("%s was kept out and the trail says %+v", who, lines)
	}
}

// TestReadsAndWritesLeaveATrail wants one line for each read and write of
// clinical data, naming the record and the team, and no clinical content.
func TestReadsAndWritesLeaveATrail(t *testing.T) {
	s := newSite(t, Options{})
	cookie := s.cookieOf(t, lead)
	for _, c := range []struct{ method, path, body, action, subject string }{
		{"GET", "/api/v1/clients/" + s.client, "", "read client", s.client},
		{"GET", "/api/v1/visits/" + s.visit, "", "read visit", s.visit},
		{"GET", "/api/v1/teams/" + s.north + "/caseload", "", "read caseload", ""},
		{"POST", "/api/v1/teams/" + s.north + "/caseload/search", `{"q":"` + secretName + `"}`, "read caseload", ""},
		{"GET", "/api/v1/teams/" + s.north + "/events", "", "read events", ""},
		{"GET", "/api/v1/teams/" + s.north + "/quarantine", "", "read quarantine", ""},
		{"PUT", "/api/v1/clients/" + s.client + "/assignment", `{"version":0,"assignee":"","status":"hold"}`, "assign client", s.client},
	} {
		before := int64(len(s.trail(t, 0)))
		if got := s.send(s.request(c.method, c.path, c.body, cookie)); got.Code != http.StatusOK {
			t.Fatalf("%s: %d %s", c.path, got.Code, got.Body)
		}
		lines := s.trail(t, before)
		if len(lines) != 1 || lines[0].Action != c.action || lines[0].Subject != c.subject ||
			lines[0].Team != s.north || lines[0].Person != s.ids[lead] {
			t.Errorf("%s %s left %+v", c.method, c.path, lines)
		}
	}
	for _, e := range s.trail(t, 0) {
		if strings.Contains(fmt.Sprint(e), secretName) {
			t.Errorf("the trail holds a client's name: %+v", e)
		}
	}
	before := len(s.trail(t, 0))
	var head int64
	if err := s.Store.View(t.Context(), func(r store.Reader) (err error) { head, err = r.Head(); return err }); err != nil {
		t.Fatal(err)
	}
	path := fmt.Sprintf("/api/v1/teams/%s/events?after=%d", s.north, head)
	if got := s.send(s.request("GET", path, "", cookie)); got.Code != http.StatusOK || len(s.trail(t, 0)) != before {
		t.Errorf("a pull with nothing new: %d, and the trail has grown", got.Code)
	}
}
