// Package bolt keeps a store.Store in one file with bbolt. What an event's
// tablet wrote is kept as it came: a batch of events is one value under the
// position of its first, and the lists by tablet, team and subject hold one
// short line a batch, so that storing a whole visit costs a handful of writes.
package bolt

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sync/atomic"
	"time"

	"go.etcd.io/bbolt"
	bbolterrors "go.etcd.io/bbolt/errors"

	"doorsill/internal/store"
)

// formatNow is the version of the file's layout. It is raised when an older
// program could misread the file.
const formatNow = "doorsill-records/2"

// formatBefore differs in that no result names a format or has evidence. Such a
// file is read as it is, and gets the new version when it is opened for writing.
const formatBefore = "doorsill-records/1"

// mapped is how much of the file can be read without mapping it anew, in
// bytes. A larger file is mapped in steps; each step waits for readers to end,
// so that a backup under way would hold up every push. It costs address space,
// not memory.
const mapped = 1 << 30

// Options say how a file is opened. The zero value is right for a server.
type Options struct {
	// Wait is how long to wait for another process to let go of the file;
	// the default is half a second. Waiting longer only hides that two
	// servers were started on one file.
	Wait time.Duration
	// Random is where log ids come from; the default is crypto/rand. A fixed
	// one is for tests: two stores with one log id lose a tablet's events.
	Random io.Reader
	// NoSync leaves out waiting for the disk. A power cut then loses what was
	// acknowledged: only for tests and for filling a demo.
	NoSync bool
	// Reserve is how many bytes to keep in a file beside the records, to be
	// let go when the disk is full; see DB.Room. None by default.
	Reserve int64
	// ReadOnly opens a file that exists and changes nothing in it, not even
	// when it lacks something. Several processes may do so at once, but not
	// while a server has the file.
	ReadOnly bool
}

// DB is a store in one file.
type DB struct {
	db     *bbolt.DB
	random io.Reader
	// damaged is set when a write met a page that made no sense. Nothing is
	// written after that: the library may be left holding its lock, and what
	// it believes to be free may be in use.
	damaged atomic.Bool
	// stuck is set when not even the beginning of the file could be read, as
	// when a disk is lost: the library then holds the lock that every call
	// waits for.
	stuck   atomic.Bool
	reserve reserve
}

var (
	_ store.Store    = (*DB)(nil)
	_ store.Spacious = (*DB)(nil)
	_ store.Copier   = (*DB)(nil)
)

// Open opens the file, and makes it with a new log id when it does not exist.
// It returns store.ErrInUse when another process has it, store.ErrForeign when
// it holds something else and store.ErrDamaged when it makes no sense.
func Open(path string, options Options) (*DB, error) {
	if options.Wait <= 0 {
		options.Wait = 500 * time.Millisecond
	}
	if options.Random == nil {
		options.Random = rand.Reader
	}
	d := &DB{random: options.Random}
	if err := guarded(func() error { return d.open(path, options) }); err != nil {
		return nil, fmt.Errorf("open records %s: %w", path, err)
	}
	return d, nil
}

func (d *DB) open(path string, options Options) (err error) {
	d.db, err = bbolt.Open(path, 0o600, &bbolt.Options{
		Timeout:      options.Wait,
		FreelistType: bbolt.FreelistMapType,
		NoSync:       options.NoSync,
		ReadOnly:     options.ReadOnly,

		InitialMmapSize: mapped,
	})
	if err != nil {
		return opening(err)
	}
	prepare := d.prepare
	if options.ReadOnly {
		prepare = d.recognise
	}
	d.reserve = reserve{path: path + ".reserve", size: options.Reserve}
	err = prepare()
	if err == nil && !options.ReadOnly {
		err = d.reserve.open()
	}
	if err == nil && !options.ReadOnly && !options.NoSync {
		err = syncFolder(filepath.Dir(path))
	}
	if err != nil {
		return errors.Join(full(err), d.db.Close())
	}
	return nil
}

// syncFolder makes durable that the folder names the file: syncing a new file
// need not, and a power cut would then take it with all that was acknowledged.
func syncFolder(path string) error {
	folder, err := os.Open(path)
	if err != nil {
		return err
	}
	_ = folder.Sync() // not all systems can
	return folder.Close()
}

// opening gives bbolt's errors our names.
func opening(err error) error {
	switch {
	case errors.Is(err, bbolterrors.ErrTimeout):
		return store.ErrInUse
	case errors.Is(err, bbolterrors.ErrInvalid), errors.Is(err, bbolterrors.ErrVersionMismatch), errors.Is(err, bbolterrors.ErrChecksum):
		return fmt.Errorf("%w: %w", store.ErrForeign, err)
	}
	return err
}

// prepare makes what a new file needs and checks what an old one has.
func (d *DB) prepare() error {
	return d.db.Update(func(tx *bbolt.Tx) error {
		if name, _ := tx.Cursor().First(); name != nil {
			if err := recognised(tx); err != nil {
				return err
			}
		}
		indexed := open(tx).indexed()
		for _, name := range append(buckets(), quarantineIndexes()...) {
			if _, err := tx.CreateBucketIfNotExists(name); err != nil {
				return fmt.Errorf("make list %q: %w", name, errors.Join(store.ErrDamaged, err))
			}
		}
		if !indexed {
			if err := open(tx).indexQuarantine(); err != nil {
				return err
			}
		}
		meta := tx.Bucket(bucketMeta)
		switch string(meta.Get(keyFormat)) {
		case formatNow:
			return nil
		case formatBefore:
			return meta.Put(keyFormat, []byte(formatNow))
		}
		id, err := newLogID(d.random)
		if err != nil {
			return err
		}
		return errors.Join(meta.Put(keyFormat, []byte(formatNow)), open(tx).SetLogID(id))
	})
}

// recognise checks what a file has without writing.
func (d *DB) recognise() error {
	return d.db.View(func(tx *bbolt.Tx) error {
		if err := recognised(tx); err != nil {
			return err
		}
		for _, name := range buckets() {
			if tx.Bucket(name) == nil {
				return fmt.Errorf("there is no list %q: %w", name, store.ErrDamaged)
			}
		}
		return nil
	})
}

// recognised says whether a file that holds something holds our records, in a
// layout that this version reads.
func recognised(tx *bbolt.Tx) error {
	meta := tx.Bucket(bucketMeta)
	if meta == nil {
		return store.ErrForeign
	}
	if format := string(meta.Get(keyFormat)); format != formatNow && format != formatBefore {
		return store.ErrForeign
	}
	_, err := open(tx).logID()
	return err
}

func newLogID(random io.Reader) (string, error) {
	var id [16]byte
	if _, err := io.ReadFull(random, id[:]); err != nil {
		return "", fmt.Errorf("make log id: %w", err)
	}
	return hex.EncodeToString(id[:]), nil
}

// View calls fn with a Reader of one moment.
func (d *DB) View(ctx context.Context, fn func(store.Reader) error) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	return d.view(func(t *tx) error { return fn(t) })
}

func (d *DB) view(fn func(*tx) error) error {
	if d.stuck.Load() {
		return fmt.Errorf("read records: the beginning of the file could not be read: %w", store.ErrDamaged)
	}
	begun := false
	err := guarded(func() error {
		return closed(d.db.View(func(tx *bbolt.Tx) error {
			begun = true
			return fn(open(tx))
		}))
	})
	if !begun && errors.Is(err, store.ErrDamaged) {
		d.stuck.Store(true)
		d.damaged.Store(true)
	}
	return err
}

// Update calls fn with a Writer and makes what it wrote durable.
func (d *DB) Update(ctx context.Context, fn func(store.Writer) error) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	if d.damaged.Load() {
		return fmt.Errorf("write records: the file is damaged, so nothing more is written to it: %w", store.ErrDamaged)
	}
	err := d.update(ctx, fn)
	if errors.Is(err, store.ErrFull) && d.reserve.spend() {
		return d.update(ctx, fn)
	}
	return err
}

func (d *DB) update(ctx context.Context, fn func(store.Writer) error) error {
	panicked := true
	err := guarded(func() error {
		err := closed(d.db.Update(func(tx *bbolt.Tx) error {
			if err := ctx.Err(); err != nil {
				return err
			}
			return fn(open(tx))
		}))
		panicked = false
		return err
	})
	if panicked {
		d.damaged.Store(true)
	}
	return full(err)
}

// full names the errors of a disk that is full.
func full(err error) error {
	if noSpace(err) {
		return fmt.Errorf("%w: %w", store.ErrFull, err)
	}
	return err
}

// Close waits for calls under way and lets the file go. A file that was found
// damaged while writing, or that is gone, is left to the end of the process.
func (d *DB) Close() error {
	if d.damaged.Load() {
		return fmt.Errorf("close records: %w", store.ErrDamaged)
	}
	return d.db.Close()
}

// WriteTo writes a copy of the whole file as it stands at one moment.
func (d *DB) WriteTo(out io.Writer) (n int64, err error) {
	err = d.Copy(func(c store.Copy) (err error) {
		n, err = c.WriteTo(out)
		return err
	})
	return n, err
}

// Copy calls fn with the whole file as it stands at one moment, while others go
// on reading and writing. What they change meanwhile takes new space.
func (d *DB) Copy(fn func(store.Copy) error) error {
	return d.view(func(t *tx) error {
		return fn(store.Copy{Log: t.LogID(), Head: t.Head(), Size: t.tx.Size(), WriteTo: t.tx.WriteTo})
	})
}

// Readers counts the moments that are being looked at. Each holds the pages that
// have changed since, so there should never be an old one.
func (d *DB) Readers() int { return d.db.Stats().OpenTxN }

func closed(err error) error {
	if errors.Is(err, bbolterrors.ErrDatabaseNotOpen) {
		return store.ErrClosed
	}
	return err
}
