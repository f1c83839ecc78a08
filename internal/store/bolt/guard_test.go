package bolt

import (
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"testing"

	"go.etcd.io/bbolt"

	"doorsill/internal/store"
	"doorsill/internal/store/storetest"
)

func opened(t *testing.T, path string) *DB {
	t.Helper()
	db, err := Open(path, Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	return db
}

// TestWhatTheLibraryPanicsAtIsDamage, whether it says so itself or walks into
// something that is not there.
func TestWhatTheLibraryPanicsAtIsDamage(t *testing.T) {
	db := opened(t, filepath.Join(t.TempDir(), "records.db"))
	defer db.Close()
	for name, do := range map[string]func(*bbolt.Tx) error{
		"its own word":       func(tx *bbolt.Tx) error { return tx.Commit() }, // not within a view
		"no list":            func(tx *bbolt.Tx) error { tx.Bucket([]byte("none")).Get([]byte("key")); return nil },
		"no list to look in": func(tx *bbolt.Tx) error { tx.Bucket([]byte("none")).Cursor().Seek([]byte("key")); return nil },
	} {
		if err := guarded(func() error { return db.db.View(do) }); !errors.Is(err, store.ErrDamaged) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestAViewWithinAPanic of the library that is under way elsewhere is a view as
// any other.
func TestAViewWithinAPanic(t *testing.T) {
	db := opened(t, filepath.Join(t.TempDir(), "records.db"))
	defer db.Close()
	other, err := bbolt.Open(filepath.Join(t.TempDir(), "other.db"), 0o600, nil)
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	defer func() {
		if err := db.View(context.Background(), func(store.Reader) error { return nil }); err != nil {
			t.Error(err)
		}
		if recover() == nil {
			t.Error("the library did not panic")
		}
	}()
	_ = other.View(func(tx *bbolt.Tx) error { return tx.Commit() })
}

// TestAGoroutineThatEndsWithinAView ends.
func TestAGoroutineThatEndsWithinAView(t *testing.T) {
	db := opened(t, filepath.Join(t.TempDir(), "records.db"))
	defer db.Close()
	ended := make(chan bool)
	go func() {
		defer close(ended)
		_ = db.View(context.Background(), func(store.Reader) error { runtime.Goexit(); return nil })
	}()
	<-ended
	if err := db.View(context.Background(), func(store.Reader) error { return nil }); err != nil {
		t.Error(err)
	}
}

// TestAFileThatIsCutWhileItIsOpen: its pages are read through memory that is no
// longer there, by the library and by this package, and the program goes on.
func TestAFileThatIsCutWhileItIsOpen(t *testing.T) {
	path := filepath.Join(t.TempDir(), "records.db")
	db := opened(t, path)
	err := db.Update(context.Background(), func(w store.Writer) error {
		// Over many pages, so that where it begins can be there and the rest not.
		return storetest.Push(w, storetest.Batch("tab-a", 1, 2000, "north", "c1"))
	})
	if err := errors.Join(err, db.Close()); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	const first, last, step = 0, 90, 4
	damaged := 0
	for pages := first; pages < last; pages += step {
		switch err := cutWhileOpen(t, data, int64(pages*os.Getpagesize())); {
		case errors.Is(err, store.ErrDamaged):
			damaged++
		case err != nil:
			t.Errorf("cut after %d pages: %v", pages, err)
		}
	}
	if least := (last - first) / step / 2; damaged < least {
		t.Errorf("%d cuts are noticed, want %d", damaged, least)
	}
}

// cutWhileOpen opens a file, cuts it, and reads all of it.
func cutWhileOpen(t *testing.T, data []byte, size int64) error {
	t.Helper()
	copied := filepath.Join(t.TempDir(), "cut.db")
	if err := os.WriteFile(copied, data, 0o600); err != nil {
		t.Fatal(err)
	}
	db := opened(t, copied)
	defer db.Close()
	if err := os.Truncate(copied, size); err != nil {
		t.Fatal(err)
	}
	err := db.View(context.Background(), func(r store.Reader) error { _, err := r.Entries(0, 10_000); return err })
	if debug.SetPanicOnFault(false) {
		t.Error("after a view, memory that is not there goes on being a panic")
	}
	return err
}

// TestAFileThatIsGone: once not even its beginning can be read, each call says so
// and none waits for a lock that is never let go.
func TestAFileThatIsGone(t *testing.T) {
	empty := func(store.Reader) error { return nil }
	calls := map[string]func(db *DB) error{
		"View":    func(db *DB) error { return db.View(context.Background(), empty) },
		"Copy":    func(db *DB) error { return db.Copy(func(store.Copy) error { return nil }) },
		"WriteTo": func(db *DB) error { _, err := db.WriteTo(io.Discard); return err },
		"Update":  func(db *DB) error { return db.Update(context.Background(), func(store.Writer) error { return nil }) },
	}
	for first := range calls {
		path := filepath.Join(t.TempDir(), "records.db")
		db := opened(t, path)
		damage := func(store.Reader) error { return store.ErrDamaged }
		if err := db.View(context.Background(), damage); !errors.Is(err, store.ErrDamaged) {
			t.Errorf("a damaged record: %v", err)
		}
		if err := db.View(context.Background(), empty); err != nil {
			t.Errorf("after a damaged record: %v", err)
		}
		if err := os.Truncate(path, 0); err != nil {
			t.Fatal(err)
		}
		for range 2 {
			if err := calls[first](db); !errors.Is(err, store.ErrDamaged) {
				t.Errorf("%s: %v", first, err)
			}
		}
		for name, call := range calls {
			if err := call(db); !errors.Is(err, store.ErrDamaged) {
				t.Errorf("%s after %s: %v", name, first, err)
			}
		}
		if err := db.Close(); !errors.Is(err, store.ErrDamaged) {
			t.Errorf("Close after %s: %v", first, err)
		}
	}
}

// TestAClosedStoreStaysClosed, and is not taken for a damaged one.
func TestAClosedStoreStaysClosed(t *testing.T) {
	db := opened(t, filepath.Join(t.TempDir(), "records.db"))
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	for range 2 {
		if err := db.View(context.Background(), func(store.Reader) error { return nil }); !errors.Is(err, store.ErrClosed) {
			t.Errorf("View: %v", err)
		}
		if err := db.Close(); err != nil {
			t.Errorf("Close: %v", err)
		}
	}
}
