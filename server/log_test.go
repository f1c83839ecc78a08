package server

import (
	"bytes"
	"fmt"
	"log/slog"
	"net/http"
	"strings"
	"sync"
	"testing"

	"doorsill/internal/model"
)

// logged is a log that a test can read while the server writes it.
type logged struct {
	mu  sync.Mutex
	buf bytes.Buffer
}

func (l *logged) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.buf.Write(p)
}

func (l *logged) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.buf.String()
}

// TestTheLogHoldsNoClinicalContent sends marked words in by every way that a
// client's data can come, whole, broken and refused, and looks for them in the
// finest log.
func TestTheLogHoldsNoClinicalContent(t *testing.T) {
	const mark = "Zephyrine"
	out := &logged{}
	s := newSite(t, Options{Log: slog.New(slog.NewTextHandler(out, &slog.HandlerOptions{Level: slog.LevelDebug}))})
	note := s.event(t, 4, model.KindVisitNoted, s.visit, model.VisitNoted{Fields: map[string]string{"note": mark}})
	opened := s.event(t, 5, model.KindClientOpened, strings.Repeat("e5", 16), model.ClientOpened{
		Team: s.north, Ref: mark, Name: mark, Referred: "2026-02-01", Priority: "soon", Course: "stable"})
	bad := s.event(t, 6, model.KindAnswerGiven, s.visit, model.AnswerGiven{Item: mark, State: model.StateAnswered, Note: mark})
	s.push(t, clinician, 4, note, opened, bad, []byte(`{"`+mark))
	for _, c := range []struct {
		who, method, path, body string
	}{
		{clinician, "POST", pushPath, "{" + mark + "\n"},
		{clinician, "POST", pushPath, pushBody(s.tablet, 4, []byte(mark))},
		{lead, "GET", "/api/v1/clients/" + s.client, ""},
		{lead, "GET", "/api/v1/clients/" + mark, ""},
		{lead, "GET", "/api/v1/teams/" + s.north + "/caseload?q=" + mark, ""},
		{lead, "POST", "/api/v1/teams/" + s.north + "/caseload/search", `{"q":"` + mark + `"}`},
		{lead, "GET", "/clients/" + mark, ""},
		{lead, "PUT", "/api/v1/clients/" + s.client + "/assignment", `{"version":0,"assignee":"` + mark + `","status":"` + mark + `"}`},
		{lead, "POST", "/api/v1/quarantine/1/settle", `{"note":"` + mark + `"}`},
		{lead, "POST", "/api/v1/quarantine/" + mark + "/settle", `{"` + mark + `":1}`},
		{nobody, "POST", "/api/v1/session", `{"name":"` + mark + `","password":"` + mark + `"}`},
		{nobody, mark, "/" + mark, ""},
	} {
		s.ask(t, c.who, c.method, c.path, c.body)
	}
	log := out.String()
	if !strings.Contains(log, "route=/api/v1/clients/{id} status=200") || !strings.Contains(log, "person="+s.ids[lead]) {
		t.Errorf("log:\n%s", log)
	}
	for _, word := range []string{mark, strings.ToLower(mark), secretName, s.client, goodPassword, "no-such-item"} {
		if strings.Contains(log, word) {
			t.Errorf("the log holds %q:\n%s", word, log)
		}
	}
}

// TestNobodyCanForgeALogLine sends line ends where a log would quote them.
func TestNobodyCanForgeALogLine(t *testing.T) {
	out := &logged{}
	s := openSite(t, Options{Log: slog.New(slog.NewTextHandler(out, nil)), Proxies: proxies(t, "192.0.2.1")})
	r := s.request("GET", "/healthz", "", nil)
	r.Header.Set("X-Forwarded-For", "x\nlevel=ERROR msg=forged")
	r.Header.Set("User-Agent", "x\nlevel=ERROR msg=forged")
	s.send(r)
	if lines := strings.Count(out.String(), "\n"); lines != 1 || strings.Contains(out.String(), "forged") {
		t.Errorf("%d lines:\n%s", lines, out)
	}
}

// TestRefusalsOfEveryKindCanBeTraced wants each refusal in the audit trail or
// the log, with where it came from.
func TestRefusalsOfEveryKindCanBeTraced(t *testing.T) {
	out := &logged{}
	s := newSite(t, Options{Log: slog.New(slog.NewTextHandler(out, nil))})
	for _, c := range []struct {
		who, method, path, body string
		status                  int
	}{
		{nobody, "GET", "/api/v1/clients/" + s.client, "", 401},
		{otherLead, "GET", "/api/v1/clients/" + s.client, "", 403},
		{nobody, "POST", "/api/v1/session", `{"name":"lead-of-the-team","password":"guess"}`, 401},
	} {
		if got := s.ask(t, c.who, c.method, c.path, c.body); got.Code != c.status {
			t.Errorf("%s %s: %d", c.method, c.path, got.Code)
		}
	}
	r := s.request("POST", "/api/v1/session", "{}", nil)
	r.Header.Set("Sec-Fetch-Site", "cross-site")
	if got := s.send(r); got.Code != http.StatusForbidden {
		t.Errorf("from another site: %d", got.Code)
	}
	for range 9 { // four are checked, five are not
		s.ask(t, nobody, "POST", "/api/v1/session", `{"name":"lead-of-the-team","password":"guess"}`)
	}
	if err := s.Accounts.Close(); err != nil {
		t.Fatal(err)
	}
	for _, line := range []string{
		"route=/api/v1/session status=429",
		"route=/api/v1/clients/{id} status=401", "route=/api/v1/clients/{id} status=403",
		"route=/api/v1/session status=401", "method=POST route=none status=403",
	} {
		if !strings.Contains(out.String(), line) {
			t.Errorf("the log has no line %q:\n%s", line, out)
		}
	}
	var denied []string
	last := ""
	for _, e := range s.trail(t, 0) {
		if strings.HasSuffix(e.Detail, "result=denied") {
			last = e.Detail
			denied = append(denied, fmt.Sprint(e.Action, " ", e.Person == s.ids[otherLead], " ", e.Person == s.ids[lead]))
		}
	}
	if got := strings.Join(denied, ", "); got != "read client true false"+strings.Repeat(", sign in false true", 6) || last != `from="192.0.2.1" times=5 result=denied` {
		t.Errorf("the trail denies %q, and at last %q", got, last)
	}
}
