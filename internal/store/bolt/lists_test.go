package bolt_test

import (
	"context"
	"encoding/binary"
	"errors"
	"math"
	"path/filepath"
	"testing"

	"go.etcd.io/bbolt"

	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/internal/store/storetest"
	"doorsill/internal/validation"
)

// reopened opens a file until the test ends.
func reopened(t *testing.T, path string) *bolt.DB {
	t.Helper()
	db, err := bolt.Open(path, bolt.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := db.Close(); err != nil {
			t.Error(err)
		}
	})
	return db
}

// twoOfEach is the path of a closed store that holds two of what lists name:
// positions 1 to 3 of one client and 4 to 5 of another, of one team. A third
// client is of another team.
func twoOfEach(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "records.db")
	db, err := bolt.Open(path, bolt.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	err = db.Update(context.Background(), func(w store.Writer) error {
		_, first := w.Quarantine(store.Quarantined{Tablet: "tab-q", N: 1, Team: "north", Client: "c1", Code: validation.CodeRequired})
		_, second := w.Quarantine(store.Quarantined{Tablet: "tab-r", N: 1, Team: "south", Client: "c2", Code: validation.CodeRequired})
		return errors.Join(first, second,
			storetest.Push(w, storetest.Batch("tab-a", 1, 3, "north", "c1")),
			storetest.Push(w, storetest.Batch("tab-b", 1, 2, "north", "c2")),
			w.SetSummary(store.Summary{Client: "c1", Team: "north"}), w.SetSummary(store.Summary{Client: "c2", Team: "north"}),
			w.SetSummary(store.Summary{Client: "c3", Team: "south"}),
			w.AppendAudit(store.AuditEntry{Seq: 1}), w.AppendAudit(store.AuditEntry{Seq: 2}),
		)
	})
	if err := errors.Join(err, db.Close()); err != nil {
		t.Fatal(err)
	}
	return path
}

// number is how positions are written in keys.
func number(n uint64) []byte { return binary.BigEndian.AppendUint64(nil, n) }

// damageSecond changes a byte of the value under the last key of a list.
func damageSecond(list string) func(tx *bbolt.Tx) error {
	return func(tx *bbolt.Tx) error {
		b := tx.Bucket([]byte(list))
		key, value := b.Cursor().Last()
		value = append([]byte{}, value...)
		value[len(value)/2] ^= 1
		return b.Put(append([]byte{}, key...), value)
	}
}

// TestNoMoreIsReadThanWasAskedFor: the rest may be much, and what is damaged in
// it is in nobody's way.
func TestNoMoreIsReadThanWasAskedFor(t *testing.T) {
	path := twoOfEach(t)
	for _, list := range []string{"log", "quarantine", "summaries"} {
		edit(t, path, damageSecond(list))
	}
	db := reopened(t, path)
	for name, read := range map[string]func(store.Reader) (n int, err error){
		"a page of the log": func(r store.Reader) (int, error) { list, err := r.Entries(0, 3); return len(list), err },
		"a part of a batch": func(r store.Reader) (int, error) { list, err := r.Entries(0, 2); return len(list) + 1, err },
		"the team's first page": func(r store.Reader) (int, error) {
			list, _, err := r.EntriesOfTeam("north", 0, 2)
			return len(list) + 1, err
		},
		"the first client":     func(r store.Reader) (int, error) { list, err := r.EntriesOfSubject("c1"); return len(list), err },
		"the first tablet's 3": func(r store.Reader) (int, error) { placed, err := r.Placed("tab-a", 3); return int(placed.Pos), err },
		"the lines of a team": func(r store.Reader) (int, error) {
			n := 1
			for _, err := range r.Summaries("north") {
				if n++; err != nil {
					return n, err
				}
			}
			return n, nil
		},
		"set aside of a client":  quarantined(store.QuarantineFilter{Client: "c1"}),
		"set aside of a tablet":  quarantined(store.QuarantineFilter{Tablet: "tab-q"}),
		"set aside of one team":  quarantined(store.QuarantineFilter{Team: "north"}),
		"set aside of a team, N": quarantined(store.QuarantineFilter{Team: "north", N: 1}),
	} {
		err := db.View(context.Background(), func(r store.Reader) error {
			n, err := read(r)
			if n != 3 {
				t.Errorf("%s: found %d, want 3", name, n)
			}
			return err
		})
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// quarantined counts what a filter lets through, from 2 on.
func quarantined(f store.QuarantineFilter) func(r store.Reader) (int, error) {
	return func(r store.Reader) (int, error) { list, err := r.QuarantinedOf(f); return 2 + len(list), err }
}

// TestListsThatDisagreeWithTheLog: lists have no checksum of their own. One that
// counts other entries than there are, or leads nowhere, is damage; it must not
// show what belongs to somebody else.
func TestListsThatDisagreeWithTheLog(t *testing.T) {
	ofTeam := func(r store.Reader) error { _, _, err := r.EntriesOfTeam("north", 0, 9); return err }
	ofSubject := func(r store.Reader) error { _, err := r.EntriesOfSubject("c1"); return err }
	placed := func(r store.Reader) error { _, err := r.Placed("tab-a", 2); return err }
	all := func(r store.Reader) error { _, err := r.Entries(0, 9); return err }
	// A batch of three without a checksum, the first of which is longer than all
	// together: the sum of their lengths comes round to what is there.
	lying := append([]byte{0, 0, 0, 0, 0, 1, 3}, binary.AppendUvarint(nil, math.MaxUint64)...)
	lying = append(lying, "\x01\x02{}"...)
	for _, tt := range []struct {
		name, list string
		key, value []byte
		read       func(store.Reader) error
	}{
		{"a team's list that counts too many", "by-team", append([]byte("north\x00"), number(1)...), []byte{5}, ofTeam},
		{"a team's list that counts too few", "by-team", append([]byte("north\x00"), number(1)...), []byte{2}, ofTeam},
		{"a team's list that counts nothing", "by-team", append([]byte("north\x00"), number(4)...), []byte{}, ofTeam},
		{"a team's list that leads into a batch", "by-team", append([]byte("north\x00"), number(2)...), []byte{2}, ofTeam},
		{"a client's list that counts too many", "by-subject", append([]byte("c1\x00"), number(1)...), []byte{4}, ofSubject},
		{"a client's list that leads nowhere", "by-subject", append([]byte("c1\x00"), number(9)...), []byte{1}, ofSubject},
		{"a number beyond the log", "numbers", append([]byte("tab-a\x00"), number(1)...), []byte{3, 9, 0}, placed},
		{"a number before the log", "numbers", append([]byte("tab-a\x00"), number(1)...), []byte{3, 0, 0}, func(r store.Reader) error { _, err := r.Placed("tab-a", 1); return err }},
		{"a batch that lies", "log", number(1), lying, all},
		{"a batch that lies, by team", "log", number(1), lying, ofTeam},
	} {
		path := twoOfEach(t)
		edit(t, path, func(tx *bbolt.Tx) error { return tx.Bucket([]byte(tt.list)).Put(tt.key, tt.value) })
		asBefore(t, path, "doorsill-records/2")
		if err := reopened(t, path).View(context.Background(), tt.read); !errors.Is(err, store.ErrDamaged) {
			t.Errorf("%s: %v", tt.name, err)
		}
	}
}

// TestAListThatNamesAnothersEntry does not show it.
func TestAListThatNamesAnothersEntry(t *testing.T) {
	path := twoOfEach(t)
	edit(t, path, func(tx *bbolt.Tx) error {
		by := tx.Bucket([]byte("aside-by"))
		return errors.Join(
			by.Put(append([]byte("client\x00c1\x00"), number(2)...), nil),
			by.Put(append([]byte("tablet\x00tab-q\x00"), number(2)...), nil),
			by.Put(append([]byte("team\x00north\x00"), number(2)...), nil),
		)
	})
	asBefore(t, path, "doorsill-records/2")
	db := reopened(t, path)
	for _, f := range []store.QuarantineFilter{{Client: "c1"}, {Tablet: "tab-q"}, {Team: "north"}} {
		err := db.View(context.Background(), func(r store.Reader) error {
			list, err := r.QuarantinedOf(f)
			if len(list) != 1 || list[0].ID != 1 {
				t.Errorf("%+v: %+v", f, list)
			}
			return err
		})
		if err != nil {
			t.Error(err)
		}
	}
}

// TestARunOverAListStopsAtDamage: who goes on is not told of it twice. The lines
// of the caseload go on, each said to be damaged.
func TestARunOverAListStopsAtDamage(t *testing.T) {
	path := twoOfEach(t)
	for _, list := range []string{"summaries", "audit"} {
		changed(t, path, list, func(v []byte) []byte { v[0] ^= 1; return v })
	}
	err := reopened(t, path).View(context.Background(), func(r store.Reader) error {
		for name, times := range map[string][2]int{
			"all lines": {errorsOf(t, r.Summaries("")), 3}, "a team's lines": {errorsOf(t, r.Summaries("north")), 2}, "the audit trail": {errorsOf(t, r.AuditEntries(0)), 1},
		} {
			if times[0] != times[1] {
				t.Errorf("%s: %d errors, want %d", name, times[0], times[1])
			}
		}
		return nil
	})
	if err != nil {
		t.Error(err)
	}
}

// errorsOf counts the errors of a run, which is nothing else.
func errorsOf[T any](t *testing.T, run func(func(T, error) bool)) (n int) {
	t.Helper()
	for _, err := range run {
		if n++; !errors.Is(err, store.ErrDamaged) {
			t.Errorf("%v", err)
		}
	}
	return n
}

// TestPositionsBeyondAll are followed by nothing.
func TestPositionsBeyondAll(t *testing.T) {
	const last = 1<<63 - 1
	err := reopened(t, twoOfEach(t)).View(context.Background(), func(r store.Reader) error {
		for _, after := range []int64{5, 6, last - 1, last} {
			all, err := r.Entries(after, 9)
			ofTeam, more, err2 := r.EntriesOfTeam("north", after, 9)
			if list := append([]model.Entry{}, append(all, ofTeam...)...); len(list) > 0 || more || err != nil || err2 != nil {
				t.Errorf("after %d: %+v, more %v, %v %v", after, list, more, err, err2)
			}
		}
		return nil
	})
	if err != nil {
		t.Error(err)
	}
}

// TestNoPositionIsGivenTwice: how far a damaged last batch goes is not known, and
// who has read up to its end would never be given what follows inside it.
func TestNoPositionIsGivenTwice(t *testing.T) {
	path := twoOfEach(t)
	edit(t, path, damageSecond("log"))
	db := reopened(t, path)
	err := db.Update(context.Background(), func(w store.Writer) error {
		if head, err := w.Head(); head != 0 || !errors.Is(err, store.ErrDamaged) {
			t.Errorf("the last position is said to be %d (%v)", head, err)
		}
		_, err := w.Append(storetest.Batch("tab-c", 1, 1, "north", "c1"))
		return err
	})
	if !errors.Is(err, store.ErrDamaged) {
		t.Errorf("appending said %v", err)
	}
}

// TestALineThatMovedWhileItWasDamaged is in the list of its new team only: which
// list it was in is not known when it is written anew.
func TestALineThatMovedWhileItWasDamaged(t *testing.T) {
	path := twoOfEach(t)
	edit(t, path, damageSecond("summaries"))
	db := reopened(t, path)
	err := db.Update(context.Background(), func(w store.Writer) error {
		return w.SetSummary(store.Summary{Client: "c3", Team: "north"})
	})
	if err != nil {
		t.Fatal(err)
	}
	for team, want := range map[string]string{"north": "c1 c2 c3 ", "south": "", "": "c1 c2 c3 "} {
		err := db.View(context.Background(), func(r store.Reader) error {
			got := ""
			for line, err := range r.Summaries(team) {
				if err != nil {
					return err
				}
				got += line.Client + " "
			}
			if got != want {
				t.Errorf("team %q: %s, want %s", team, got, want)
			}
			return nil
		})
		if err != nil {
			t.Error(err)
		}
	}
}
