package bolt_test

import (
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"go.etcd.io/bbolt"

	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/internal/store/storetest"
	"doorsill/internal/validation"
)

// withOneOfAll is the path of a closed store that holds one of everything.
func withOneOfAll(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "records.db")
	db, err := bolt.Open(path, bolt.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	err = db.Update(context.Background(), func(w store.Writer) error {
		_, kept := w.Quarantine(store.Quarantined{Tablet: "tab-q", N: 1, Team: "north", Client: "c1", Code: "required", Raw: []byte("{}")})
		return errors.Join(kept,
			storetest.Push(w, storetest.Batch("tab-a", 1, 3, "north", "c1")),
			w.AddSubject(store.Subject{ID: "v1", Kind: model.SubjectVisit, Team: "north", Client: "c1"}),
			w.SetResult(store.Result{Visit: "v1", Body: []byte("a\nb\n")}),
			w.SetSummary(store.Summary{Client: "c1", Team: "north"}),
			w.SetPerson(store.Person{ID: "p1", Login: "marit"}),
			w.SetTeam(store.Team{ID: "north"}),
			w.SetMembership(store.Membership{Person: "p1", Team: "north", Role: model.RoleLead}),
			w.SetSession(store.Session{Hash: "h1", Person: "p1"}),
			w.AppendAudit(store.AuditEntry{Seq: 1}),
		)
	})
	if err := errors.Join(err, db.Close()); err != nil {
		t.Fatal(err)
	}
	return path
}

// reads are all ways to read what a list of the file holds.
var reads = map[string][]func(store.Reader) error{
	"log": {
		func(r store.Reader) error { _, err := r.Entries(0, 9); return err },
		func(r store.Reader) error { _, _, err := r.EntriesOfTeam("north", 0, 9); return err },
		func(r store.Reader) error { _, err := r.EntriesOfSubject("c1"); return err },
		func(r store.Reader) error { _, err := r.Placed("tab-a", 2); return err },
	},
	"subjects": {func(r store.Reader) error { _, err := r.Subject("v1"); return err }},
	"tablets": {
		func(r store.Reader) error { _, err := r.Tablet("tab-a"); return err },
		func(r store.Reader) error { _, err := r.Tablets(); return err },
		func(r store.Reader) error { _, err := r.TabletsOfPerson("person-tab-a"); return err },
	},
	"results": {func(r store.Reader) error { _, err := r.Result("v1"); return err }},
	"summaries": {
		func(r store.Reader) error { _, err := r.Summary("c1"); return err },
		func(r store.Reader) error { return lastOf(r.Summaries("")) },
		func(r store.Reader) error { return lastOf(r.Summaries("north")) },
	},
	"quarantine": {
		func(r store.Reader) error { _, err := r.Quarantined(1); return err },
		func(r store.Reader) error { _, err := r.QuarantinedOf(store.QuarantineFilter{}); return err },
		func(r store.Reader) error { _, err := r.Placed("tab-q", 1); return err },
	},
	"people": {
		func(r store.Reader) error { _, err := r.Person("p1"); return err },
		func(r store.Reader) error { _, err := r.PersonByLogin("marit"); return err },
		func(r store.Reader) error { _, err := r.People(); return err },
	},
	"teams": {
		func(r store.Reader) error { _, err := r.Team("north"); return err },
		func(r store.Reader) error { _, err := r.Teams(); return err },
	},
	"sessions": {
		func(r store.Reader) error { _, err := r.Session("h1"); return err },
		func(r store.Reader) error { _, err := r.Sessions(); return err },
		func(r store.Reader) error { _, err := r.SessionsOfPerson("p1"); return err },
	},
	"audit": {
		func(r store.Reader) error { _, err := r.LastAudit(); return err },
		func(r store.Reader) error { return lastOf(r.AuditEntries(0)) },
	},
}

// lastOf is the error that a run ends with.
func lastOf[T any](run func(func(T, error) bool)) (last error) {
	for _, err := range run {
		last = err
	}
	return last
}

// changed opens the file without this package and changes each value of a list.
func changed(t *testing.T, path, list string, change func(value []byte) []byte) {
	t.Helper()
	db, err := bbolt.Open(path, 0o600, &bbolt.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	err = db.Update(func(tx *bbolt.Tx) error {
		b := tx.Bucket([]byte(list))
		var all [][2][]byte
		_ = b.ForEach(func(key, value []byte) error {
			all = append(all, [2][]byte{slices.Clone(key), change(slices.Clone(value))})
			return nil
		})
		for _, one := range all {
			if err := b.Put(one[0], one[1]); err != nil {
				return err
			}
		}
		return nil
	})
	if err := errors.Join(err, db.Close()); err != nil {
		t.Fatal(err)
	}
}

// TestWhatIsDamagedIsSaid by everything that reads it: a changed byte anywhere
// in a value, one that is no record, and none at all.
func TestWhatIsDamagedIsSaid(t *testing.T) {
	for list, readers := range reads {
		for name, change := range map[string]func([]byte) []byte{
			"its first byte":   func(v []byte) []byte { v[0] ^= 1; return v },
			"its last byte":    func(v []byte) []byte { v[len(v)-1] ^= 1; return v },
			"one in between":   func(v []byte) []byte { v[len(v)/2] ^= 1; return v },
			"no record at all": func([]byte) []byte { return []byte("x") },
			"nothing":          func([]byte) []byte { return []byte{} },
		} {
			path := withOneOfAll(t)
			changed(t, path, list, change)
			db, err := bolt.Open(path, bolt.Options{})
			if err != nil {
				t.Fatal(err)
			}
			for i, read := range readers {
				if err := db.View(context.Background(), read); !errors.Is(err, store.ErrDamaged) {
					t.Errorf("%s, %s: way %d of reading it says %v", list, name, i+1, err)
				}
			}
			if err := db.Close(); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// TestEverythingIsReadWhenNothingIsDamaged is what the test above starts from.
func TestEverythingIsReadWhenNothingIsDamaged(t *testing.T) {
	db, err := bolt.Open(withOneOfAll(t), bolt.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	for list, readers := range reads {
		for i, read := range readers {
			if err := db.View(context.Background(), read); err != nil {
				t.Errorf("%s, way %d: %v", list, i+1, err)
			}
		}
	}
}

// TestADamagedNameOfTheLog: a file whose name can not be read is refused, since
// tablets would take it for another.
func TestADamagedNameOfTheLog(t *testing.T) {
	for name, change := range map[string]func([]byte) []byte{
		"a changed byte": func(v []byte) []byte { v[0] ^= 1; return v },
		"no id":          func([]byte) []byte { return []byte("a b") },
		"nothing":        func([]byte) []byte { return []byte{} },
	} {
		path := withOneOfAll(t)
		changed(t, path, "meta", func(v []byte) []byte {
			if strings.HasPrefix(string(v), "doorsill-records/") {
				return v // the format
			}
			return change(v)
		})
		for _, readOnly := range []bool{false, true} {
			if db, err := bolt.Open(path, bolt.Options{ReadOnly: readOnly}); !errors.Is(err, store.ErrDamaged) {
				t.Errorf("%s, read only %v: %v", name, readOnly, err)
				if err == nil {
					_ = db.Close()
				}
			}
		}
	}
}

// TestAListThatIsMissing is made anew when the file may be written, and is
// damage when it may not.
func TestAListThatIsMissing(t *testing.T) {
	path := withOneOfAll(t)
	db, err := bbolt.Open(path, 0o600, nil)
	if err != nil {
		t.Fatal(err)
	}
	err = db.Update(func(tx *bbolt.Tx) error { return tx.DeleteBucket([]byte("caseload")) })
	if err := errors.Join(err, db.Close()); err != nil {
		t.Fatal(err)
	}
	if _, err := bolt.Open(path, bolt.Options{ReadOnly: true}); !errors.Is(err, store.ErrDamaged) || !strings.Contains(err.Error(), `"caseload"`) {
		t.Errorf("read only: %v", err)
	}
	again, err := bolt.Open(path, bolt.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if err := again.Close(); err != nil {
		t.Fatal(err)
	}
}

// oldBatch is a batch as it was stored before there were checksums: flags,
// texts, first number, count, lengths, events.
func oldBatch(flags byte, events ...string) []byte {
	out := []byte{flags}
	for _, text := range []string{storetest.Arrived, "tab-a", "north", "c1"} {
		out = append(binary.AppendUvarint(out, uint64(len(text))), text...)
	}
	out = binary.AppendUvarint(binary.AppendUvarint(out, 1), uint64(len(events)))
	for _, event := range events {
		out = binary.AppendUvarint(out, uint64(len(event)))
	}
	for _, event := range events {
		out = append(out, event...)
	}
	return out
}

// TestBatchesWithoutAChecksum are read as before; one that is not as long as it
// says, wherever it is cut, is damage.
func TestBatchesWithoutAChecksum(t *testing.T) {
	const skewed = 1
	whole := oldBatch(skewed, "{one}", "{twotwo}", "{}")
	read := func(batch []byte) (entries []model.Entry, head int64, err error) {
		path := withOneOfAll(t)
		changed(t, path, "log", func([]byte) []byte { return batch })
		db, err := bolt.Open(path, bolt.Options{})
		if err != nil {
			t.Fatal(err)
		}
		defer db.Close()
		err = db.View(context.Background(), func(r store.Reader) (err error) {
			head = r.Head()
			list, err := r.Entries(0, 9)
			for _, one := range list {
				one.Raw = slices.Clone(one.Raw)
				entries = append(entries, one)
			}
			return err
		})
		return entries, head, err
	}
	entries, head, err := read(whole)
	if err != nil || head != 3 || len(entries) != 3 {
		t.Fatalf("%d entries, head %d, %v", len(entries), head, err)
	}
	for i, want := range []string{"{one}", "{twotwo}", "{}"} {
		if e := entries[i]; string(e.Raw) != want || e.Pos != int64(i)+1 || e.Received != storetest.Arrived || !e.Skewed {
			t.Errorf("entry %d: %+v", i+1, e)
		}
	}
	for n := range len(whole) {
		if _, _, err := read(whole[:n]); !errors.Is(err, store.ErrDamaged) {
			t.Errorf("cut after %d of %d bytes: %v", n, len(whole), err)
		}
	}
	for name, batch := range map[string][]byte{
		"a byte too many": append(slices.Clone(whole), 'x'), "no events": oldBatch(0), "a flag that is none": oldBatch(4, "{}"), "a checksum that is not there": oldBatch(2, "{}"),
		"flags alone": {0}, "a checksum of nothing": {2}, "one that is cut": {2, 0, 0}, "one over flags alone": {2, 0, 0, 0, 0},
	} {
		if _, _, err := read(batch); !errors.Is(err, store.ErrDamaged) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

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
	"SetResult":        func(w store.Writer) error { return w.SetResult(store.Result{Visit: "v2"}) },
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

// TestWhatDamageHidesIsNotWritten: a write that first reads says what it could
// not read.
func TestWhatDamageHidesIsNotWritten(t *testing.T) {
	for list, names := range map[string][]string{
		"people": {"SetPerson other login"}, "sessions": {"SetSession again", "RemoveSession", "RemoveSessionsOfPerson", "RemoveSessionsExpired"}, "quarantine": {"Settle"},
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
