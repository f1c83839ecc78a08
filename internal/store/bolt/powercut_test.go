package bolt_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/internal/store/storetest"
)

// sector is what a disk writes whole or not at all.
const sector = 512

// TestFault31PowerCut makes the files that a power cut can leave. Killing a
// process loses nothing that was written; a power cut loses any part of what
// was written since the disk was last waited for. The library writes a commit's
// pages, waits, writes one of the two heads, and waits again. So before the
// first wait any sectors of the new pages may be there, and after it any of
// the head. In the first case the file must be as before the commit, in the
// second as before or as after it, and never anything else.
func TestFault31PowerCut(t *testing.T) {
	seed := rand.Uint64()
	random := rand.New(rand.NewPCG(seed, 31))
	path := filepath.Join(t.TempDir(), "records.db")
	db, err := bolt.Open(path, bolt.Options{})
	if err != nil {
		t.Fatal(err)
	}
	images, next, before := 0, int64(1), used(t, path)
	for commit := range 12 {
		count := 1 + random.IntN(9)
		err := db.Update(context.Background(), func(w store.Writer) error {
			return storetest.Push(w, storetest.Batch("tab-a", next, count, "north", fmt.Sprintf("c%d", commit/5)))
		})
		if err != nil {
			t.Fatal(err)
		}
		after := used(t, path)
		for range 2 {
			pages := cut(before, after, random, false)
			wantAcked(t, pages, next-1, next-1)
			head := cut(keepHeads(before, after), after, random, true)
			wantAcked(t, head, next-1, next+int64(count)-1)
			images += 2
		}
		wantAcked(t, after, next+int64(count)-1, next+int64(count)-1)
		next += int64(count)
		before = after
		if t.Failed() {
			t.Fatalf("seed %d, commit %d", seed, commit)
		}
	}
	t.Logf("seed %d: %d files that a power cut could leave", seed, images)
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
}

// used is the file up to its last page in use; what follows is empty.
func used(t *testing.T, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	size := os.Getpagesize()
	return data[:(len(bytes.TrimRight(data, "\x00"))/size+1)*size]
}

// heads is where the two heads end.
func heads() int { return 2 * os.Getpagesize() }

// keepHeads is the file after its pages were written and before its heads were.
func keepHeads(before, after []byte) []byte {
	return append(bytes.Clone(before[:heads()]), after[heads():]...)
}

// cut is the file with some of the sectors that differ: of the heads, or of
// everything but the heads.
func cut(before, after []byte, random *rand.Rand, ofHeads bool) []byte {
	out := append(bytes.Clone(before), make([]byte, max(0, len(after)-len(before)))...)
	from, to := heads(), len(after)
	if ofHeads {
		from, to = 0, heads()
	}
	likely := random.IntN(5) // of 4: from none to all
	for at := from; at < to; at += sector {
		if random.IntN(4) < likely {
			copy(out[at:at+sector], after[at:at+sector])
		}
	}
	return out
}

// wantAcked wants a file that opens, holds together, and ends at one of two
// receipts.
func wantAcked(t *testing.T, data []byte, low, high int64) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "left.db")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	db, err := bolt.Open(path, bolt.Options{NoSync: true})
	if err != nil {
		t.Error(err)
		return
	}
	acked := int64(0)
	err = db.View(context.Background(), func(r store.Reader) error {
		tablet, err := r.Tablet("tab-a")
		if errors.Is(err, store.ErrNotFound) {
			return nil
		}
		acked = tablet.Ack
		return err
	})
	if err := errors.Join(err, storetest.Check(db), db.Close()); err != nil {
		t.Error(err)
	}
	if acked != low && acked != high {
		t.Errorf("receipt %d, want %d or %d", acked, low, high)
	}
}
