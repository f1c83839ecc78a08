package verify_test

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"
	"testing"

	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/internal/tablettest"
	"doorsill/internal/validation"
	"doorsill/internal/verify"
)

// crowded is a store in which one tablet has so much of each thing: entries that
// were set aside about one client, as many visits of that client, and as many
// sessions of its person.
func crowded(t testing.TB, aside, visits, sessions int) *bolt.DB {
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
	tab := &tablettest.Tablet{ID: "tab-a", Person: "marit", Team: "north"}
	who := caller("marit", "north")
	err = db.Update(t.Context(), func(w store.Writer) error {
		return errors.Join(w.SetPerson(store.Person{ID: "marit", Login: "marit"}), w.SetTeam(store.Team{ID: "north"}),
			w.SetMembership(store.Membership{Person: "marit", Team: "north", Role: model.RoleClinician}),
			w.SetTablet(store.Tablet{ID: "tab-a", Person: "marit"}))
	})
	if err != nil {
		t.Fatal(err)
	}
	in := intake.New(db, lists(), noon)
	defer in.Close()
	tab.Client("c1", "Invented")
	for i := range visits {
		tab.Visit(fmt.Sprintf("v%d", i), "c1")
	}
	for tab.Ack < int64(len(tab.Lines)) {
		body, _ := tab.Push(1000)
		answer, err := in.Push(t.Context(), who, bytes.NewReader(body))
		if err != nil {
			t.Fatal(err)
		}
		tab.Ack, tab.Log = answer.Ack, answer.Log
	}
	addAside(t, db, tab.Ack, aside)
	for at := 0; at < sessions; at += 1_000 {
		err = db.Update(t.Context(), func(w store.Writer) error {
			var err error
			for i := at; i < min(at+1_000, sessions); i++ {
				err = errors.Join(err, w.SetSession(store.Session{Hash: fmt.Sprintf("h%d", i), Person: "marit", Expires: "2026-04-01"}))
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return db
}

// addAside sets entries aside that came after the first of their tablet.
func addAside(t testing.TB, db *bolt.DB, first int64, count int) {
	t.Helper()
	for at := 0; at < count; at += 1_000 {
		err := db.Update(t.Context(), func(w store.Writer) error {
			var err error
			for i := at; i < min(at+1_000, count); i++ {
				_, bad := w.Quarantine(store.Quarantined{
					Tablet: "tab-a", N: first + int64(i) + 1, Person: "marit", Team: "north", Client: "c1", Subject: "c1",
					Code: validation.CodeSubject, Hint: "Does not fit.", Received: "2026-03-10T12:00:00.000Z", Raw: fmt.Appendf(nil, `{"i":%d}`, i),
				})
				err = errors.Join(err, bad)
			}
			line, bad := w.Summary("c1")
			line.Quarantined = min(at+1_000, count)
			return errors.Join(err, bad, w.SetSummary(line), w.SetTablet(store.Tablet{ID: "tab-a", Person: "marit", Ack: first + int64(min(at+1_000, count))}))
		})
		if err != nil {
			t.Fatal(err)
		}
	}
}

// BenchmarkStore compares stores in which one thing is there many times.
func BenchmarkStore(b *testing.B) {
	for _, n := range []int{1_000, 5_000, 10_000} {
		for name, many := range map[string][3]int{"set-aside": {n, 1, 1}, "visits-of-a-client": {1, n, 1}, "sessions-of-a-person": {1, 1, n}} {
			b.Run(fmt.Sprintf("%s-%d", name, n), func(b *testing.B) {
				db := crowded(b, many[0], many[1], many[2])
				for b.Loop() {
					report, err := verify.Store(b.Context(), db, lists())
					if err != nil || !report.Clean() {
						b.Fatalf("%v: %+v", err, report.Faults)
					}
				}
			})
		}
	}
}
