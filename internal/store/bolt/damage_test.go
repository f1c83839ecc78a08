package bolt_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"go.etcd.io/bbolt"

	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/internal/store/storetest"
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
		_, kept := w.Quarantine(store.Quarantined{Tablet: "tab-q", N: 1, Team: "north", Client: "c1", Subject: "v9", Code: "required", Raw: []byte("{}")})
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
		func(r store.Reader) error {
			_, _, err := r.QuarantinePage(store.QuarantineFilter{Team: "north", Open: true}, 0, 9)
			return err
		},
		func(r store.Reader) error { _, err := r.QuarantinedAs("tab-q", 1, []byte("{}")); return err },
	},
	"aside-count": {func(r store.Reader) error { _, err := r.QuarantineOpen(store.QuarantineByTeam, "north"); return err }},
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

// edit changes the file without this package.
func edit(t *testing.T, path string, fn func(tx *bbolt.Tx) error) {
	t.Helper()
	db, err := bbolt.Open(path, 0o600, &bbolt.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(db.Update(fn), db.Close()); err != nil {
		t.Fatal(err)
	}
}

// changed changes each value of a list.
func changed(t *testing.T, path, list string, change func(value []byte) []byte) {
	t.Helper()
	edit(t, path, func(tx *bbolt.Tx) error {
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
}

// TestWhatIsDamagedIsSaid by everything that reads it: a changed byte anywhere
// in a value, one that is no record, and none at all.
func TestWhatIsDamagedIsSaid(t *testing.T) {
	for list, readers := range reads {
		for name, change := range map[string]func([]byte) []byte{
			"its first byte":      func(v []byte) []byte { v[0] ^= 1; return v },
			"its last byte":       func(v []byte) []byte { v[len(v)-1] ^= 1; return v },
			"one in between":      func(v []byte) []byte { v[len(v)/2] ^= 1; return v },
			"no record at all":    func([]byte) []byte { return []byte("x") },
			"no record, in lines": func([]byte) []byte { return []byte("x\ny\n") },
			"nothing":             func([]byte) []byte { return []byte{} },
		} {
			path := withOneOfAll(t)
			changed(t, path, list, change)
			db, err := bolt.Open(path, bolt.Options{})
			if err != nil {
				t.Fatal(err)
			}
			for i, read := range readers {
				err := db.View(context.Background(), read)
				if !errors.Is(err, store.ErrDamaged) || name == "its first byte" && !strings.Contains(err.Error(), "the checksum does not fit") {
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
func TestEverythingIsReadWhenNothingIsDamaged(t *testing.T) { allRead(t, withOneOfAll(t)) }

// allRead reads everything in every way.
func allRead(t *testing.T, path string) {
	t.Helper()
	db, err := bolt.Open(path, bolt.Options{})
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
			db, err := bolt.Open(path, bolt.Options{ReadOnly: readOnly})
			if !errors.Is(err, store.ErrDamaged) || name == "a changed byte" && !strings.Contains(err.Error(), "the checksum does not fit") {
				t.Errorf("%s, read only %v: %v", name, readOnly, err)
				if err == nil {
					_ = db.Close()
				}
			}
		}
	}
}

// TestAListThatIsMissing is damage, whether it is gone or one half of it is.
func TestAListThatIsMissing(t *testing.T) {
	for _, missing := range [][]string{{"caseload"}, {"caseload/sums"}, {"caseload", "caseload/sums"}, {"meta"}} {
		path := withOneOfAll(t)
		edit(t, path, func(tx *bbolt.Tx) (err error) {
			for _, name := range missing {
				err = errors.Join(err, tx.DeleteBucket([]byte(name)))
			}
			return err
		})
		for _, readOnly := range []bool{true, false} {
			want := strconv.Quote(strings.TrimSuffix(missing[0], "/sums"))
			if _, err := bolt.Open(path, bolt.Options{ReadOnly: readOnly}); !errors.Is(err, store.ErrDamaged) || !strings.Contains(err.Error(), want) {
				t.Errorf("without %q, read only %v: %v", missing, readOnly, err)
			}
		}
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
		asBefore(t, path, "doorsill-records/2")
		db, err := bolt.Open(path, bolt.Options{})
		if err != nil {
			t.Fatal(err)
		}
		defer db.Close()
		err = db.View(context.Background(), func(r store.Reader) (err error) {
			if head, err = r.Head(); err != nil {
				return err
			}
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

// TestWhatCanBeMadeOutOfADamagedResult is what lies beside the damage.
func TestWhatCanBeMadeOutOfADamagedResult(t *testing.T) {
	path := filepath.Join(t.TempDir(), "records.db")
	db := reopened(t, path)
	err := db.Update(t.Context(), func(w store.Writer) error {
		return w.SetResult(store.Result{Visit: "v1", Body: []byte("the body"), Evidence: &store.Evidence{Body: []byte("the evidence")}})
	})
	if err := errors.Join(err, db.Close()); err != nil {
		t.Fatal(err)
	}
	edit(t, path, func(tx *bbolt.Tx) error {
		results := tx.Bucket([]byte("results"))
		return results.Put([]byte("v1"), bytes.Replace(bytes.Clone(results.Get([]byte("v1"))), []byte("the body"), []byte("the bodx"), 1))
	})
	err = reopened(t, path).View(t.Context(), func(r store.Reader) error {
		got, err := r.Result("v1")
		if !errors.Is(err, store.ErrDamaged) || got.Evidence == nil || string(got.Evidence.Body) != "the evidence" {
			t.Errorf("%+v, %v", got, err)
		}
		return nil
	})
	if err != nil {
		t.Error(err)
	}
}
