package bolt

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"sync/atomic"

	"go.etcd.io/bbolt"

	"doorsill/internal/store"
)

// The file has two heads, of which the newer one that can be read counts. When
// that one is damaged the library goes on with the older, as if the last commit
// had never been: what was acknowledged is gone, and its positions are given a
// second time. So the number of each commit is noted in a small file beside the
// records, after the commit is on the disk. A file whose newest head is older
// than what was noted is damaged, or an older copy was put in its place; both
// must not be written to. Nobody waits for the note to reach the disk: it may be
// older than the records, and then says less.

// noteSize is the length of the file, so that it is written in one place.
const noteSize = 256

const noteLine = "doorsill-commit/1 %s %d"

// noted is the newest commit that is known of.
type noted struct {
	path     string
	readOnly bool
	// commit is the number of the library's transaction.
	commit atomic.Int64
	// lost is set when a transaction saw an older commit. Nothing is written after
	// that: what the library believes to be free may be in use.
	lost atomic.Bool

	mu   sync.Mutex
	file *os.File
	// log and before are what the file said when it was opened: a log that was
	// named anew has other commits. wanting says why it said nothing.
	log     string
	before  int64
	wanting string
}

// firstCommit is the number of the commit that makes a new file's lists. A file
// that ends with it may have been left by a program that was killed before it
// noted anything.
const firstCommit = 2

// open reads what was noted. What can not be read counts as nothing.
func (n *noted) open() (err error) {
	flags := os.O_RDWR | os.O_CREATE
	if n.readOnly {
		flags = os.O_RDONLY
	}
	n.file, err = os.OpenFile(n.path, flags, 0o600)
	switch {
	case n.readOnly && errors.Is(err, fs.ErrNotExist), noSpace(err):
		n.wanting = "is missing"
		return nil
	case err != nil:
		return fmt.Errorf("open what was noted of commits: %w", err)
	}
	text := make([]byte, noteSize)
	size, _ := n.file.ReadAt(text, 0) // a new file has nothing
	line, sum, _ := bytes.Cut(text[:size], []byte{'\n'})
	switch {
	case size == 0:
		n.wanting = "is missing"
		return nil
	case string(bytes.TrimSpace(sum)) != noteSum(line):
		n.wanting = "is damaged"
		return nil
	}
	_, err = fmt.Sscanf(string(line), noteLine, &n.log, &n.before)
	if err != nil {
		n.log = "" // of a later version
	}
	return nil
}

func noteSum(line []byte) string { return fmt.Sprintf("%08x", sumOf(line)) }

// reached says whether a file of a log goes as far as was noted of it.
func (n *noted) reached(log string, commit int) error {
	if log != n.log || int64(commit) >= n.before {
		return nil
	}
	return fmt.Errorf("the file ends with commit %d, and %d was noted in %s: its head is damaged, or an older copy was put in its place: %w",
		commit, n.before, n.path, store.ErrDamaged)
}

// Noted returns an error that says why, when the file was opened, nothing was noted
// of the commits that it must end with, so that an older copy in its place would not
// have been noticed. A new file has nothing to be older than, and one of an earlier
// format had no note.
func (d *DB) Noted() error {
	if d.noted.wanting == "" {
		return nil
	}
	return fmt.Errorf("%s %s: whether an older copy was put in the place of the records can not be told", filepath.Base(d.noted.path), d.noted.wanting)
}

// follows says whether a transaction sees a commit, or a later one.
func (n *noted) follows(tx *bbolt.Tx, least int64) error {
	if int64(tx.ID()) >= least {
		return nil
	}
	n.lost.Store(true)
	return fmt.Errorf("the file ends with commit %d, and %d was written: its head is damaged: %w", tx.ID(), n.commit.Load(), store.ErrDamaged)
}

// note notes a commit of a log that is on the disk.
func (n *noted) note(log string, commit int) {
	n.mu.Lock()
	defer n.mu.Unlock()
	if int64(commit) <= n.commit.Load() {
		return // a later one was quicker
	}
	n.commit.Store(int64(commit))
	if n.file == nil {
		return
	}
	line := fmt.Appendf(nil, noteLine, log, commit)
	text := bytes.Repeat([]byte{' '}, noteSize)
	copy(text, fmt.Appendf(nil, "%s\n%s\n", line, noteSum(line)))
	_, _ = n.file.WriteAt(text, 0) // the commit stands; a note that could not be written says less
}

func (n *noted) close() error {
	n.mu.Lock()
	defer n.mu.Unlock()
	if n.file == nil {
		return nil
	}
	err := n.file.Close()
	n.file = nil
	return err
}
