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

	"doorsill/internal/folder"
	"doorsill/internal/store"
)

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
	// unchecked marks a file of an earlier format that is only read.
	unchecked bool
	// tail is what was wrong with the end of the log when the file was opened.
	tail error
	// noted is the newest commit that is known of.
	noted noted
}

var (
	_ store.Store    = (*DB)(nil)
	_ store.Spacious = (*DB)(nil)
	_ store.Copier   = (*DB)(nil)
	_ store.Checked  = (*DB)(nil)
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
	var file *os.File
	err := guarded(func() error { return d.open(path, options, &file) })
	if err != nil {
		// The library may be left holding its own lock, but other processes, and
		// this one, must not go on waiting for that of the file.
		if errors.Is(err, store.ErrDamaged) && file != nil {
			letGo(file)
			_ = file.Close() // it is closed where the library could do so
		}
		return nil, fmt.Errorf("open records %s: %w", path, err)
	}
	return d, nil
}

func (d *DB) open(path string, options Options, file **os.File) (err error) {
	d.db, err = bbolt.Open(path, 0o600, &bbolt.Options{
		Timeout:      options.Wait,
		FreelistType: bbolt.FreelistMapType,
		NoSync:       options.NoSync,
		ReadOnly:     options.ReadOnly,

		InitialMmapSize: mapped,
		OpenFile: func(path string, flags int, mode os.FileMode) (*os.File, error) {
			opened, err := os.OpenFile(path, flags, mode)
			*file = opened
			return opened, err
		},
	})
	if err != nil {
		return opening(err)
	}
	d.reserve = reserve{path: path + ".reserve", size: options.Reserve}
	d.noted = noted{path: path + ".commit", readOnly: options.ReadOnly}
	err = d.ready(options.ReadOnly)
	if err == nil && !options.ReadOnly && !options.NoSync {
		err = folder.Sync(filepath.Dir(path))
	}
	if err != nil {
		return errors.Join(full(err), d.noted.close(), d.db.Close())
	}
	return nil
}

// ready looks at what the file holds, and brings it up to date.
func (d *DB) ready(readOnly bool) error {
	if err := d.noted.open(); err != nil {
		return err
	}
	if err := d.db.View(d.recognise); err != nil {
		return err
	}
	if readOnly {
		return nil
	}
	// A file that was cut is left as it is: already the next commit may lie at its end
	// and make it look whole.
	if d.tail = d.view((*tx).wholeFile); errors.Is(d.tail, store.ErrDamaged) {
		return d.reserve.open()
	}
	if err := d.db.Update(d.prepare); err != nil {
		return err
	}
	d.unchecked = false
	d.tail = errors.Join(d.tail, d.view((*tx).soundTail))
	return d.reserve.open()
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

// moment is a transaction of the library as one of ours.
func (d *DB) moment(t *bbolt.Tx) *tx { return &tx{tx: t, unchecked: d.unchecked, tail: d.tail} }

func (d *DB) view(fn func(*tx) error) error {
	if d.stuck.Load() {
		return fmt.Errorf("read records: the beginning of the file could not be read: %w", store.ErrDamaged)
	}
	begun := false
	err := guarded(func() error {
		least := d.noted.commit.Load()
		return closed(d.db.View(func(tx *bbolt.Tx) error {
			begun = true
			if err := d.noted.follows(tx, least); err != nil {
				return err
			}
			return fn(d.moment(tx))
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
	if d.damaged.Load() || d.noted.lost.Load() {
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
	var commit int
	var log string
	least := d.noted.commit.Load()
	err := guarded(func() (err error) {
		err = closed(d.db.Update(func(tx *bbolt.Tx) error {
			if err := ctx.Err(); err != nil {
				return err
			}
			if err := d.noted.follows(tx, least+1); err != nil {
				return err
			}
			t := d.moment(tx)
			if err := fn(t); err != nil {
				return err
			}
			commit = tx.ID()
			log, err = t.LogID()
			return err
		}))
		panicked = false
		return err
	})
	if err == nil {
		d.noted.note(log, commit)
	}
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
	return errors.Join(d.noted.close(), d.db.Close())
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
		log, err := t.LogID()
		if err != nil {
			return err
		}
		head, err := t.Head()
		if err != nil {
			return err
		}
		return fn(store.Copy{Log: log, Head: head, Size: t.tx.Size(), WriteTo: t.tx.WriteTo})
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
