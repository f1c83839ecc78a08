package bolt_test

import (
	"bytes"
	"context"
	"encoding/hex"
	"errors"
	"fmt"
	"hash/crc32"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"testing/iotest"

	"go.etcd.io/bbolt"

	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/internal/store/storetest"
)

// TestTheReserveIsSpentOnce: an update without space is called a second time
// once the reserve was let go, and no third; when there is space again, the
// reserve comes back.
func TestTheReserveIsSpentOnce(t *testing.T) {
	const size = 1<<16 + 1 // one byte more than the piece that is written
	for _, full := range []error{store.ErrFull, fmt.Errorf("%w while it was written", syscall.ENOSPC), syscall.ENOSPC, syscall.EDQUOT, syscall.EFBIG, errors.New("write records: no space left on device")} {
		path := filepath.Join(t.TempDir(), "records.db")
		db, err := bolt.Open(path, bolt.Options{NoSync: true, Reserve: size})
		if err != nil {
			t.Fatal(err)
		}
		reserve := func() int64 {
			info, err := os.Stat(path + ".reserve")
			if err != nil {
				return 0
			}
			return info.Size()
		}
		update := func() (calls int, err error) {
			err = db.Update(context.Background(), func(store.Writer) error { calls++; return full })
			return calls, err
		}
		if reserve() != size || db.Room() != nil {
			t.Errorf("a reserve of %d bytes, room %v", reserve(), db.Room())
		}
		if calls, err := update(); calls != 2 || !errors.Is(err, store.ErrFull) || !errors.Is(err, full) || reserve() != 0 {
			t.Errorf("%v: called %d times, %v, %d bytes left", full, calls, err, reserve())
		}
		if err := os.WriteFile(path+".reserve", []byte("of others"), 0o600); err != nil {
			t.Fatal(err)
		}
		if calls, err := update(); calls != 1 || !errors.Is(err, store.ErrFull) || reserve() == 0 {
			t.Errorf("%v: with the reserve spent called %d times, %v", full, calls, err)
		}
		// This disk has room.
		if err := db.Room(); err != nil || reserve() != size {
			t.Errorf("%v: %v, a reserve of %d bytes", full, err, reserve())
		}
		if calls, _ := update(); calls != 2 {
			t.Errorf("%v: with a new reserve called %d times", full, calls)
		}
		if err := errors.Join(db.Room(), os.Remove(path+".reserve")); err != nil {
			t.Fatal(err)
		}
		if calls, _ := update(); calls != 1 {
			t.Errorf("%v: with a reserve that is gone called %d times", full, calls)
		}
		if err := db.Close(); err != nil {
			t.Fatal(err)
		}
	}
}

// TestAReserveThatCanNotBeMade: beside records that may not be read is no
// reserve; what is in its place is a fault of opening.
func TestAReserveThatCanNotBeMade(t *testing.T) {
	path := filepath.Join(t.TempDir(), "records.db")
	if err := os.Mkdir(path+".reserve", 0o700); err != nil {
		t.Fatal(err)
	}
	if _, err := bolt.Open(path, bolt.Options{NoSync: true, Reserve: 10}); !errors.Is(err, syscall.EISDIR) || errors.Is(err, store.ErrFull) {
		t.Errorf("a folder in its place: %v", err)
	}
	if _, err := os.Stat(path + ".reserve"); err != nil {
		t.Errorf("the folder: %v", err)
	}
	for _, options := range []bolt.Options{{NoSync: true}, {Reserve: 10, ReadOnly: true}} {
		db, err := bolt.Open(path, options)
		if err != nil {
			t.Errorf("%+v: %v", options, err)
			continue
		}
		if err := db.Room(); err != nil {
			t.Errorf("%+v: room %v", options, err)
		}
		if err := db.Close(); err != nil {
			t.Error(err)
		}
	}
}

// TestAnotherErrorIsNoFullDisk, and has the update called once.
func TestAnotherErrorIsNoFullDisk(t *testing.T) {
	db, err := bolt.Open(filepath.Join(t.TempDir(), "records.db"), bolt.Options{NoSync: true, Reserve: 10})
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	calls := 0
	if err := db.Update(context.Background(), func(store.Writer) error { calls++; return syscall.EIO }); calls != 1 || !errors.Is(err, syscall.EIO) || errors.Is(err, store.ErrFull) {
		t.Errorf("called %d times, %v", calls, err)
	}
}

// TestAReserveIsKeptAsItIs when the file is opened again.
func TestAReserveIsKeptAsItIs(t *testing.T) {
	path := filepath.Join(t.TempDir(), "records.db")
	var made []byte
	for _, size := range []int64{70_000, 70_000, 10} {
		db, err := bolt.Open(path, bolt.Options{NoSync: true, Reserve: size})
		if err != nil {
			t.Fatal(err)
		}
		if err := db.Close(); err != nil {
			t.Fatal(err)
		}
		for _, name := range []string{path, path + ".reserve"} {
			if info, err := os.Stat(name); err != nil || info.Mode() != 0o600 {
				t.Errorf("others may open %s: %v, %v", name, info, err)
			}
		}
		data, err := os.ReadFile(path + ".reserve")
		if err != nil || int64(len(data)) != size || bytes.Equal(data, make([]byte, len(data))) {
			t.Errorf("%d bytes for %d, %v", len(data), size, err)
		}
		if int64(len(made)) == size && !bytes.Equal(data, made) {
			t.Error("it was made anew")
		}
		if made = data; len(data) == 70_000 {
			made[0] ^= 1 // what is there already stays
			if err := os.WriteFile(path+".reserve", made, 0o600); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// TestWhereLogIDsComeFrom: 16 bytes of the source in hex, and no file without
// them.
func TestWhereLogIDsComeFrom(t *testing.T) {
	random := bytes.Repeat([]byte{0xA5}, 16)
	path := filepath.Join(t.TempDir(), "records.db")
	db, err := bolt.Open(path, bolt.Options{NoSync: true, Random: bytes.NewReader(random)})
	if err != nil {
		t.Fatal(err)
	}
	err = db.View(context.Background(), func(r store.Reader) error {
		if storetest.LogID(t, r) != hex.EncodeToString(random) {
			t.Errorf("log id %s", storetest.LogID(t, r))
		}
		return nil
	})
	if err := errors.Join(err, db.Close()); err != nil {
		t.Fatal(err)
	}
	if _, err := bolt.Open(filepath.Join(t.TempDir(), "records.db"), bolt.Options{Random: iotest.ErrReader(errReading)}); !errors.Is(err, errReading) {
		t.Errorf("without random bytes: %v", err)
	}
}

var errReading = errors.New("nothing to read")

// TestADamagedPageStopsWriting: what the library makes of a page without sense
// is said as damage; nothing is written after that, and closing says so.
func TestADamagedPageStopsWriting(t *testing.T) {
	f := large(t)
	put16(f.page(f.find(branch, 8))[8:], 0)
	path := filepath.Join(t.TempDir(), "damaged.db")
	if err := os.WriteFile(path, f.data, 0o600); err != nil {
		t.Fatal(err)
	}
	db, err := bolt.Open(path, bolt.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	all := func(r store.Reader) error {
		_, err := r.Entries(0, 10_000)
		_, err2 := r.Teams()
		return errors.Join(err, err2)
	}
	if err := db.View(context.Background(), all); !errors.Is(err, store.ErrDamaged) {
		t.Errorf("reading: %v", err)
	}
	calls := 0
	for range 2 {
		err := db.Update(context.Background(), func(w store.Writer) error { calls++; return all(w) })
		if !errors.Is(err, store.ErrDamaged) {
			t.Errorf("writing: %v", err)
		}
	}
	if err := db.Close(); calls != 1 || !errors.Is(err, store.ErrDamaged) {
		t.Errorf("called %d times, closing: %v", calls, err)
	}
}

// TestAPanicOfOnesOwnGoesThrough: it is no damage of the file.
func TestAPanicOfOnesOwnGoesThrough(t *testing.T) {
	db, err := bolt.Open(filepath.Join(t.TempDir(), "records.db"), bolt.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	var none []int
	for name, do := range map[string]func(){"a word": func() { panic("a word") }, "out of range": func() { none[len(none)]++ }} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s: no panic came through", name)
				}
			}()
			err := db.View(context.Background(), func(store.Reader) error { do(); return nil })
			t.Errorf("%s: %v", name, err)
		}()
	}
}

// TestFilesOfOtherLibraries are refused as foreign, whatever is wrong with
// their heads.
func TestFilesOfOtherLibraries(t *testing.T) {
	for what, change := range map[string]func(m []byte){
		"another library": func(m []byte) { put32(m, 7) }, "a later one": func(m []byte) { put32(m[4:], 3) },
	} {
		f := large(t)
		f.heads(change)
		wantForeign(t, what, f.data)
	}
	f := large(t)
	f.page(0)[40] ^= 1
	f.page(1)[40] ^= 1
	wantForeign(t, "damaged heads", f.data)
}

func wantForeign(t *testing.T, what string, data []byte) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "other.db")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := bolt.Open(path, bolt.Options{}); !errors.Is(err, store.ErrForeign) || !strings.Contains(err.Error(), path) {
		t.Errorf("%s: %v", what, err)
	}
	folder := t.TempDir()
	if _, err := bolt.Open(folder, bolt.Options{}); err == nil || errors.Is(err, store.ErrForeign) {
		t.Errorf("a folder: %v", err)
	}
}

// TestCopies hand over one moment, and what goes wrong with it.
func TestCopies(t *testing.T) {
	db, err := bolt.Open(withOneOfAll(t), bolt.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	if err := db.Copy(func(c store.Copy) error {
		if c.Head != 3 || c.Size == 0 || len(c.Log) != 32 {
			t.Errorf("%+v", c)
		}
		return errReading
	}); !errors.Is(err, errReading) {
		t.Errorf("an error of the copier: %v", err)
	}
	if _, err := db.WriteTo(failing{}); err == nil {
		t.Errorf("an error of the writer: %v", err)
	}
	var out bytes.Buffer
	if n, err := db.WriteTo(&out); err != nil || n != int64(out.Len()) || n == 0 {
		t.Errorf("%d bytes of %d, %v", n, out.Len(), err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := db.WriteTo(&out); !errors.Is(err, store.ErrClosed) {
		t.Errorf("once closed: %v", err)
	}
}

type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, errReading }

// TestValuesWithoutAChecksum, from before there were any, are read as they are.
func TestValuesWithoutAChecksum(t *testing.T) {
	path := withOneOfAll(t)
	for list := range reads {
		if list != "log" { // whose batches say themselves whether they have one
			changed(t, path, list, func(v []byte) []byte { return v[:len(v)-5] })
		}
	}
	asBefore(t, path, "doorsill-records/1")
	allRead(t, path)
}

// TestTheChecksumOfAValue is CRC-32C over the list, the key and the value, after
// a zero byte: files from before must stay readable.
func TestTheChecksumOfAValue(t *testing.T) {
	path := withOneOfAll(t)
	db, err := bbolt.Open(path, 0o600, &bbolt.Options{ReadOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	err = db.View(func(tx *bbolt.Tx) error {
		v := tx.Bucket([]byte("teams")).Get([]byte("north"))
		text, end := v[:len(v)-5], v[len(v)-5:]
		sum := crc32.Checksum(append([]byte("teamsnorth"), text...), crc32.MakeTable(crc32.Castagnoli))
		if want := []byte{0, byte(sum >> 24), byte(sum >> 16), byte(sum >> 8), byte(sum)}; !bytes.Equal(end, want) {
			t.Errorf("%q ends in %x, want %x", text, end, want)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
