package bolt_test

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"go.etcd.io/bbolt"

	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/internal/store/storetest"
)

// childEnv names the file that a child process of these tests writes to.
const childEnv = "RECORDS_TEST_CHILD"

// pushForEver pushes batches and says each number once it is acknowledged.
func pushForEver(path string) int {
	db, err := bolt.Open(path, bolt.Options{})
	if err != nil {
		fmt.Println("error", err)
		return 1
	}
	next := int64(1)
	err = db.View(context.Background(), func(r store.Reader) error {
		tablet, err := r.Tablet("tab-a")
		if err == nil {
			next = tablet.Ack + 1
		}
		return nil
	})
	for err == nil {
		err = db.Update(context.Background(), func(w store.Writer) error {
			return storetest.Push(w, storetest.Batch("tab-a", next, 3, "north", "c1"))
		})
		next += 3
		fmt.Println(next - 1)
	}
	fmt.Println("error", err)
	return 1
}

func child(t *testing.T, path string) (*exec.Cmd, *bufio.Scanner) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), childEnv+"="+path)
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	return cmd, bufio.NewScanner(out)
}

// A process is killed while it commits; what it acknowledged is there.
func TestKilledWhileCommitting(t *testing.T) {
	path := filepath.Join(t.TempDir(), "records.db")
	for round := range 10 {
		cmd, said := child(t, path)
		acked := int64(0)
		for range 5 + 7*round {
			if !said.Scan() {
				break
			}
			n, err := strconv.ParseInt(said.Text(), 10, 64)
			if err != nil {
				t.Fatalf("round %d: %s", round, said.Text())
			}
			acked = n
		}
		if err := cmd.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		for said.Scan() { // what it could still say before it died
			if n, err := strconv.ParseInt(said.Text(), 10, 64); err == nil {
				acked = n
			}
		}
		_ = cmd.Wait() // always "killed"
		checkAcked(t, path, acked)
	}
}

func checkAcked(t *testing.T, path string, acked int64) {
	t.Helper()
	db, err := bolt.Open(path, bolt.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if err := storetest.Check(db); err != nil {
		t.Error(err)
	}
	err = db.View(context.Background(), func(r store.Reader) error {
		if _, err := r.Placed("tab-a", acked); err != nil {
			t.Errorf("number %d was acknowledged: %v", acked, err)
		}
		return nil
	})
	if err != nil {
		t.Error(err)
	}
}

func TestFileInUse(t *testing.T) {
	path := filepath.Join(t.TempDir(), "records.db")
	cmd, said := child(t, path)
	defer func() {
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
	}()
	if !said.Scan() {
		t.Fatal("the child said nothing")
	}
	start := time.Now()
	_, err := bolt.Open(path, bolt.Options{})
	if !errors.Is(err, store.ErrInUse) || !strings.Contains(err.Error(), path) {
		t.Errorf("got %v, want an error that says that %s is in use", err, path)
	}
	if took := time.Since(start); took > time.Second {
		t.Errorf("took %v to say so", took)
	}
}

func TestForeignFiles(t *testing.T) {
	tests := []struct {
		name string
		make func(path string) error
	}{
		{"a text", func(path string) error {
			return os.WriteFile(path, []byte(strings.Repeat("not records\n", 2000)), 0o600)
		}},
		{"another program's file", func(path string) error {
			return bucketFile(path, "other", "format", "x")
		}},
		{"a newer version's file", func(path string) error {
			return bucketFile(path, "meta", "format", "doorsill-records/99")
		}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "file")
			if err := tt.make(path); err != nil {
				t.Fatal(err)
			}
			if _, err := bolt.Open(path, bolt.Options{}); !errors.Is(err, store.ErrForeign) {
				t.Errorf("got %v, want %v", err, store.ErrForeign)
			}
		})
	}
}

func bucketFile(path, bucket, key, value string) error {
	db, err := bbolt.Open(path, 0o600, nil)
	if err != nil {
		return err
	}
	err = db.Update(func(tx *bbolt.Tx) error {
		b, err := tx.CreateBucket([]byte(bucket))
		if err != nil {
			return err
		}
		return b.Put([]byte(key), []byte(value))
	})
	return errors.Join(err, db.Close())
}

func TestReopenKeepsTheName(t *testing.T) {
	path := filepath.Join(t.TempDir(), "records.db")
	var names [2]string
	for i := range names {
		db, err := bolt.Open(path, bolt.Options{})
		if err != nil {
			t.Fatal(err)
		}
		err = db.View(context.Background(), func(r store.Reader) error { names[i] = storetest.LogID(t, r); return nil })
		if err := errors.Join(err, db.Close()); err != nil {
			t.Fatal(err)
		}
	}
	if names[0] != names[1] || len(names[0]) != 32 {
		t.Errorf("log ids %q", names)
	}
}

// TestWaitingForAFile takes as long as is asked for.
func TestWaitingForAFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "records.db")
	reopened(t, path)
	const wait = 800 * time.Millisecond
	start := time.Now()
	_, err := bolt.Open(path, bolt.Options{Wait: wait})
	// The library asks every 50 milliseconds, and not once more when that is all
	// that is left.
	if took := time.Since(start); !errors.Is(err, store.ErrInUse) || took < wait-100*time.Millisecond {
		t.Errorf("after %v: %v", took, err)
	}
}

// TestAValueWhereAListMustBe is damage, whichever way the file is opened.
func TestAValueWhereAListMustBe(t *testing.T) {
	f := large(t)
	for _, id := range f.rootPages() {
		for i := range int(u16(f.page(id)[10:])) {
			if u16(f.page(id)[8:]) == leaf && string(f.leafKey(id, i)) == "teams" {
				put32(f.page(id)[16+16*i:], 0)
			}
		}
	}
	path := filepath.Join(t.TempDir(), "damaged.db")
	if err := os.WriteFile(path, f.data, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, readOnly := range []bool{true, false} {
		if _, err := bolt.Open(path, bolt.Options{ReadOnly: readOnly}); !errors.Is(err, store.ErrDamaged) || !strings.Contains(err.Error(), `"teams"`) {
			t.Errorf("read only %v: %v", readOnly, err)
		}
	}
}

// over is a context that is over when it is asked for the last time.
type over struct {
	context.Context
	asked, last int
}

func (o *over) Err() error {
	if o.asked++; o.asked < o.last {
		return nil
	}
	return context.Canceled
}

// TestAnUpdateThatNobodyWaitsFor: its context is asked before it waits for its
// turn, and again when it has it.
func TestAnUpdateThatNobodyWaitsFor(t *testing.T) {
	db := reopened(t, filepath.Join(t.TempDir(), "records.db"))
	update := func(last int) error {
		return db.Update(&over{context.Background(), 0, last}, func(store.Writer) error {
			t.Errorf("called, although its context was over when asked for time %d", last)
			return nil
		})
	}
	if err := update(2); !errors.Is(err, context.Canceled) {
		t.Errorf("over while it waited: %v", err)
	}
	err := db.Update(context.Background(), func(store.Writer) error {
		return update(1) // which would wait for the end of this one
	})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("over before it waited: %v", err)
	}
}
