package server

import (
	"fmt"
	"net/http"
	"slices"
	"testing"
	"time"

	"doorsill/internal/account"
	"doorsill/internal/caseload"
	"doorsill/internal/model"
	"doorsill/internal/store"
)

// BenchmarkCaseloadPage asks for pages of a team of 100,000 clients through
// the whole edge, with the audit trail on disk, and reports the 99th
// percentile in ms.
func BenchmarkCaseloadPage(b *testing.B) {
	s, team := largeTeam(b, 100_000)
	cookie := s.send(s.request("POST", "/api/v1/session", leadSignsIn, nil)).Result().Cookies()[0]
	queries := []string{"sort=name", "flag=stop&sort=wait", "level=none", "sort=stops&order=desc&offset=50000"}
	var took []time.Duration
	for i := 0; b.Loop(); i++ {
		start := time.Now()
		got := s.send(s.request("GET", "/api/v1/teams/"+team+"/caseload?limit=100&"+queries[i%len(queries)], "", cookie))
		if got.Code != http.StatusOK {
			b.Fatal(got.Body)
		}
		took = append(took, time.Since(start))
	}
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)*99/100].Microseconds())/1000, "p99-ms")
}

// BenchmarkLeadAtDesk is what a lead of 10,000 clients waits for at a desk
// that has none of them on it: the answer to the sign-in, with a cheap
// password, and the caseload page that the screen asks for. Reports the bytes
// of an answer beside the time.
func BenchmarkLeadAtDesk(b *testing.B) {
	s, team := largeTeam(b, 10_000)
	cookie := s.send(s.request("POST", "/api/v1/session", leadSignsIn, nil)).Result().Cookies()[0]
	for _, ask := range []struct{ name, method, path, body string }{
		{"sign-in", "POST", "/api/v1/session", leadSignsIn},
		{"session", "GET", "/api/v1/session", ""},
		{"count", "GET", "/api/v1/teams/" + team + "/caseload?status=any&limit=1", ""},
		{"caseload", "GET", "/api/v1/teams/" + team + "/caseload?sort=wait&offset=0&limit=100", ""},
	} {
		b.Run(ask.name, func(b *testing.B) {
			size := 0
			for b.Loop() {
				// A sign-in with the cookie would end the session that it belongs to.
				with := cookie
				if ask.method == "POST" {
					with = nil
				}
				got := s.send(s.request(ask.method, ask.path, ask.body, with))
				if got.Code != http.StatusOK {
					b.Fatal(got.Body)
				}
				size = got.Body.Len()
			}
			b.ReportMetric(float64(size), "bytes/answer")
			b.ReportMetric(float64(b.Elapsed().Microseconds())/1000/float64(b.N), "ms/answer")
		})
	}
}

// TestLeadAtDeskAnswersStaySmall holds what signing in and one caseload page
// weigh, whatever the size of the team: the sign-in says nothing of clients,
// and a page has the rows that were asked for.
func TestLeadAtDeskAnswersStaySmall(t *testing.T) {
	t.Parallel()
	s, team := largeTeam(t, 10_000)
	in := s.send(s.request("POST", "/api/v1/session", leadSignsIn, nil))
	if in.Code != http.StatusOK || in.Body.Len() > 1_000 {
		t.Errorf("the sign-in answer of a lead of 10,000 clients is %d with %d bytes, expected 200 with at most 1,000", in.Code, in.Body.Len())
	}
	page := s.send(s.request("GET", "/api/v1/teams/"+team+"/caseload?limit=100", "", in.Result().Cookies()[0]))
	if page.Code != http.StatusOK || page.Body.Len() > 64_000 {
		t.Errorf("a caseload page of 100 rows is %d with %d bytes, expected 200 with at most 64,000", page.Code, page.Body.Len())
	}
	var got caseload.Page
	page.into(t, &got)
	if got.Total != 10_000 || len(got.Rows) != 100 {
		t.Errorf("the page says %d clients and has %d rows, expected 10,000 and 100", got.Total, len(got.Rows))
	}
}

const leadSignsIn = `{"name":"lead","password":"` + goodPassword + `"}`

// largeTeam opens a service with one lead and a team of that many clients in
// the caseload.
func largeTeam(tb testing.TB, clients int) (s *site, team string) {
	tb.Helper()
	app, err := Open(tb.TempDir(), Options{PasswordCost: account.Cost{MemoryKiB: 64, Passes: 1, Lanes: 1}})
	if err != nil {
		tb.Fatal(err)
	}
	tb.Cleanup(func() {
		if err := app.Close(); err != nil {
			tb.Error(err)
		}
	})
	added, err := app.Accounts.AddTeam(tb.Context(), account.Console(), "Large")
	if err != nil {
		tb.Fatal(err)
	}
	_, err = app.Accounts.AddPerson(tb.Context(), account.Console(), account.NewPerson{
		Login: "lead", Name: "Lead", Password: goodPassword, Roles: map[string]string{added.ID: model.RoleLead},
	})
	if err != nil {
		tb.Fatal(err)
	}
	for i := range clients {
		app.Index.Put(store.Summary{
			Client: fmt.Sprintf("c%06d", i), Team: added.ID, Name: fmt.Sprintf("Client %06d", i*7919%clients),
			Status: "active", Priority: "soon", Stops: i % 50 / 49, Referred: time.Unix(int64(i)*3600, 0).Format(time.DateOnly),
		})
	}
	return &site{App: app, session: map[string]*http.Cookie{}}, added.ID
}
