package bolt_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"go.etcd.io/bbolt"

	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/internal/store/storetest"
)

// longLog is the path of a closed store whose log has batches of 250 positions up
// to a head.
func longLog(t *testing.T, head int64) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "records.db")
	db, err := bolt.Open(path, bolt.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	err = db.Update(context.Background(), func(w store.Writer) (err error) {
		for n := int64(1); n <= head; n += 250 {
			count := int(min(250, head-n+1))
			err = errors.Join(err, storetest.Push(w, storetest.Batch("tab-a", n, count, "north", "c1")))
		}
		return err
	})
	if err := errors.Join(err, db.Close()); err != nil {
		t.Fatal(err)
	}
	return path
}

// both changes both halves of a list, so that they agree.
func both(list string, change func(b *bbolt.Bucket) error) func(tx *bbolt.Tx) error {
	return func(tx *bbolt.Tx) error {
		return errors.Join(change(tx.Bucket([]byte(list))), change(tx.Bucket([]byte(list+"/sums"))))
	}
}

// TestTheEndOfTheLogIsCheckedAtTheStart, and nothing is added behind one that is
// damaged, though the last batch can be read. What is written of people goes on.
func TestTheEndOfTheLogIsCheckedAtTheStart(t *testing.T) {
	gone := func(key []byte) func(b *bbolt.Bucket) error {
		return func(b *bbolt.Bucket) error { return b.Delete(key) }
	}
	of := func(name string, n uint64) []byte { return append([]byte(name+"\x00"), number(n)...) }
	for name, tt := range map[string]struct {
		damage func(tx *bbolt.Tx) error
		sound  bool
	}{
		"nothing":                              {func(*bbolt.Tx) error { return nil }, true},
		"a batch that is gone":                 {both("log", gone(number(1001))), false},
		"a key that is gone from one half":     {func(tx *bbolt.Tx) error { return tx.Bucket([]byte("log")).Delete(number(1001)) }, false},
		"a checksum that is gone":              {func(tx *bbolt.Tx) error { return tx.Bucket([]byte("log/sums")).Delete(number(1251)) }, false},
		"a batch that is damaged":              {func(tx *bbolt.Tx) error { return flipIn(tx.Bucket([]byte("log")), number(1001)) }, false},
		"the first that is checked":            {func(tx *bbolt.Tx) error { return flipIn(tx.Bucket([]byte("log")), number(501)) }, false},
		"one that is not checked":              {func(tx *bbolt.Tx) error { return flipIn(tx.Bucket([]byte("log")), number(251)) }, true},
		"the last batch":                       {func(tx *bbolt.Tx) error { return flipIn(tx.Bucket([]byte("log")), number(1251)) }, false},
		"a number that leads nowhere":          {both("numbers", gone(of("tab-a", 1001))), false},
		"a number that can not be read":        {func(tx *bbolt.Tx) error { return flipIn(tx.Bucket([]byte("numbers")), of("tab-a", 1001)) }, false},
		"a team's list without it":             {both("by-team", gone(of("north", 1001))), false},
		"a team's list that can not be read":   {func(tx *bbolt.Tx) error { return flipIn(tx.Bucket([]byte("by-team")), of("north", 1001)) }, false},
		"a client's list without it":           {both("by-subject", gone(of("c1", 1001))), false},
		"a client's list that can not be read": {func(tx *bbolt.Tx) error { return flipIn(tx.Bucket([]byte("by-subject")), of("c1", 1001)) }, false},
	} {
		path := longLog(t, 1500)
		edit(t, path, tt.damage)
		db := reopened(t, path)
		if err := db.Sound(); tt.sound != (err == nil) || !tt.sound && !errors.Is(err, store.ErrDamaged) {
			t.Errorf("%s: %v", name, err)
		}
		err := db.Update(context.Background(), func(w store.Writer) error {
			_, err := w.Append(storetest.Batch("tab-b", 1, 1, "north", "c1"))
			return err
		})
		if tt.sound != (err == nil) || !tt.sound && !errors.Is(err, store.ErrDamaged) {
			t.Errorf("%s: appending said %v", name, err)
		}
		if err := db.Update(context.Background(), writes["SetTeam"]); err != nil {
			t.Errorf("%s: a team: %v", name, err)
		}
	}
}

// flipIn changes a bit of a value.
func flipIn(b *bbolt.Bucket, key []byte) error {
	value := bytes.Clone(b.Get(key))
	if len(value) == 0 {
		return fmt.Errorf("nothing is under %q", key)
	}
	value[0] ^= 4
	return b.Put(key, value)
}

// TestNothingIsAddedToAFileThatWasCut: the pages at its end are free ones here, so
// that all of it can be read.
func TestNothingIsAddedToAFileThatWasCut(t *testing.T) {
	path := longLog(t, 2000)
	open := func() *bolt.DB {
		t.Helper()
		db, err := bolt.Open(path, bolt.Options{NoSync: true})
		if err != nil {
			t.Fatal(err)
		}
		return db
	}
	push := func(db *bolt.DB, n int64) error {
		return db.Update(context.Background(), func(w store.Writer) error {
			return storetest.Push(w, storetest.Batch("tab-a", n, 1, "north", "c1"))
		})
	}
	// The file has its head's pages and no more.
	whole := bytes.Buffer{}
	db := open()
	_, err := db.WriteTo(&whole)
	if err := errors.Join(err, db.Close(), os.WriteFile(path, whole.Bytes(), 0o600)); err != nil {
		t.Fatal(err)
	}
	db = open()
	if err := errors.Join(db.Sound(), push(db, 2001), db.Close()); err != nil {
		t.Fatalf("a whole file: %v", err)
	}
	if err := os.WriteFile(path, whole.Bytes()[:whole.Len()-os.Getpagesize()], 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(path + ".commit"); err != nil && !errors.Is(err, fs.ErrNotExist) {
		t.Fatal(err)
	}
	db = open()
	defer func() { _ = db.Close() }()
	if err := db.Sound(); !errors.Is(err, store.ErrDamaged) {
		t.Errorf("a file that was cut is sound: %v", err)
	}
	if err := push(db, 2001); !errors.Is(err, store.ErrDamaged) {
		t.Errorf("an entry was added to it: %v", err)
	}
}

// TestShortLogsAreSound: one that is empty, and those of about as many positions
// as are checked.
func TestShortLogsAreSound(t *testing.T) {
	for _, head := range []int64{0, 1, 250, 999, 1000, 1001} {
		if err := reopened(t, longLog(t, head)).Sound(); err != nil {
			t.Errorf("%d positions: %v", head, err)
		}
	}
}

// TestAListThatCountsOtherwise at the end of the log is found at the start in a
// file of an earlier format, whose lists had no checksums.
func TestAListThatCountsOtherwise(t *testing.T) {
	for list, key := range map[string][]byte{
		"by-team": append([]byte("north\x00"), number(4)...), "by-subject": append([]byte("c2\x00"), number(4)...), "numbers": append([]byte("tab-b\x00"), number(1)...),
	} {
		path := twoOfEach(t)
		edit(t, path, func(tx *bbolt.Tx) error { return tx.Bucket([]byte(list)).Put(key, []byte{3, 3, 0}) })
		asBefore(t, path, "doorsill-records/2")
		if err := reopened(t, path).Sound(); !errors.Is(err, store.ErrDamaged) {
			t.Errorf("%s: %v", list, err)
		}
	}
}

// TestSoundWhileServing looks at what is in the file now.
func TestSoundWhileServing(t *testing.T) {
	for name, damage := range map[string]func(tx *bbolt.Tx) error{
		"the name of the log": func(tx *bbolt.Tx) error { return flipIn(tx.Bucket([]byte("meta")), []byte("log-id")) },
		"the last batch":      func(tx *bbolt.Tx) error { return flipIn(tx.Bucket([]byte("log")), number(4)) },
		"the audit trail":     func(tx *bbolt.Tx) error { return flipIn(tx.Bucket([]byte("audit")), number(2)) },
	} {
		db := reopened(t, twoOfEach(t))
		if err := db.Sound(); err != nil {
			t.Fatal(err)
		}
		if err := db.Library().Update(damage); err != nil {
			t.Fatal(err)
		}
		if err := db.Sound(); !errors.Is(err, store.ErrDamaged) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
