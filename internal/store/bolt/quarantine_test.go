package bolt_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"go.etcd.io/bbolt"

	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/internal/store/storetest"
	"doorsill/internal/validation"
)

// asides are the lists that files of earlier versions lack.
var asides = []string{"aside-open", "aside-count", "aside-as", "aside-team"}

// withoutLists is a store with open, settled and placed entries as an earlier
// version leaves it, and what is in it.
func withoutLists(t *testing.T) (path string, whole map[listKey]string) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "records.db")
	db, err := bolt.Open(path, bolt.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	err = db.Update(context.Background(), func(w store.Writer) error {
		var all error
		for n := range int64(6) {
			_, err := w.Quarantine(store.Quarantined{
				Tablet: "tab-a", N: n + 1, Person: "marit", Team: "north", Client: fmt.Sprintf("c%d", n%2), Subject: "v9",
				Code: validation.CodeRequired, Hint: "something is missing", Received: storetest.Arrived, Raw: fmt.Appendf(nil, "{%d", n),
			})
			all = errors.Join(all, err)
		}
		return errors.Join(all, w.Settle(2, store.Settlement{By: "lena"}), w.SetTablet(store.Tablet{ID: "tab-a", Ack: 6}))
	})
	if err := errors.Join(err, db.Close()); err != nil {
		t.Fatal(err)
	}
	whole = contents(t, path)
	edit(t, path, func(tx *bbolt.Tx) error {
		var err error
		for _, list := range asides {
			err = errors.Join(err, tx.DeleteBucket([]byte(list)))
		}
		by := tx.Bucket([]byte("aside-by"))
		for id := range uint64(6) { // nothing was listed by person
			err = errors.Join(err, by.Delete(append([]byte("person\x00marit\x00"), number(id+1)...)))
		}
		return err
	})
	asBefore(t, path, "doorsill-records/2")
	return path, whole
}

// TestAFileWithoutListsOfWhatWasSetAside gets them when it is opened for
// writing. Until then they are made up while reading.
func TestAFileWithoutListsOfWhatWasSetAside(t *testing.T) {
	path, whole := withoutLists(t)
	for _, readOnly := range []bool{true, false} {
		db, err := bolt.Open(path, bolt.Options{NoSync: true, ReadOnly: readOnly})
		if err != nil {
			t.Fatal(err)
		}
		err = db.View(context.Background(), func(r store.Reader) error {
			n, err := r.QuarantineOpen(store.QuarantineByPerson, "marit")
			if n != (store.QuarantineCount{Entries: 5, Bytes: 10}) {
				t.Errorf("read only %v: open %+v", readOnly, n)
			}
			page, more, err2 := r.QuarantinePage(store.QuarantineFilter{Person: "marit", Open: true}, 1, 2)
			if len(page) != 2 || !more || page[0].ID != 3 {
				t.Errorf("read only %v: page %+v, more %v", readOnly, page, more)
			}
			q, err3 := r.QuarantinedAs("tab-a", 3, []byte("{2"))
			_, none := r.QuarantinedAs("tab-a", 3, []byte("{3"))
			team, err4 := r.QuarantineTeam("tab-a", "v9")
			_, noTeam := r.QuarantineTeam("tab-a", "v8")
			if q.ID != 3 || team != "north" || !errors.Is(none, store.ErrNotFound) || !errors.Is(noTeam, store.ErrNotFound) {
				t.Errorf("read only %v: entry %d, team %s, %v, %v", readOnly, q.ID, team, none, noTeam)
			}
			return errors.Join(err, err2, err3, err4)
		})
		if err := errors.Join(err, storetest.Check(db), db.Close()); err != nil {
			t.Fatal(err)
		}
	}
	got := contents(t, path)
	for where, value := range whole {
		if got[where] != value {
			t.Errorf("%s %q is %q, want %q", where.list, where.key, got[where], value)
		}
	}
	if len(got) != len(whole) {
		t.Errorf("the file has %d values, want %d", len(got), len(whole))
	}
}

// TestADamagedEntryHoldsUpNoStart: the lists are made without it.
func TestADamagedEntryHoldsUpNoStart(t *testing.T) {
	path, _ := withoutLists(t)
	edit(t, path, func(tx *bbolt.Tx) error {
		b := tx.Bucket([]byte("quarantine"))
		value := bytes.Clone(b.Get(number(4)))
		value[9] ^= 1
		return b.Put(number(4), value)
	})
	err := reopened(t, path).View(context.Background(), func(r store.Reader) error {
		n, err := r.QuarantineOpen(store.QuarantineByTablet, "tab-a")
		if n.Entries != 4 {
			t.Errorf("counted %d", n.Entries)
		}
		_, damaged := r.Quarantined(4)
		if !errors.Is(damaged, store.ErrDamaged) {
			t.Errorf("the damaged entry: %v", damaged)
		}
		return err
	})
	if err != nil {
		t.Error(err)
	}
}

// TestDamagedCountsAreMadeAnew when the next entry is set aside, or one is dealt
// with, from the lists of open entries.
func TestDamagedCountsAreMadeAnew(t *testing.T) {
	for name, write := range map[string]func(store.Writer) error{
		"set aside": func(w store.Writer) error {
			_, err := w.Quarantine(store.Quarantined{Tablet: "tab-q", N: 2, Team: "north", Client: "c1", Code: "required", Raw: []byte("{2}")})
			return err
		},
		"dealt with": func(w store.Writer) error { return w.Settle(1, store.Settlement{By: "lena"}) },
	} {
		path := withOneOfAll(t)
		changed(t, path, "aside-count", func(v []byte) []byte { v[0] ^= 1; return v })
		db, err := bolt.Open(path, bolt.Options{NoSync: true})
		if err != nil {
			t.Fatal(err)
		}
		if err := db.Update(t.Context(), write); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		want := map[string]store.QuarantineCount{"set aside": {Entries: 2, Bytes: 5}, "dealt with": {}}[name]
		err = db.View(t.Context(), func(r store.Reader) error {
			var all error
			for by, of := range map[store.QuarantineList]string{
				store.QuarantineByTeam: "north", store.QuarantineByTablet: "tab-q", store.QuarantineByClient: "c1",
			} {
				n, err := r.QuarantineOpen(by, of)
				if all = errors.Join(all, err); n != want {
					t.Errorf("%s: %s %s has %+v, want %+v", name, by, of, n, want)
				}
			}
			return all
		})
		if err := errors.Join(err, db.Close()); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestAListThatLeadsToAnotherEntry is damage: the wrong verdict must not be
// given.
func TestAListThatLeadsToAnotherEntry(t *testing.T) {
	for _, to := range []uint64{2, 99} {
		path := withOneOfAll(t)
		changed(t, path, "aside-as", func([]byte) []byte { return number(to) })
		asBefore(t, path, "doorsill-records/2")
		err := reopened(t, path).View(context.Background(), func(r store.Reader) error {
			_, err := r.QuarantinedAs("tab-q", 1, []byte("{}"))
			return err
		})
		if !errors.Is(err, store.ErrDamaged) {
			t.Errorf("entry %d: %v", to, err)
		}
	}
}

// TestWhatIsLongerThanAKey: what a tablet sends as a subject can be long.
func TestWhatIsLongerThanAKey(t *testing.T) {
	db := reopened(t, filepath.Join(t.TempDir(), "records.db"))
	err := db.Update(context.Background(), func(w store.Writer) error {
		_, err := w.Quarantine(store.Quarantined{Tablet: "tab-a", N: 1, Team: "north", Subject: strings.Repeat("x", 100_000), Code: validation.CodeOutOfRange})
		_, none := w.QuarantineTeam("tab-a", strings.Repeat("x", 100_000))
		if !errors.Is(none, store.ErrNotFound) {
			t.Errorf("what is no id: %v", none)
		}
		return err
	})
	if err != nil {
		t.Error(err)
	}
}
