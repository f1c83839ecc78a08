package server

import (
	"fmt"
	"net/http"
	"slices"
	"testing"
	"time"

	"doorsill/internal/account"
	"doorsill/internal/store"
)

// BenchmarkCaseloadPage asks for pages of a team of 100,000 clients through
// the whole edge, with the audit trail on disk, and reports the 99th
// percentile in ms.
func BenchmarkCaseloadPage(b *testing.B) {
	app, err := Open(b.TempDir(), Options{PasswordCost: account.Cost{MemoryKiB: 64, Passes: 1, Lanes: 1}})
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() {
		if err := app.Close(); err != nil {
			b.Error(err)
		}
	})
	s := &site{App: app, session: map[string]*http.Cookie{}}
	team, err := app.Accounts.AddTeam(b.Context(), account.Console(), "Large")
	if err != nil {
		b.Fatal(err)
	}
	_, err = app.Accounts.AddPerson(b.Context(), account.Console(), account.NewPerson{
		Login: "lead", Name: "Lead", Password: goodPassword, Roles: map[string]string{team.ID: store.RoleLead},
	})
	if err != nil {
		b.Fatal(err)
	}
	for i := range 100_000 {
		app.Index.Put(store.Summary{
			Client: fmt.Sprintf("c%06d", i), Team: team.ID, Name: fmt.Sprintf("Client %06d", i*7919%100_000),
			Status: "active", Priority: "soon", Stops: i % 50 / 49, Referred: time.Unix(int64(i)*3600, 0).Format(time.DateOnly),
		})
	}
	cookie := s.send(s.request("POST", "/api/v1/session", `{"name":"lead","password":"`+goodPassword+`"}`, nil)).Result().Cookies()[0]
	queries := []string{"sort=name", "flag=stop&sort=wait", "q=client+0042", "sort=stops&order=desc&offset=50000"}
	var took []time.Duration
	for i := 0; b.Loop(); i++ {
		start := time.Now()
		got := s.send(s.request("GET", "/api/v1/teams/"+team.ID+"/caseload?limit=100&"+queries[i%len(queries)], "", cookie))
		if got.Code != http.StatusOK {
			b.Fatal(got.Body)
		}
		took = append(took, time.Since(start))
	}
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)*99/100].Microseconds())/1000, "p99-ms")
}
