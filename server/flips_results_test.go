package server

import (
	"bytes"
	"encoding/binary"
	"os"
	"path/filepath"
	"testing"

	"go.etcd.io/bbolt"
)

// resultPlaces are the places of a file from which the results of visits are
// read: the pages that lead there, and what belongs to one visit alone.
type resultPlaces struct {
	pages map[int64]bool
	// own is where the keys, values and checksums of a visit lie.
	own map[string][]places
}

// places are the bytes from the first on and before the second.
type places [2]int64

// of says whether a byte that is damaged can make a visit's result unreadable: it
// is the result's own, or leads to it. What is another visit's is neither.
func (r resultPlaces) of(at int64, visit string) bool {
	for whose, spans := range r.own {
		for _, s := range spans {
			if s[0] <= at && at < s[1] {
				return whose == visit
			}
		}
	}
	return r.pages[at/int64(os.Getpagesize())]
}

// findResults looks through the file's pages as the library lays them out: id,
// kind, count and overflow in front, then elements of 16 bytes.
func findResults(t *testing.T, data []byte) resultPlaces {
	t.Helper()
	path := filepath.Join(t.TempDir(), RecordsFile)
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	db, err := bbolt.Open(path, 0o600, &bbolt.Options{ReadOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	found := resultPlaces{pages: map[int64]bool{}, own: map[string][]places{}}
	err = db.View(func(tx *bbolt.Tx) error {
		found.follow(data, int64(tx.Cursor().Bucket().Root()), false)
		for _, half := range []string{"results", "results/sums"} {
			if root := tx.Bucket([]byte(half)).Root(); root != 0 { // else it lies on a page of the root
				found.follow(data, int64(root), true)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return found
}

// follow notes the pages of a tree, and what each key of it owns if it is one of
// results.
func (r resultPlaces) follow(data []byte, id int64, owned bool) {
	const leaf = 2
	begin := id * int64(os.Getpagesize())
	page := data[begin:]
	u32 := func(at int64) int64 { return int64(binary.NativeEndian.Uint32(page[at:])) }
	for i := range 1 + u32(12) {
		r.pages[id+i] = true
	}
	for i := range int64(binary.NativeEndian.Uint16(page[10:])) {
		e := 16 + 16*i
		if binary.NativeEndian.Uint16(page[8:]) != leaf {
			r.follow(data, int64(binary.NativeEndian.Uint64(page[e+8:])), owned)
			continue
		}
		if key := e + u32(e+4); owned {
			visit := string(bytes.Clone(page[key:][:u32(e+8)]))
			r.own[visit] = append(r.own[visit], places{begin + key, begin + key + u32(e+8) + u32(e+12)})
		}
	}
}
