package storetest

import (
	"encoding/json"
	"errors"
	"fmt"
	"testing"

	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

func quarantine(tablet string, n int64, team, code string) store.Quarantined {
	return store.Quarantined{
		Tablet: tablet, N: n, Person: "person-" + tablet, Team: team, Client: "c1", Code: code, Field: "body.level",
		Hint: "expected 0 to 4", Received: Arrived, Raw: []byte("{not json \xff"),
	}
}

func testQuarantine(t *testing.T, s store.Store) {
	change(t, s, func(w store.Writer) error {
		err := Push(w, Batch("tab-a", 1, 1, "north", "c1"))
		_, taken := w.Quarantine(quarantine("tab-a", 1, "north", validation.CodeWrongType))
		wantError(t, "a placed number", taken, store.ErrOrder)
		id, err2 := w.Quarantine(quarantine("tab-a", 2, "north", validation.CodeWrongType))
		return errors.Join(err, err2, w.SetTablet(store.Tablet{ID: "tab-a", Ack: 2}),
			w.Settle(id, store.Settlement{By: "lead", At: Arrived, Note: "written anew"}))
	})
	change(t, s, func(w store.Writer) error {
		_, err := w.Quarantine(quarantine("tab-b", 1, "south", validation.CodeBrokenJSON))
		wantError(t, "settle nothing", w.Settle(99, store.Settlement{}), store.ErrNotFound)
		return errors.Join(err, w.SetTablet(store.Tablet{ID: "tab-b", Ack: 1}))
	})
	tests := []struct {
		filter store.QuarantineFilter
		want   int
	}{
		{store.QuarantineFilter{}, 2},
		{store.QuarantineFilter{Team: "north"}, 1},
		{store.QuarantineFilter{Team: "north", Open: true}, 0},
		{store.QuarantineFilter{Tablet: "tab-b", Open: true}, 1},
		{store.QuarantineFilter{Tablet: "tab-b", N: 2}, 0},
		{store.QuarantineFilter{Client: "c1"}, 2},
		{store.QuarantineFilter{Client: "c1", Team: "south"}, 1},
	}
	view(t, s, func(r store.Reader) error {
		for _, tt := range tests {
			list, err := r.QuarantinedOf(tt.filter)
			if err != nil {
				return err
			}
			equal(t, fmt.Sprintf("%+v", tt.filter), len(list), tt.want)
		}
		q, err := r.Quarantined(1)
		equal(t, "bytes", string(q.Raw), "{not json \xff")
		equal(t, "note", q.Settled.Note, "written anew")
		placed, err2 := r.Placed("tab-a", 2)
		equal(t, "where 2 went", placed.Quarantine, 1)
		return errors.Join(err, err2)
	})
}

func testForked(t *testing.T, s store.Store) {
	change(t, s, func(w store.Writer) error {
		err := Push(w, Batch("tab-a", 1, 1, "north", "c1"))
		_, err2 := w.Quarantine(quarantine("tab-a", 1, "north", validation.CodeForked))
		placed, err3 := w.Placed("tab-a", 1)
		equal(t, "position", placed.Pos, 1)
		return errors.Join(err, err2, err3)
	})
}

func testTablets(t *testing.T, s store.Store) {
	b := store.Tablet{
		ID: "tab-b", Person: "marit", Label: "blue case", Registered: Arrived, Waiting: 3,
		OldestWaiting: Arrived, WaitingClients: []string{"c1"}, SkewSeconds: -400,
	}
	change(t, s, func(w store.Writer) error {
		return errors.Join(w.SetTablet(b), w.SetTablet(store.Tablet{ID: "tab-a", Person: "davit"}))
	})
	view(t, s, func(r store.Reader) error {
		got, err := r.Tablet("tab-b")
		equal(t, "tablet", fmt.Sprint(got), fmt.Sprint(b))
		all, err2 := r.Tablets()
		equal(t, "tablets by id", all[0].ID+" "+all[1].ID, "tab-a tab-b")
		own, err3 := r.TabletsOfPerson("marit")
		equal(t, "own", len(own), 1)
		return errors.Join(err, err2, err3)
	})
}

func testResults(t *testing.T, s store.Store) {
	usable := 42.5
	plain := store.Result{Visit: "v1", Format: "f/2", Engine: "1", Catalogue: "m/1", Rules: "cd", Body: []byte(`{"level":"pause"}`), SHA256: "ab", Pos: 7, At: Arrived,
		Brief: store.Brief{Level: "pause", Measures: &store.VisitMeasures{Forces: []store.VisitForce{{Site: "chin", Direction: "left", Usable: &usable}}}}}
	renewed := plain
	renewed.Visit, renewed.Evidence = "v2", &store.Evidence{Format: "f/1", Engine: "0", Body: []byte("level\tpause\nnote\té\n"), SHA256: "ef"}
	unscored := store.Result{Visit: "v3", Format: "f/2", Evidence: &store.Evidence{Format: "f/1", Body: []byte("level\tpause\n")}}
	change(t, s, func(w store.Writer) error {
		equal(t, "format of results", formatOf(t, w), "")
		return errors.Join(w.SetResult(unscored), w.SetResult(renewed), w.SetResult(plain), w.SetResultFormat("f/2"))
	})
	for _, want := range []store.Result{plain, renewed, unscored} {
		var got store.Result
		view(t, s, func(r store.Reader) (err error) { got, err = r.Result(want.Visit); return err })
		equal(t, "result", resultText(got), resultText(want))
	}
	view(t, s, func(r store.Reader) error {
		equal(t, "format of results", formatOf(t, r), "f/2")
		_, err := r.Result("v4")
		wantError(t, "none", err, store.ErrNotFound)
		return nil
	})
}

// resultText writes all of a result.
func resultText(r store.Result) string {
	head, err := json.Marshal(r)
	text := fmt.Sprintf("%s %v body %s", head, err, r.Body)
	if r.Evidence != nil {
		text += fmt.Sprintf(" evidence %s", r.Evidence.Body)
	}
	return text
}

func testSummaries(t *testing.T, s store.Store) {
	change(t, s, func(w store.Writer) error {
		return errors.Join(
			w.SetSummary(store.Summary{Client: "c2", Team: "north", Name: "Two"}),
			w.SetSummary(store.Summary{Client: "c1", Team: "north", Name: "One"}),
			w.SetSummary(store.Summary{Client: "c3", Team: "south", Name: "Three"}),
			w.SetSummary(store.Summary{Client: "c2", Team: "south", Name: "Two", Stops: 1}),
		)
	})
	view(t, s, func(r store.Reader) error {
		for team, want := range map[string]string{"north": "c1 ", "south": "c2 c3 ", "": "c1 c2 c3 ", "east": ""} {
			got := ""
			for line, err := range r.Summaries(team) {
				if err != nil {
					return err
				}
				got += line.Client + " "
			}
			equal(t, "team "+team, got, want)
		}
		for range r.Summaries("south") {
			break // stopping early is allowed
		}
		line, err := r.Summary("c2")
		equal(t, "stops", line.Stops, 1)
		return err
	})
}

func testLogins(t *testing.T, s store.Store) {
	change(t, s, func(w store.Writer) error {
		err := w.SetPerson(store.Person{ID: "p1", Login: "marit", Name: "Marit"})
		wantError(t, "taken", w.SetPerson(store.Person{ID: "p2", Login: "marit"}), store.ErrTaken)
		return errors.Join(err, w.SetPerson(store.Person{ID: "p1", Login: "marit.o", Name: "Marit"}),
			w.SetPerson(store.Person{ID: "p2", Login: "marit"}))
	})
	view(t, s, func(r store.Reader) error {
		first, err := r.PersonByLogin("marit.o")
		equal(t, "marit.o", first.ID, "p1")
		second, err2 := r.PersonByLogin("marit")
		equal(t, "marit", second.ID, "p2")
		_, missing := r.PersonByLogin("")
		wantError(t, "no login", missing, store.ErrNotFound)
		people, err3 := r.People()
		equal(t, "people", len(people), 2)
		return errors.Join(err, err2, err3)
	})
}

func testMemberships(t *testing.T, s store.Store) {
	change(t, s, func(w store.Writer) error {
		return errors.Join(
			w.SetTeam(store.Team{ID: "north", Name: "North"}),
			w.SetMembership(store.Membership{Person: "p1", Team: "north", Role: model.RoleClinician}),
			w.SetMembership(store.Membership{Person: "p1", Team: "south", Role: model.RoleLead}),
			w.SetMembership(store.Membership{Person: "p2", Team: "north", Role: model.RoleAssistant}),
			w.SetMembership(store.Membership{Person: "p1", Team: "north", Role: model.RoleLead}),
			w.RemoveMembership("p1", "south"), w.RemoveMembership("p9", "south"),
		)
	})
	view(t, s, func(r store.Reader) error {
		of, err := r.MembershipsOfPerson("p1")
		equal(t, "p1", fmt.Sprint(of), "[{p1 north lead}]")
		in, err2 := r.MembershipsOfTeam("north")
		equal(t, "north", fmt.Sprint(in), "[{p1 north lead} {p2 north assistant}]")
		team, err3 := r.Team("north")
		equal(t, "name", team.Name, "North")
		return errors.Join(err, err2, err3)
	})
}

func testSessions(t *testing.T, s store.Store) {
	session := func(hash, person, expires string) store.Session {
		return store.Session{Hash: hash, Person: person, Created: Arrived, Seen: Arrived, Expires: expires}
	}
	change(t, s, func(w store.Writer) error {
		return errors.Join(
			w.SetSession(session("h1", "p1", "2026-03-01T00:00:00.000Z")),
			w.SetSession(session("h2", "p1", "2026-03-09T00:00:00.000Z")),
			w.SetSession(session("h3", "p1", "2026-03-09T00:00:00.000Z")),
			w.SetSession(session("h4", "p2", "2026-03-09T00:00:00.000Z")),
			w.SetSession(session("h5", "p3", "2026-03-01T00:00:00.000Z")),
			w.SetSession(session("h6", "p3", "2026-03-01T00:00:00.001Z")),
			w.SetSession(session("h7", "p1", "2026-03-09T00:00:00.000Z")),
			w.RemoveSession("h3"), w.RemoveSession("h9"),
		)
	})
	change(t, s, func(w store.Writer) error {
		ended, err := w.RemoveSessionsExpired("2026-03-02T00:00:00.000Z")
		equal(t, "expired", ended, 3)
		own, err2 := w.SessionsOfPerson("p1")
		equal(t, "left", own[0].Hash, "h2")
		everybodys, err5 := w.Sessions()
		equal(t, "everybody's", len(everybodys), 3)
		ended, err3 := w.RemoveSessionsOfPerson("p1")
		equal(t, "ended", ended, 2)
		for _, hash := range []string{"h1", "h2", "h5", "h6", "h7"} {
			_, missing := w.Session(hash)
			wantError(t, hash, missing, store.ErrNotFound)
		}
		_, err4 := w.Session("h4")
		return errors.Join(err, err2, err3, err4, err5)
	})
}

func testAudit(t *testing.T, s store.Store) {
	change(t, s, func(w store.Writer) error {
		_, none := w.LastAudit()
		wantError(t, "empty", none, store.ErrNotFound)
		wantError(t, "start at 2", w.AppendAudit(store.AuditEntry{Seq: 2}), store.ErrOrder)
		return errors.Join(
			w.AppendAudit(store.AuditEntry{Seq: 1, Action: "read client", Hash: "a"}),
			w.AppendAudit(store.AuditEntry{Seq: 2, Action: "sign in", Prev: "a", Hash: "b"}),
		)
	})
	view(t, s, func(r store.Reader) error {
		last, err := r.LastAudit()
		equal(t, "last", last.Hash, "b")
		for entry, err := range r.AuditEntries(1) {
			equal(t, "after 1", entry.Action, "sign in")
			if err != nil {
				return err
			}
		}
		return err
	})
}

func formatOf(t *testing.T, r store.Reader) string {
	t.Helper()
	format, err := r.ResultFormat()
	wantError(t, "format of results", err, nil)
	return format
}
