package bolt

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
	"sync"
	"syscall"

	"doorsill/internal/store"
)

// noSpace says whether a write failed because the disk, a quota or a limit on
// the file's size left no room. The library does not wrap what the system says
// when a file can not grow, so the words are looked at as well.
func noSpace(err error) bool {
	if err == nil {
		return false
	}
	for _, cause := range []syscall.Errno{syscall.ENOSPC, syscall.EDQUOT, syscall.EFBIG} {
		if errors.Is(err, cause) || strings.HasSuffix(err.Error(), cause.Error()) {
			return true
		}
	}
	return false
}

// reserve is a file of some size beside the records that is there to be
// deleted. When the disk is full it gives its room to what must still be
// written for people to read anything at all: sessions and the audit trail.
type reserve struct {
	path string
	// size in bytes; 0 keeps nothing in reserve.
	size int64

	mu    sync.Mutex
	spent bool
}

// make fills the file when it is not there, or is too small.
func (r *reserve) make() error {
	if r.size == 0 {
		return nil
	}
	if info, err := os.Stat(r.path); err == nil && info.Size() == r.size {
		return nil
	}
	file, err := os.OpenFile(r.path, os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o600)
	if err != nil {
		return fmt.Errorf("make reserve: %w", err)
	}
	// Noise, because a file system that compresses would keep no room for zeros.
	noise, part := rand.NewChaCha8([32]byte{}), make([]byte, 1<<16)
	for left := r.size; left > 0 && err == nil; left -= int64(len(part)) {
		part = part[:min(int64(len(part)), left)]
		_, _ = noise.Read(part) // never fails
		_, err = file.Write(part)
	}
	if err = errors.Join(err, file.Sync(), file.Close()); err != nil {
		return fmt.Errorf("make reserve: %w", errors.Join(err, os.Remove(r.path)))
	}
	return nil
}

// open makes the reserve, or notes that there is no room for it.
func (r *reserve) open() error {
	err := r.make()
	if noSpace(err) {
		r.spent = true
		return nil
	}
	return err
}

// spend lets the room go, and says whether there was any.
func (r *reserve) spend() bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.size == 0 || r.spent {
		return false
	}
	r.spent = true
	return os.Remove(r.path) == nil
}

// restore says whether there is room again, which there is when the reserve
// can be made anew and as much is left.
func (r *reserve) restore() bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	if !r.spent {
		return true
	}
	if free, known := freeSpace(r.path); known && free < 2*r.size {
		return false
	}
	r.spent = r.make() != nil
	return !r.spent
}

// Room returns store.ErrFull from when a write found no space until there is
// space again. What is large should not be tried meanwhile.
func (d *DB) Room() error {
	if d.reserve.restore() {
		return nil
	}
	return fmt.Errorf("the disk of the records is full: %w", store.ErrFull)
}
