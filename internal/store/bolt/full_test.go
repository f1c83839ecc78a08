//go:build linux

package bolt

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"doorsill/internal/store"
)

// onFullDisk puts a file that takes nothing in the place of the reserve. An
// attempt to make the reserve fails, and takes that file away.
func onFullDisk(t *testing.T, path string) {
	t.Helper()
	if err := os.Symlink("/dev/full", path+".reserve"); err != nil {
		t.Fatal(err)
	}
}

// tried says whether the reserve was tried to be made.
func tried(path string) bool {
	_, err := os.Lstat(path + ".reserve")
	return errors.Is(err, os.ErrNotExist)
}

// TestARecordsFileOnAFullDisk is opened without its reserve, and says that there
// is no room until there is.
func TestARecordsFileOnAFullDisk(t *testing.T) {
	path := filepath.Join(t.TempDir(), "records.db")
	onFullDisk(t, path)
	db, err := Open(path, Options{NoSync: true, Reserve: 100_000})
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if !tried(path) {
		t.Error("what is left of the reserve is still there")
	}
	for range 2 {
		onFullDisk(t, path)
		if err := db.Room(); !errors.Is(err, store.ErrFull) {
			t.Errorf("on a full disk: %v", err)
		}
	}
	calls := 0
	err = db.Update(context.Background(), func(store.Writer) error { calls++; return syscall.ENOSPC })
	if calls != 1 || !errors.Is(err, store.ErrFull) {
		t.Errorf("without a reserve called %d times, %v", calls, err)
	}
	if err := db.Room(); err != nil {
		t.Errorf("with room again: %v", err)
	}
	if info, err := os.Stat(path + ".reserve"); err != nil || info.Size() != 100_000 {
		t.Errorf("the new reserve: %v, %v", info, err)
	}
}

// TestTheReserveComesBackWhenAsMuchIsLeft: when it would take the last of what is
// free, a single write could fill the disk again.
func TestTheReserveComesBackWhenAsMuchIsLeft(t *testing.T) {
	path := filepath.Join(t.TempDir(), "records.db")
	free, known := freeSpace(path)
	if !known || free == 0 {
		t.Fatalf("%d bytes free, known %v", free, known)
	}
	for _, tt := range []struct {
		part float64
		want bool
	}{{0.1, true}, {0.4, true}, {0.7, false}, {1.5, false}, {100, false}} {
		onFullDisk(t, path) // so that none of this size is made
		r := reserve{path: path + ".reserve", size: int64(math.Min(float64(free)*tt.part, math.MaxInt64/4)), spent: true}
		if r.restore() {
			t.Errorf("a reserve of %g of what is free was made", tt.part)
		}
		if tried(path) != tt.want {
			t.Errorf("a reserve of %g of what is free: tried %v, want %v", tt.part, !tt.want, tt.want)
		}
		_ = os.Remove(path + ".reserve") // where it was not tried
	}
}

// TestNoReserveIsTakenFromOthers: without a reserve of its own a store leaves a
// file of that name alone.
func TestNoReserveIsTakenFromOthers(t *testing.T) {
	path := filepath.Join(t.TempDir(), "records.db")
	if err := os.WriteFile(path+".reserve", []byte("of others"), 0o600); err != nil {
		t.Fatal(err)
	}
	db := opened(t, path)
	defer db.Close()
	calls := 0
	err := db.Update(context.Background(), func(store.Writer) error {
		calls++
		return fmt.Errorf("write: %w", syscall.EDQUOT)
	})
	if calls != 1 || !errors.Is(err, store.ErrFull) || tried(path) {
		t.Errorf("called %d times, %v, the file is gone: %v", calls, err, tried(path))
	}
	if err := db.Room(); err != nil {
		t.Errorf("a store without a reserve: %v", err)
	}
}

// TestFreeSpaceOfNothing is not known.
func TestFreeSpaceOfNothing(t *testing.T) {
	free, known := freeSpace(filepath.Join(t.TempDir(), "none", "records.db"))
	if free != 0 || known {
		t.Errorf("%d bytes free, known %v", free, known)
	}
}
