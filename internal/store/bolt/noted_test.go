package bolt_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"go.etcd.io/bbolt"

	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
)

// newestHead is where the head of the later commit begins.
func newestHead(t *testing.T, path string) int64 {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	commit := func(at int) uint64 { return binary.NativeEndian.Uint64(data[at+16+48:]) }
	if size := os.Getpagesize(); commit(size) > commit(0) {
		return int64(size)
	}
	return 0
}

// flipAt turns a bit of a file over.
func flipAt(t *testing.T, path string, at int64) {
	t.Helper()
	file, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	var one [1]byte
	_, err = file.ReadAt(one[:], at)
	one[0] ^= 1
	_, err2 := file.WriteAt(one[:], at)
	if err := errors.Join(err, err2, file.Close()); err != nil {
		t.Fatal(err)
	}
}

const inHead = 16 + 20 // within the head of a head page

// TestADamagedHeadIsNoOlderFile: with the newest head damaged the file looks as it
// was a commit before, and its last positions would be given again.
func TestADamagedHeadIsNoOlderFile(t *testing.T) {
	path := twoOfEach(t)
	at := newestHead(t, path) + inHead
	flipAt(t, path, at)
	for _, readOnly := range []bool{true, false} {
		db, err := bolt.Open(path, bolt.Options{ReadOnly: readOnly})
		if !errors.Is(err, store.ErrDamaged) || !strings.Contains(err.Error(), "its head is damaged, or an older copy was put in its place") {
			t.Errorf("read only %v: %v", readOnly, err)
		}
		if err == nil {
			_ = db.Close()
		}
	}
	flipAt(t, path, at)
	older := int64(os.Getpagesize()) - newestHead(t, path) + inHead
	flipAt(t, path, older)
	reopened(t, path) // the older head is of no use to anybody
}

// TestAHeadThatIsDamagedWhileServing: who asks is told, and nothing is written
// from then on, even if the head is well again.
func TestAHeadThatIsDamagedWhileServing(t *testing.T) {
	read := func(r store.Reader) error { _, err := r.Entries(0, 9); return err }
	for _, first := range []string{"read", "written"} {
		path := twoOfEach(t)
		db := reopened(t, path)
		if err := errors.Join(db.Update(context.Background(), writes["SetTeam"]), db.Sound()); err != nil {
			t.Fatal(err)
		}
		at := newestHead(t, path) + inHead
		flipAt(t, path, at)
		if first == "read" {
			if err := db.View(context.Background(), read); !errors.Is(err, store.ErrDamaged) {
				t.Errorf("reading: %v", err)
			}
		}
		if err := db.Update(context.Background(), writes["SetTeam"]); !errors.Is(err, store.ErrDamaged) {
			t.Errorf("writing: %v", err)
		}
		if err := db.Copy(func(store.Copy) error { return nil }); !errors.Is(err, store.ErrDamaged) {
			t.Errorf("copying: %v", err)
		}
		flipAt(t, path, at)
		if err := db.View(context.Background(), read); err != nil {
			t.Errorf("reading, once it is well: %v", err)
		}
		if err := db.Update(context.Background(), writes["SetTeam"]); !errors.Is(err, store.ErrDamaged) {
			t.Errorf("writing, once it is well: %v", err)
		}
		if err := db.Sound(); !errors.Is(err, store.ErrDamaged) {
			t.Errorf("sound: %v", err)
		}
	}
}

// threeCommitsOn opens a store and makes three commits; before is the file as it
// was without them.
func threeCommitsOn(t *testing.T, path string) (db *bolt.DB, before []byte) {
	t.Helper()
	before, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	db = reopened(t, path)
	for range 3 {
		if err := db.Update(context.Background(), writes["SetTeam"]); err != nil {
			t.Fatal(err)
		}
	}
	return db, before
}

// TestWhatIsNotedOfCommits is the newest of a log by its name. A note that can
// not be read, is of another log or is not there says nothing.
func TestWhatIsNotedOfCommits(t *testing.T) {
	path := twoOfEach(t)
	db, before := threeCommitsOn(t, path)
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	note, err := os.ReadFile(path + ".commit")
	if err != nil || len(note) != 256 {
		t.Fatalf("noted: %q, %v", note, err)
	}
	ofLine := func(line string) []byte {
		return append([]byte(line+"\n"+bolt.NoteSum(line)+"\n"), bytes.Repeat([]byte{' '}, 200)...)
	}
	log := strings.Fields(string(note))[1]
	if err := os.WriteFile(path, before, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name    string
		note    []byte
		refused bool
	}{
		{"the note", note, true},
		{"a note of this commit", ofLine("doorsill-commit/1 " + log + " 2"), false},
		{"a note of a later commit", ofLine("doorsill-commit/1 " + log + " 900"), true},
		{"a note of another log", ofLine("doorsill-commit/1 other 900"), false},
		{"a note of a later version", ofLine("doorsill-commit/2 " + log + " 900"), false},
		{"a note that was changed", bytes.Replace(note, []byte(" "), []byte(" 9"), 2), false},
		{"a note that is cut", note[:20], false},
		{"a note of nothing", nil, false},
	} {
		if err := os.WriteFile(path+".commit", tt.note, 0o600); err != nil {
			t.Fatal(err)
		}
		db, err := bolt.Open(path, bolt.Options{ReadOnly: true})
		if tt.refused != errors.Is(err, store.ErrDamaged) || !tt.refused && err != nil {
			t.Errorf("%s: %v", tt.name, err)
		}
		if err == nil {
			_ = db.Close()
		}
	}
}

// TestANoteThatIsWanting is told, but not of a file that never had one.
func TestANoteThatIsWanting(t *testing.T) {
	for _, tt := range []struct {
		name, said string
		change     func(path string) error
	}{
		{"as it is", "", func(string) error { return nil }},
		{"damaged", "records.db.commit is damaged", func(path string) error { return os.WriteFile(path+".commit", []byte("scribble"), 0o600) }},
		{"missing", "records.db.commit is missing", func(path string) error { return os.Remove(path + ".commit") }},
		{"emptied", "records.db.commit is missing", func(path string) error { return os.Truncate(path+".commit", 0) }},
		{"a new file", "", func(path string) error { return errors.Join(os.Remove(path+".commit"), os.Remove(path)) }},
	} {
		for _, readOnly := range []bool{true, false} {
			path := twoOfEach(t)
			if err := tt.change(path); err != nil {
				t.Fatal(err)
			}
			if _, err := os.Stat(path); err != nil && readOnly {
				continue
			}
			db, err := bolt.Open(path, bolt.Options{ReadOnly: readOnly})
			if err != nil {
				t.Fatal(err)
			}
			err = db.Noted()
			if (err == nil) != (tt.said == "") || err != nil && !strings.HasPrefix(err.Error(), tt.said) {
				t.Errorf("%s, read only %v: %v", tt.name, readOnly, err)
			}
			if err := db.Close(); err != nil {
				t.Fatal(err)
			}
			if !readOnly {
				if err := reopened(t, path).Noted(); err != nil {
					t.Errorf("%s, opened again: %v", tt.name, err)
				}
			}
		}
	}
}

// TestAFileWhoseMakerWasKilled before anything was noted is not told of.
func TestAFileWhoseMakerWasKilled(t *testing.T) {
	path := filepath.Join(t.TempDir(), "records.db")
	db := reopened(t, path)
	if err := errors.Join(db.Close(), os.Truncate(path+".commit", 0)); err != nil {
		t.Fatal(err)
	}
	if err := reopened(t, path).Noted(); err != nil {
		t.Error(err)
	}
}

// TestANoteThatCanNotBeMade is said when the records are opened.
func TestANoteThatCanNotBeMade(t *testing.T) {
	path := twoOfEach(t)
	if err := errors.Join(os.Remove(path+".commit"), os.Mkdir(path+".commit", 0o700)); err != nil {
		t.Fatal(err)
	}
	if db, err := bolt.Open(path, bolt.Options{}); err == nil || errors.Is(err, store.ErrDamaged) {
		t.Errorf("said %v", err)
		_ = db.Close()
	}
}

// TestAFileThatIsEmptiedIsNotANewOne, where something was noted of it.
func TestAFileThatIsEmptiedIsNotANewOne(t *testing.T) {
	path := twoOfEach(t)
	edit(t, path, func(tx *bbolt.Tx) error {
		var names [][]byte
		_ = tx.ForEach(func(name []byte, _ *bbolt.Bucket) error { names = append(names, bytes.Clone(name)); return nil })
		var err error
		for _, name := range names {
			err = errors.Join(err, tx.DeleteBucket(name))
		}
		return err
	})
	if _, err := bolt.Open(path, bolt.Options{}); !errors.Is(err, store.ErrForeign) {
		t.Errorf("said %v", err)
	}
}

// TestALogThatIsNamedAnew, as after a restore, has commits of its own.
func TestALogThatIsNamedAnew(t *testing.T) {
	path := twoOfEach(t)
	db, older := threeCommitsOn(t, path)
	if err := errors.Join(db.Update(context.Background(), writes["SetLogID"]), db.Close(), os.WriteFile(path, older, 0o600)); err != nil {
		t.Fatal(err)
	}
	reopened(t, path)
}
