package main

import (
	"encoding/json"
	"net/http"
	"os"
	"strings"
	"testing"

	"doorsill/internal/store"
	"doorsill/server"
)

// TestServeVerifiesBesideServing starts the program on records that fit, and on
// ones that do not, and has tablets push meanwhile.
func TestServeVerifiesBesideServing(t *testing.T) {
	dir := t.TempDir()
	team := staffed(t, dir, 1)
	p := startServer(t, dir, os.Args[0], "--verify-every", "1s")
	tab := signedIn(t, p.url, clinicianNo(0)).tablet(team)
	first := p.verified(t, "")
	if second := p.verified(t, first.Verified); first.Status != "ok" || second.Status != "ok" {
		t.Errorf("records that fit: %+v, then %+v", first, second)
	}
	someWork(&tab.Tablet)
	tab.sync()
	p.kill()

	app, err := server.Open(dir, server.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	err = app.Store.Update(t.Context(), func(w store.Writer) error {
		return w.SetSummary(store.Summary{Client: "nobody", Team: team, Name: "Quillon Marrowby"})
	})
	if err != nil {
		t.Fatal(err)
	}
	if err := app.Close(); err != nil {
		t.Fatal(err)
	}
	p = startServer(t, dir, os.Args[0], "--verify-every", "1s")
	if got := p.verified(t, ""); got.Status != "differs" {
		t.Errorf("a line of the caseload for nobody: %+v", got)
	}
	tab.url = p.url
	someWork(&tab.Tablet)
	tab.sync() // it is served all the same
	p.kill()
	if said := p.said.String(); !strings.Contains(said, "the records do not fit together") || !strings.Contains(said, "client nobody") || strings.Contains(said, "Marrowby") {
		t.Errorf("the log says %s", said)
	}
}

// verified waits until the records were verified at another time than that.
func (p *program) verified(t *testing.T, than string) (h server.HealthAnswer) {
	t.Helper()
	for t.Context().Err() == nil {
		r, err := http.Get(p.url + "/healthz")
		if err != nil {
			t.Fatal(err)
		}
		err = json.NewDecoder(r.Body).Decode(&h)
		if err := r.Body.Close(); err != nil {
			t.Fatal(err)
		}
		if err != nil {
			t.Fatal(err)
		}
		if h.Verified != "" && h.Verified != than {
			return h
		}
	}
	return h
}
