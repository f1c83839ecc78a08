package server

import (
	"fmt"
	"net/http"
	"strings"
	"testing"

	"doorsill/internal/intake"
	"doorsill/internal/model"
)

// withdrawTablet has the lead revoke the clinician's tablet and returns a
// session that was open on it before.
func (s *site) withdrawTablet(t *testing.T) *http.Cookie {
	t.Helper()
	cookie := s.cookieOf(t, clinician)
	var row TabletRow
	s.ask(t, lead, "POST", "/api/v1/tablets/"+s.tablet+"/revoke", "").into(t, &row)
	if row.Revoked == "" || row.RevokedBy != "An invented lead of the team" || row.ID != s.tablet {
		t.Fatalf("withdrawn: %+v", row)
	}
	return cookie
}

// TestAWithdrawnTabletMayOnlySend walks the routes in the revoked state, so
// that a new route is closed to such tablets unless it says otherwise.
func TestAWithdrawnTabletMayOnlySend(t *testing.T) {
	rows := make(map[string]access)
	for _, row := range accessTable() {
		rows[row.route] = row
	}
	open := map[string]int{
		"POST /api/v1/session": 200, "GET /api/v1/session": 200, "DELETE /api/v1/session": 204,
		"POST /api/v1/events": 200, "POST /api/v1/sealed": 200, "POST /api/v1/tablets/{id}/cleared": 204,
		"GET /healthz": 200, "GET /api/v1/oidc/start": 404, "GET /api/v1/oidc/return": 404,
	}
	for _, rt := range routes() {
		name := rt.method + " " + rt.path
		t.Run(name, func(t *testing.T) {
			s := newSite(t, Options{})
			cookie := s.withdrawTablet(t)
			before := int64(len(s.trail(t, 0)))
			row := rows[name]
			got := s.send(s.request(rt.method, row.path(s, clinician), row.body(s, clinician), cookie))
			if rt.who != anybody && got.Header().Get("Doorsill-Tablet") != "revoked" {
				t.Errorf("the answer does not tell the tablet: %v", got.Header())
			}
			if want, ok := open[name]; ok {
				if got.Code != want {
					t.Errorf("%d %s, want %d", got.Code, got.Body, want)
				}
				return
			}
			if got.Code != http.StatusForbidden {
				t.Fatalf("%d %s", got.Code, got.Body)
			}
			if rt.who == anybody {
				return // kept out for another reason
			}
			if e := got.refused(t); e.Error != "tablet-revoked" || strings.Contains(got.Body.String(), secretName) {
				t.Errorf("%+v", e)
			}
			s.wantDenied(t, before, clinician)
		})
	}
}

func TestAWithdrawnTabletSendsClearsAndStaysWithdrawn(t *testing.T) {
	s := newSite(t, Options{})
	s.ask(t, clinician, "POST", "/api/v1/tablets/"+s.tablet+"/holding", `{"waiting":1,"oldest":"2026-03-09T15:00:00.000Z"}`)
	cookie := s.withdrawTablet(t)
	note := s.event(t, 4, model.KindVisitNoted, s.visit, model.VisitNoted{Fields: map[string]string{"note": "x"}})
	var receipt intake.PushAnswer
	s.send(s.request("POST", pushPath, pushBody(s.tablet, 4, note), cookie)).into(t, &receipt)
	if receipt.Ack != 4 || receipt.Verdicts[0].Verdict != intake.Stored {
		t.Errorf("what it still held: %+v", receipt)
	}
	// Signing in on it again frees it of nothing.
	body := fmt.Sprintf(`{"name":"clinician","password":%q,"tablet":%q}`, goodPassword, s.tablet)
	again := s.send(s.request("POST", "/api/v1/session", body, nil))
	if again.Code != http.StatusOK || again.Header().Get("Doorsill-Tablet") != "revoked" {
		t.Fatalf("signing in again: %d %v", again.Code, again.Header())
	}
	cookie = again.Result().Cookies()[0]
	if got := s.send(s.request("POST", "/api/v1/tablets", `{"label":"new"}`, cookie)); got.Code != http.StatusForbidden {
		t.Errorf("a new tablet from a withdrawn one: %d %s", got.Code, got.Body)
	}
	before := int64(len(s.trail(t, 0)))
	for range 2 { // the first answer may have been lost
		got := s.send(s.request("POST", "/api/v1/tablets/"+s.tablet+"/cleared", "", cookie))
		if got.Code != http.StatusNoContent {
			t.Fatalf("cleared: %d %s", got.Code, got.Body)
		}
		if word := got.Header().Get("Clear-Site-Data"); word != "" {
			t.Errorf("the browser is told to clear %q, though somebody else may have something there", word)
		}
	}
	last := s.send(s.request("POST", "/api/v1/tablets/"+s.tablet+"/cleared?storage=unused", "", cookie))
	if word := last.Header().Get("Clear-Site-Data"); last.Code != http.StatusNoContent || word != `"storage"` {
		t.Errorf("where nobody has anything left: %d, Clear-Site-Data %q", last.Code, word)
	}
	if lines := s.trail(t, before); len(lines) != 1 || lines[0].Action != "tablet cleared" || lines[0].Subject != s.tablet {
		t.Errorf("the trail says %+v", lines)
	}
	var list TabletList
	s.ask(t, lead, "GET", "/api/v1/teams/"+s.north+"/tablets", "").into(t, &list)
	if one := list.Tablets[0]; one.Cleared == "" || one.Waiting != 0 || one.Revoked == "" || one.Seen == "" {
		t.Errorf("the lead sees %+v", one)
	}
}

func TestAWithdrawnTabletSendsForNoOther(t *testing.T) {
	s := newSite(t, Options{})
	s.withdrawTablet(t)
	first := s.tablet
	var made TabletMade
	s.session[clinician] = nil
	s.ask(t, clinician, "POST", "/api/v1/tablets", `{"label":"new"}`).into(t, &made)
	body := fmt.Sprintf(`{"name":"clinician","password":%q,"tablet":%q}`, goodPassword, first)
	cookie := s.send(s.request("POST", "/api/v1/session", body, nil)).Result().Cookies()[0]
	got := s.send(s.request("POST", pushPath, pushBody(made.ID, 1, []byte("{}")), cookie))
	if got.Code != http.StatusForbidden || got.refused(t).Error != intake.CodeTablet {
		t.Errorf("a push for the tablet in use: %d %s", got.Code, got.Body)
	}
}

func TestWithdrawingIsWrittenDownOnce(t *testing.T) {
	s := newSite(t, Options{})
	before := int64(len(s.trail(t, 0)))
	path := "/api/v1/tablets/" + s.tablet + "/revoke"
	var first, second TabletRow
	s.ask(t, admin, "POST", path, "").into(t, &first)
	s.clock.turn(1e9)
	s.ask(t, lead, "POST", path, "").into(t, &second)
	if first != second || first.RevokedBy != "An invented admin" {
		t.Errorf("twice: %+v, then %+v", first, second)
	}
	var lines []string
	for _, e := range s.trail(t, before) {
		if e.Action == "withdraw tablet" {
			lines = append(lines, e.Person+" "+e.Subject)
		}
	}
	if len(lines) != 1 || lines[0] != s.ids[admin]+" "+s.tablet {
		t.Errorf("the trail says %v", lines)
	}
	if got := s.ask(t, admin, "POST", "/api/v1/tablets/unheard-of/revoke", ""); got.Code != http.StatusNotFound {
		t.Errorf("an admin names a tablet that is none: %d", got.Code)
	}
	if got := s.ask(t, lead, "POST", "/api/v1/tablets/unheard-of/revoke", ""); got.Code != http.StatusForbidden {
		t.Errorf("a lead names a tablet that is none: %d, which tells what exists", got.Code)
	}
}
