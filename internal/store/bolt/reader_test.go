package bolt_test

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/internal/store/storetest"
)

// TestFault35ALongReaderHoldsPages holds one moment of the store for long. The
// file takes new pages for what changes meanwhile and no more than that; once
// the reader is gone it uses them again and stops growing.
func TestFault35ALongReaderHoldsPages(t *testing.T) {
	path := filepath.Join(t.TempDir(), "records.db")
	db, err := bolt.Open(path, bolt.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	storetest.Watch(t, db)
	change := func(times int) {
		t.Helper()
		for i := range times {
			err := db.Update(context.Background(), func(w store.Writer) error {
				return w.SetTablet(store.Tablet{ID: "tab-a", Person: "p", Waiting: int64(i)})
			})
			if err != nil {
				t.Fatal(err)
			}
		}
	}
	const times = 500
	change(times)
	free := pages(t, path)

	held, release := make(chan struct{}), make(chan struct{})
	read := make(chan error, 1)
	go func() {
		read <- db.View(context.Background(), func(r store.Reader) error {
			before, err := r.Tablet("tab-a")
			close(held)
			<-release
			after, err2 := r.Tablet("tab-a")
			if before.Waiting != after.Waiting || err != nil || err2 != nil {
				t.Errorf("the moment changed under its reader: %v %v", before, after)
			}
			return nil
		})
	}()
	<-held
	if n := db.Readers(); n != 1 {
		t.Errorf("%d readers, want 1", n)
	}
	change(times)
	grown := pages(t, path) - free
	close(release)
	if err := <-read; err != nil {
		t.Fatal(err)
	}
	change(times)
	after := pages(t, path) - free
	t.Logf("%d changes: %d pages while a reader held on, %d after it", times, grown, after-grown)
	// A change of one small record rewrites three or four pages: the record's,
	// the root's, and the list of free pages, which itself grows with what is held.
	if grown < times || grown > 20*times {
		t.Errorf("the file grew by %d pages in %d changes under a reader", grown, times)
	}
	if after > grown+20 {
		t.Errorf("the file went on growing after the reader, by %d pages", after-grown)
	}
	if n := db.Readers(); n != 0 {
		t.Errorf("%d readers are left", n)
	}
}

// pages counts the pages of a file up to the last that was ever used.
func pages(t *testing.T, path string) int {
	t.Helper()
	return len(used(t, path)) / os.Getpagesize()
}
