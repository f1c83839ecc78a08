package bolt

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"testing"

	"doorsill/internal/store"
)

// failingAt is a file of which one read fails.
type failingAt struct {
	io.ReaderAt
	left int
}

var errDisk = errors.New("the disk does not answer")

func (f *failingAt) ReadAt(p []byte, at int64) (int, error) {
	if f.left--; f.left == 0 {
		return 0, errDisk
	}
	return f.ReaderAt.ReadAt(p, at)
}

// TestEachReadOfInspectMayFail: what could not be read is an error of the disk.
// The file may be in order, so all that is said of it is what was not reached.
func TestEachReadOfInspectMayFail(t *testing.T) {
	db := opened(t, filepath.Join(t.TempDir(), "records.db"))
	err := db.Update(context.Background(), func(w store.Writer) (err error) {
		for i := range 500 {
			err = errors.Join(err, w.SetTeam(store.Team{ID: fmt.Sprintf("team-%d", i), Name: "Invented"}))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	var data bytes.Buffer
	if _, err := db.WriteTo(&data); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	inspect := func(failing int) (*walker, bool) {
		file := &failingAt{bytes.NewReader(data.Bytes()), failing}
		w := &walker{in: file, length: uint64(data.Len()), used: map[uint64]bool{}, free: map[uint64]bool{}}
		w.file()
		return w, file.left <= 0
	}
	failed := 0
	for {
		w, reached := inspect(failed + 1)
		if !reached {
			if w.err != nil || len(w.faults) > 0 {
				t.Errorf("without a failing read: %v, %q", w.err, w.faults)
			}
			break
		}
		failed++
		if !errors.Is(w.err, errDisk) {
			t.Errorf("read %d: %v", failed, w.err)
		}
		if heads := fmt.Sprintf("Head %d of the file can not be read.", failed-1); failed <= 2 && !strings.HasPrefix(strings.Join(w.faults, " "), heads) {
			t.Errorf("read %d: %q, want %q", failed, w.faults, heads)
		}
		for _, fault := range w.faults {
			if !strings.HasSuffix(fault, "is neither in use nor free.") && !strings.Contains(fault, "ead 0 of the file") && !strings.Contains(fault, "ead 1 of the file") {
				t.Errorf("read %d: %s", failed, fault)
			}
		}
	}
	if failed < 10 {
		t.Errorf("%d reads in all", failed)
	}
}
