package caseload

import (
	"context"
	"encoding/json"
	"errors"
	"path/filepath"
	"strings"
	"testing"

	"doorsill/internal/account"
	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
)

// filled is a store with one client and one visit in each of two teams.
func filled(t *testing.T) store.Store {
	t.Helper()
	db, err := bolt.Open(filepath.Join(t.TempDir(), "records.db"), bolt.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := db.Close(); err != nil {
			t.Error(err)
		}
	})
	err = db.Update(t.Context(), func(w store.Writer) error {
		n := int64(0)
		add := func(team, kind, subject string, body any) error {
			n++
			_, err := w.Append(store.Batch{
				Tablet: "tab", FirstN: n, Team: team, Subject: subject, Received: "2026-03-10T09:00:00.000Z",
				Events: [][]byte{event(t, n, kind, subject, body)},
			})
			return err
		}
		for _, team := range []string{"t1", "t2"} {
			client, visit := "client-"+team, "visit-"+team
			err := errors.Join(
				w.AddSubject(store.Subject{ID: client, Kind: model.SubjectClient, Team: team, Client: client}),
				add(team, model.KindClientOpened, client, model.ClientOpened{
					Team: team, Name: "Of " + team, Referred: "2026-01-05", Priority: "soon", Course: "stable"}),
				w.AddSubject(store.Subject{ID: visit, Kind: model.SubjectVisit, Team: team, Client: client}),
				add(team, model.KindVisitStarted, visit, model.VisitStarted{
					Client: client, Team: team, Unit: "gf",
					Checklist: model.ChecklistRef{ID: "standard", Version: "2026.1", Hash: strings.Repeat("ab", 32)}}),
			)
			if err != nil {
				return err
			}
		}
		_, err := w.Quarantine(store.Quarantined{Tablet: "tab", N: 5, Person: "p1", Team: "t1", Code: "unknown-item", Raw: []byte("{")})
		return errors.Join(err, w.SetResult(store.Result{Visit: "visit-t1", Body: []byte("{}"), SHA256: "ab"}))
	})
	if err != nil {
		t.Fatal(err)
	}
	return db
}

func event(t *testing.T, n int64, kind, subject string, body any) []byte {
	t.Helper()
	inner, err := json.Marshal(body)
	if err != nil {
		t.Fatal(err)
	}
	raw, err := json.Marshal(model.Event{
		Tablet: "tab", N: n, Kind: kind, Subject: subject, Author: "p1",
		At: "2026-03-10T08:00:00.000Z", Zone: "Etc/UTC", Schema: model.SchemaNow, Body: inner,
	})
	if err != nil {
		t.Fatal(err)
	}
	return raw
}

func member(role string) account.Caller {
	return account.Caller{Person: "p-" + role, Teams: map[string]string{"t1": role}}
}

func TestReaderGivesAClientWithItsVisits(t *testing.T) {
	d := NewReader(filled(t))
	v, err := d.Client(t.Context(), member(model.RoleAssistant), "client-t1")
	if err != nil {
		t.Fatal(err)
	}
	if v.Client.Name != "Of t1" || len(v.Visits) != 1 || v.Visits[0].Visit.ID != "visit-t1" {
		t.Errorf("client %+v", v)
	}
	if r := v.Visits[0].Result; r == nil || r.SHA256 != "ab" {
		t.Errorf("result %+v", r)
	}
	visit, err := d.Visit(t.Context(), member(model.RoleLead), "visit-t1")
	if err != nil || visit.Visit.Client != "client-t1" {
		t.Errorf("visit %+v, %v", visit, err)
	}
}

// damaged is a store of which no result can be read.
type damaged struct{ store.Store }

func (d damaged) View(ctx context.Context, fn func(store.Reader) error) error {
	return d.Store.View(ctx, func(r store.Reader) error { return fn(damagedReader{r}) })
}

type damagedReader struct{ store.Reader }

func (damagedReader) Result(string) (store.Result, error) { return store.Result{}, store.ErrDamaged }

func TestWhatWasSaidIsShownWithoutItsResult(t *testing.T) {
	v, err := NewReader(damaged{filled(t)}).Client(t.Context(), member(model.RoleLead), "client-t1")
	if err != nil || len(v.Visits) != 1 || v.Visits[0].Result != nil || v.Visits[0].Visit.ID != "visit-t1" {
		t.Errorf("client %+v, %v", v, err)
	}
}

func TestReaderKeepsOthersOut(t *testing.T) {
	d := NewReader(filled(t))
	admin := account.Caller{Person: "a", Admin: true, Teams: map[string]string{"t1": model.RoleLead}}
	for _, c := range []struct {
		name   string
		caller account.Caller
		id     string
		want   error
	}{
		{"nobody", account.Caller{}, "client-t1", account.ErrSignedOut},
		{"another team's lead", member(model.RoleLead), "client-t2", account.ErrNotAllowed},
		{"an admin, whatever the roles say", admin, "client-t1", account.ErrNotAllowed},
		{"an admin does not even learn what exists", admin, "client-none", account.ErrNotAllowed},
		{"an id that does not exist", member(model.RoleLead), "client-none", account.ErrNotFound},
		{"a visit is no client", member(model.RoleLead), "visit-t1", account.ErrNotFound},
	} {
		if v, err := d.Client(t.Context(), c.caller, c.id); !errors.Is(err, c.want) || v.Client.Name != "" {
			t.Errorf("%s: %+v, error %v, want %v", c.name, v, err, c.want)
		}
	}
	if _, err := d.Visit(t.Context(), member(model.RoleLead), "visit-t2"); !errors.Is(err, account.ErrNotAllowed) {
		t.Errorf("another team's visit: %v", err)
	}
	if _, err := d.Quarantine(t.Context(), member(model.RoleLead), "t2", QuarantineQuery{}); !errors.Is(err, account.ErrNotAllowed) {
		t.Errorf("another team's quarantine: %v", err)
	}
	if _, err := d.Pull(t.Context(), member(model.RoleLead), "t2", "", 0, 10); !errors.Is(err, account.ErrNotAllowed) {
		t.Errorf("another team's log: %v", err)
	}
}

func TestPullPagesThroughOneTeam(t *testing.T) {
	d := NewReader(filled(t))
	log, err := d.Log(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	first, err := d.Pull(t.Context(), member(model.RoleClinician), "t1", log, 0, 1)
	if err != nil || len(first.Events) != 1 || !first.More || first.Next != 1 || first.Head != 4 {
		t.Fatalf("first page %+v, %v", first, err)
	}
	second, err := d.Pull(t.Context(), member(model.RoleClinician), "t1", log, first.Next, 10)
	if err != nil || len(second.Events) != 1 || second.More || second.Next != 4 {
		t.Fatalf("second page %+v, %v: want the cursor past the other team's events", second, err)
	}
	rest, err := d.Pull(t.Context(), member(model.RoleClinician), "t1", log, second.Next, 10)
	if err != nil || len(rest.Events) != 0 || rest.Next != 4 {
		t.Errorf("nothing new: %+v, %v", rest, err)
	}
	if _, err := d.Pull(t.Context(), member(model.RoleClinician), "t1", "another log", 4, 10); !errors.Is(err, ErrOtherLog) {
		t.Errorf("a cursor of another log: %v", err)
	}
	if p, err := d.Pull(t.Context(), member(model.RoleClinician), "t1", log, 5, 10); !errors.Is(err, ErrAhead) || p.Logs.Log != log {
		t.Errorf("a cursor behind the end: %+v, %v", p, err)
	}
}
