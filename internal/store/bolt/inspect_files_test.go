package bolt_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"go.etcd.io/bbolt"

	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
)

// TestManyFaultsAreCutShort: no more than twenty are named.
func TestManyFaultsAreCutShort(t *testing.T) {
	f := large(t)
	_, freelist, _ := f.newest()
	put16(f.page(f.branchOf("log"))[10:], 0) // what hung on it is now neither
	put16(f.page(freelist)[10:], 0)          // nor are those that were free
	if faults := f.faults(); len(faults) != 20 {
		t.Errorf("%d faults are named", len(faults))
	}
}

// TestInspectOfOtherFiles: one that is not there is an error, a text and an
// empty file are named as what they are.
func TestInspectOfOtherFiles(t *testing.T) {
	if _, err := bolt.Inspect(filepath.Join(t.TempDir(), "none.db")); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("no file: %v", err)
	}
	folder := t.TempDir()
	for i := range 300 { // so many that the folder itself is as long as a page
		if err := os.WriteFile(filepath.Join(folder, fmt.Sprintf("a-file-with-a-long-name-%d", i)), nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	info, err := os.Stat(folder)
	if err != nil {
		t.Fatal(err)
	}
	if faults, err := bolt.Inspect(folder); err == nil && info.Size() >= int64(os.Getpagesize()) {
		t.Errorf("a folder: %q", faults)
	}
	for name, data := range map[string][]byte{"empty": nil, "a text": []byte(strings.Repeat("not records\n", 20_000))} {
		f := &pageFile{t, data, os.Getpagesize()}
		if faults := f.faults(); len(faults) != 1 || !strings.HasPrefix(faults[0], "Neither head") {
			t.Errorf("%s: %q", name, faults)
		}
	}
}

// TestTheNewerHeadCounts: the other is of the commit before, and what it names
// need not be there any more.
func TestTheNewerHeadCounts(t *testing.T) {
	whole := large(t)
	root, freelist, limit := whole.newest()
	set := func(f *pageFile, id, commit, root uint64) {
		m := f.page(id)[16:]
		put64(m[16:], root)
		put64(m[32:], freelist)
		put64(m[40:], limit)
		put64(m[48:], commit)
		f.reseal(id)
	}
	for _, commits := range [][2]uint64{{8, 9}, {9, 8}, {255, 256}, {256, 255}, {511, 1024}, {1024, 511}, {1 << 20, 3}, {3, 1 << 20}, {7, 7}} {
		for right := range uint64(2) {
			f := whole.clone()
			set(f, right, commits[right], root)
			set(f, 1-right, commits[1-right], limit) // outside
			counts := commits[right] > commits[1-right] || commits[0] == commits[1] && right == 0
			if faults := f.faults(); (len(faults) == 0) != counts {
				t.Errorf("commits %d and %d, of which head %d is right: %.2q", commits[0], commits[1], right, faults)
			}
		}
	}
}

// TestPagesOfOtherSizes: the file may have been made on another machine.
func TestPagesOfOtherSizes(t *testing.T) {
	for size := 1 << 10; size <= 1<<16; size *= 2 {
		if size == 1<<11 {
			continue // no machine has such
		}
		path := filepath.Join(t.TempDir(), "records.db")
		db, err := bbolt.Open(path, 0o600, &bbolt.Options{NoSync: true, PageSize: size})
		if err != nil {
			t.Fatal(err)
		}
		if err := db.Close(); err != nil {
			t.Fatal(err)
		}
		err = reopened(t, path).Update(context.Background(), func(w store.Writer) (err error) {
			for i := range 500 {
				err = errors.Join(err, w.SetTeam(store.Team{ID: fmt.Sprintf("team-%d", i), Name: "Invented"}))
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		if faults, err := bolt.Inspect(path); len(faults) > 0 || err != nil {
			t.Errorf("pages of %d bytes: %.2q, %v", size, faults, err)
		}
	}
}

// TestALongListOfFreePages: where its two bytes are not enough for how many there
// are, the first number of the list says it.
func TestALongListOfFreePages(t *testing.T) {
	whole := large(t)
	_, freelist, _ := whole.newest()
	count := int(u16(whole.page(freelist)[10:]))
	for n, want := range map[uint64]string{
		uint64(count): "", uint64(count) - 1: "is neither in use nor free", uint64(count) + 1: "The list of free pages names page 0",
		1 << 20: "The list of free pages is longer than its page.", 1 << 63: "The list of free pages is longer than its page.",
	} {
		f := whole.clone()
		page := f.page(freelist)
		put16(page[10:], 0xFFFF)
		copy(page[24:], page[16:16+8*count])
		clear(page[24+8*count:])
		put64(page[16:], n)
		faults := f.faults()
		if want == "" && len(faults) > 0 || want != "" && (len(faults) == 0 || !strings.Contains(faults[0], want)) {
			t.Errorf("%d of %d pages: %.2q, want %q", n, count, faults, want)
		}
	}
}
