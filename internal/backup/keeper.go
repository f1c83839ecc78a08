package backup

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sync"
	"time"

	"filippo.io/age"

	"doorsill/internal/store"
)

// ErrNone is returned by a keeper that was given nowhere to put backups.
var ErrNone = errors.New("this server was started without a folder for backups")

// atMost is how long a backup may take. For so long the records are held at one
// moment, and the file can not use again what changes in them.
const atMost = time.Hour

// Plan says where a running server puts its backups, and for whom.
type Plan struct {
	// Dir is the folder; empty makes no backups.
	Dir string
	// For are the keys that open them.
	For []age.Recipient
	// Keep is how many to keep; 0 keeps all.
	Keep int
}

// Keeper makes the backups of a running server. It is safe for use by several
// goroutines; they take turns.
type Keeper struct {
	plan  Plan
	store store.Store
	// key reads the organisation's key; nil when there is none.
	key  func() ([]byte, error)
	now  func() time.Time
	turn sync.Mutex
}

// NewKeeper returns a keeper of a store, which must be a store.Copier.
func NewKeeper(plan Plan, s store.Store, key func() ([]byte, error), now func() time.Time) *Keeper {
	return &Keeper{plan: plan, store: s, key: key, now: now}
}

// Made is a backup that was made.
type Made struct {
	About
	// Name is the file's name in the folder, Bytes its length.
	Name  string `json:"name"`
	Bytes int64  `json:"bytes"`
}

// Make makes a backup now and removes those that are too old. The error is
// ErrNone, or says what could not be written.
func (k *Keeper) Make(ctx context.Context) (Made, error) {
	from, can := k.store.(store.Copier)
	if k.plan.Dir == "" || !can {
		return Made{}, ErrNone
	}
	k.turn.Lock()
	defer k.turn.Unlock()
	ctx, cancel := context.WithTimeout(ctx, atMost)
	defer cancel()
	at := k.now()
	made := Made{Name: Name(at)}
	err := File(filepath.Join(k.plan.Dir, made.Name), func(out io.Writer) error {
		counted := &counting{out: out, ctx: ctx}
		var err error
		made.About, err = Copy(counted, from, k.key, at, k.plan.For...)
		made.Bytes = counted.bytes
		return err
	})
	if err != nil {
		return Made{}, err
	}
	if k.plan.Keep > 0 {
		_, err = Prune(k.plan.Dir, k.plan.Keep)
	}
	return made, err
}

// Copy writes a backup of a store as it stands now.
func Copy(out io.Writer, from store.Copier, key func() ([]byte, error), at time.Time, recipients ...age.Recipient) (about About, err error) {
	pem, err := key()
	if err != nil {
		return about, fmt.Errorf("read organisation key: %w", err)
	}
	err = from.Copy(func(c store.Copy) error {
		about = About{Format: Format, Log: c.Log, Head: c.Head, At: at.UTC().Format(store.TimeLayout)}
		return Write(out, Source{About: about, Key: pem, Size: c.Size, WriteTo: c.WriteTo}, recipients...)
	})
	return about, err
}

// Kept is a backup that lies in the folder.
type Kept struct {
	Name  string
	Bytes int64
	At    time.Time
}

// Last returns the newest backup of the folder and the folder itself; a zero
// Kept where there is none yet. The error is ErrNone, or the file system's.
func (k *Keeper) Last() (last Kept, dir string, err error) {
	if _, can := k.store.(store.Copier); !can || k.plan.Dir == "" {
		return last, "", ErrNone
	}
	dir, err = filepath.Abs(k.plan.Dir)
	if err != nil {
		return last, "", fmt.Errorf("find backups: %w", err)
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		return last, dir, fmt.Errorf("list backups: %w", err)
	}
	for _, entry := range entries {
		at, ok := madeAt(entry)
		if !ok || at.Before(last.At) {
			continue
		}
		info, err := entry.Info()
		if err != nil {
			return last, dir, fmt.Errorf("list backups: %w", err)
		}
		last = Kept{Name: entry.Name(), Bytes: info.Size(), At: at}
	}
	return last, dir, nil
}

// Due says whether the last backup of the folder is as old as that, or of a
// time that has not come: then the clock was wrong once, and nobody knows.
func (k *Keeper) Due(every time.Duration) (bool, error) {
	entries, err := os.ReadDir(k.plan.Dir)
	if err != nil {
		return false, fmt.Errorf("list backups: %w", err)
	}
	now := k.now()
	for _, entry := range entries {
		if at, ok := madeAt(entry); ok && !at.After(now) && now.Sub(at) < every {
			return false, nil
		}
	}
	return true, nil
}

// counting counts what is written, until there is no more time.
type counting struct {
	out   io.Writer
	ctx   context.Context
	bytes int64
}

// Write writes on.
func (c *counting) Write(p []byte) (int, error) {
	if err := c.ctx.Err(); err != nil {
		return 0, fmt.Errorf("the backup took too long: %w", err)
	}
	n, err := c.out.Write(p)
	c.bytes += int64(n)
	return n, err
}
