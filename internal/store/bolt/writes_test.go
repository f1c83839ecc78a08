package bolt_test

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"go.etcd.io/bbolt"

	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/internal/store/storetest"
	"doorsill/internal/validation"
)

// writes are all ways to write, each of which changes something.
var writes = map[string]func(store.Writer) error{
	"Append": func(w store.Writer) error {
		_, err := w.Append(storetest.Batch("tab-b", 1, 1, "north", "c1"))
		return err
	},
	"AddSubject": func(w store.Writer) error { return w.AddSubject(store.Subject{ID: "c2", Kind: model.SubjectClient}) },
	"AddSubject visit": func(w store.Writer) error {
		return w.AddSubject(store.Subject{ID: "v2", Kind: model.SubjectVisit, Client: "c1"})
	},
	"SetLogID":         func(w store.Writer) error { return w.SetLogID("other") },
	"SetTablet":        func(w store.Writer) error { return w.SetTablet(store.Tablet{ID: "tab-b"}) },
	"SetTablet again":  func(w store.Writer) error { return w.SetTablet(store.Tablet{ID: "tab-a", Person: "p2"}) },
	"SetResult":        func(w store.Writer) error { return w.SetResult(store.Result{Visit: "v2"}) },
	"SetResultFormat":  func(w store.Writer) error { return w.SetResultFormat("f/2") },
	"SetSummary":       func(w store.Writer) error { return w.SetSummary(store.Summary{Client: "c2", Team: "north"}) },
	"SetSummary moved": func(w store.Writer) error { return w.SetSummary(store.Summary{Client: "c1", Team: "south"}) },
	"Quarantine": func(w store.Writer) error {
		_, err := w.Quarantine(store.Quarantined{Tablet: "tab-b", N: 1})
		return err
	},
	"Quarantine forked": func(w store.Writer) error {
		_, err := w.Quarantine(store.Quarantined{Tablet: "tab-a", N: 1, Code: validation.CodeForked})
		return err
	},
	"Settle":                 func(w store.Writer) error { return w.Settle(1, store.Settlement{By: "p1"}) },
	"Settle nothing":         func(w store.Writer) error { return w.Settle(9, store.Settlement{By: "p1"}) },
	"SetPerson":              func(w store.Writer) error { return w.SetPerson(store.Person{ID: "p2", Login: "davit"}) },
	"SetPerson without":      func(w store.Writer) error { return w.SetPerson(store.Person{ID: "p2"}) },
	"SetPerson other login":  func(w store.Writer) error { return w.SetPerson(store.Person{ID: "p1", Login: "davit"}) },
	"SetTeam":                func(w store.Writer) error { return w.SetTeam(store.Team{ID: "south"}) },
	"SetMembership":          func(w store.Writer) error { return w.SetMembership(store.Membership{Person: "p1", Team: "south"}) },
	"RemoveMembership":       func(w store.Writer) error { return w.RemoveMembership("p1", "north") },
	"SetSession":             func(w store.Writer) error { return w.SetSession(store.Session{Hash: "h2", Person: "p1"}) },
	"SetSession again":       func(w store.Writer) error { return w.SetSession(store.Session{Hash: "h1", Person: "p2"}) },
	"RemoveSession":          func(w store.Writer) error { return w.RemoveSession("h1") },
	"RemoveSessionsOfPerson": func(w store.Writer) error { _, err := w.RemoveSessionsOfPerson("p1"); return err },
	"RemoveSessionsExpired":  func(w store.Writer) error { _, err := w.RemoveSessionsExpired("9"); return err },
	"AppendAudit":            func(w store.Writer) error { return w.AppendAudit(store.AuditEntry{Seq: 2}) },
}

// TestAWriteThatTheFileRefusesIsSaid: within a view the file takes nothing, as
// on a disk that fails, and each way to write must say so. In an update each is
// taken, or refused for what it says.
func TestAWriteThatTheFileRefusesIsSaid(t *testing.T) {
	db, err := bolt.Open(withOneOfAll(t), bolt.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	for name, write := range writes {
		err := db.View(context.Background(), func(r store.Reader) error { return write(r.(store.Writer)) })
		if err == nil {
			t.Errorf("%s says nothing", name)
		}
	}
	undone := errors.New("undone")
	for name, write := range writes {
		want := error(nil)
		if name == "Settle nothing" {
			want = store.ErrNotFound
		}
		err := db.Update(context.Background(), func(w store.Writer) error {
			if err := write(w); !errors.Is(err, want) || want == nil && err != nil {
				return fmt.Errorf("said %v, want %v", err, want)
			}
			return undone
		})
		if !errors.Is(err, undone) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestAWriteThatIsRefusedInPartIsSaid: of the lists that one write changes only
// one refuses it, for a key that is empty or longer than the file takes.
func TestAWriteThatIsRefusedInPartIsSaid(t *testing.T) {
	db, err := bolt.Open(withOneOfAll(t), bolt.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	long := strings.Repeat("x", 40_000)
	for name, write := range map[string]func(store.Writer) error{
		"a batch of a long team": func(w store.Writer) error { _, err := w.Append(storetest.Batch("tab-b", 1, 1, long, "c1")); return err },
		"a batch about a long subject": func(w store.Writer) error {
			_, err := w.Append(storetest.Batch("tab-b", 1, 1, "north", long))
			return err
		},
		"a batch of a long tablet": func(w store.Writer) error { _, err := w.Append(storetest.Batch(long, 1, 1, "north", "c1")); return err },
		"a visit of a long client": func(w store.Writer) error {
			return w.AddSubject(store.Subject{ID: "v2", Kind: model.SubjectVisit, Client: long})
		},
		"a subject without an id":     func(w store.Writer) error { return w.AddSubject(store.Subject{Kind: model.SubjectClient}) },
		"a session without a name":    func(w store.Writer) error { return w.SetSession(store.Session{Person: "p1"}) },
		"a session of a long person":  func(w store.Writer) error { return w.SetSession(store.Session{Hash: "h2", Person: long}) },
		"a line without a client":     func(w store.Writer) error { return w.SetSummary(store.Summary{Team: "north"}) },
		"a line of a long team":       func(w store.Writer) error { return w.SetSummary(store.Summary{Client: "c2", Team: long}) },
		"a person without an id":      func(w store.Writer) error { return w.SetPerson(store.Person{Login: "davit"}) },
		"a person with a long login":  func(w store.Writer) error { return w.SetPerson(store.Person{ID: "p2", Login: long}) },
		"a membership in a long team": func(w store.Writer) error { return w.SetMembership(store.Membership{Person: "p1", Team: long}) },
		"what a long tablet sent":     func(w store.Writer) error { _, err := w.Quarantine(store.Quarantined{Tablet: long, N: 1}); return err },
		"what is a long team's": func(w store.Writer) error {
			_, err := w.Quarantine(store.Quarantined{Tablet: "t", N: 1, Team: long})
			return err
		},
		"what is about a long client": func(w store.Writer) error {
			_, err := w.Quarantine(store.Quarantined{Tablet: "t", N: 1, Client: long})
			return err
		},
	} {
		if err := db.Update(context.Background(), write); err == nil {
			t.Errorf("%s: nothing is said", name)
		}
	}
}

// TestEachKeyOfAWriteCanBeRefused: a write changes some keys of some lists. Where
// one of them can not be changed, because a list stands in its place, the write
// must say so, whichever it is.
func TestEachKeyOfAWriteCanBeRefused(t *testing.T) {
	db, err := bbolt.Open(withOneOfAll(t), 0o600, &bbolt.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	undone := errors.New("undone")
	for name, write := range writes {
		changed := map[listKey]bool{}
		_ = db.Update(func(tx *bbolt.Tx) error {
			before := contentsOf(tx)
			if err := write(bolt.WriterOf(tx)); err != nil && name != "Settle nothing" {
				t.Errorf("%s: %v", name, err)
			}
			changed = changes(before, contentsOf(tx))
			return undone
		})
		for where := range changed {
			if name == "RemoveSession" && where.list == "sessions" {
				continue // a session that is not there has ended
			}
			if where.list == "visits" || where.list == "quarantine" && strings.HasPrefix(name, "Quarantine") {
				continue // the next number is taken
			}
			_ = db.Update(func(tx *bbolt.Tx) error {
				listInPlaceOf(t, tx, where)
				if err := write(bolt.WriterOf(tx)); err == nil {
					t.Errorf("%s: %s refuses %q, and nothing is said", name, where.list, where.key)
				}
				return undone
			})
		}
	}
}

// listInPlaceOf puts a list where a value is.
func listInPlaceOf(t *testing.T, tx *bbolt.Tx, where listKey) {
	t.Helper()
	b := tx.Bucket([]byte(where.list))
	err := b.Delete([]byte(where.key))
	_, err2 := b.CreateBucket([]byte(where.key))
	if err := errors.Join(err, err2); err != nil {
		t.Fatal(err)
	}
}

// changes are the places that are not in both.
func changes(before, after map[listKey]string) map[listKey]bool {
	changed := map[listKey]bool{}
	for where, value := range after {
		if old, there := before[where]; !there || old != value {
			changed[where] = true
		}
	}
	for where := range before {
		if _, there := after[where]; !there {
			changed[where] = true
		}
	}
	return changed
}

// TestALineThatStaysIsNotWritten: every event of a client writes its line.
func TestALineThatStaysIsNotWritten(t *testing.T) {
	db := reopened(t, withOneOfAll(t))
	err := db.View(context.Background(), func(r store.Reader) error {
		line, err := r.Summary("c1")
		return errors.Join(err, r.(store.Writer).SetSummary(line)) // which can not be written in a view
	})
	if err != nil {
		t.Error(err)
	}
}

// TestAResultThatIsNoJSON is refused.
func TestAResultThatIsNoJSON(t *testing.T) {
	db := reopened(t, withOneOfAll(t))
	err := db.Update(context.Background(), func(w store.Writer) error {
		return w.SetResult(store.Result{Visit: "v2", Brief: store.Brief{Measures: &store.VisitMeasures{OperateGF: math.NaN()}}})
	})
	var not *json.UnsupportedValueError
	if !errors.As(err, &not) {
		t.Errorf("written with %v", err)
	}
}

// TestWhatDamageHidesIsNotWritten: a write that first reads says what it could
// not read.
func TestWhatDamageHidesIsNotWritten(t *testing.T) {
	for list, names := range map[string][]string{
		"people": {"SetPerson other login"}, "quarantine": {"Settle"}, "tablets": {"SetTablet again"},
	} {
		path := withOneOfAll(t)
		changed(t, path, list, func(v []byte) []byte { v[0] ^= 1; return v })
		db, err := bolt.Open(path, bolt.Options{NoSync: true})
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range names {
			if err := db.Update(context.Background(), writes[name]); !errors.Is(err, store.ErrDamaged) {
				t.Errorf("%s of damaged %s: %v", name, list, err)
			}
		}
		if err := db.Close(); err != nil {
			t.Fatal(err)
		}
	}
}

// TestASessionThatCanNotBeRead ends like any other: damage keeps nobody signed
// in, and one person's session stops no other from signing in.
func TestASessionThatCanNotBeRead(t *testing.T) {
	for _, name := range []string{"SetSession again", "RemoveSession", "RemoveSessionsOfPerson", "RemoveSessionsExpired"} {
		path := withOneOfAll(t)
		changed(t, path, "sessions", func(v []byte) []byte { v[0] ^= 1; return v })
		db := reopened(t, path)
		if err := db.Update(context.Background(), writes[name]); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		err := db.View(context.Background(), func(r store.Reader) error {
			old, err := r.SessionsOfPerson("p1")
			now, err2 := r.SessionsOfPerson("p2")
			all, err3 := r.Sessions()
			if len(old) > 0 || len(now) != len(all) {
				t.Errorf("%s: left are %v and %v of %v", name, old, now, all)
			}
			return errors.Join(err, err2, err3)
		})
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestASessionThatCanNotEvenEnd, since its key is damaged, stays and lets nobody
// in. Whoever signs in is not kept out by it.
func TestASessionThatCanNotEvenEnd(t *testing.T) {
	path := withOneOfAll(t)
	edit(t, path, func(tx *bbolt.Tx) error { return tx.Bucket([]byte("sessions/sums")).Delete([]byte("h1")) })
	db := reopened(t, path)
	err := db.Update(context.Background(), func(w store.Writer) error {
		n, err := w.RemoveSessionsExpired("9")
		if n != 0 {
			t.Errorf("%d sessions ended", n)
		}
		return errors.Join(err, w.SetSession(store.Session{Hash: "h0", Person: "p2"}))
	})
	if !errors.Is(err, store.ErrDamaged) { // h0 would lie beside what is damaged
		t.Error(err)
	}
	if err := db.Update(context.Background(), writes["SetSession"]); err != nil { // h2 does not
		t.Error(err)
	}
	err = db.View(context.Background(), func(r store.Reader) error { _, err := r.Session("h1"); return err })
	if !errors.Is(err, store.ErrDamaged) {
		t.Error(err)
	}
}
