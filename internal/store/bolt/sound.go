package bolt

import (
	"errors"
	"fmt"
	"os"

	"doorsill/internal/store"
)

// tailLength is how many positions are checked when the file is opened. More would
// make starting slow; verify reads all.
const tailLength = 1000

// wholeFile checks that the file has every page that its head counts. A file that
// was cut can be read for long, because the pages at its end may be free ones or
// seldom asked for; what is written next would fill its end with zeros.
func (t *tx) wholeFile() error {
	info, err := os.Stat(t.tx.DB().Path())
	if err != nil {
		return fmt.Errorf("check the length of the file: %w", err)
	}
	if info.Size() < t.tx.Size() {
		return fmt.Errorf("the file ends too early: it has %d bytes and should have %d: %w", info.Size(), t.tx.Size(), store.ErrDamaged)
	}
	return nil
}

// soundTail checks the end of the log, which what is written next follows: that
// the batches can be read and follow one another without a gap, and that the
// lists lead to each.
func (t *tx) soundTail() error {
	head, err := t.Head()
	if err != nil {
		return fmt.Errorf("check the end of the log: %w", err)
	}
	log := t.table(bucketLog).cursor(nil)
	next := head + 1
	for e, err := log.last(); next > 1 && head-next+1 < tailLength; e, err = log.prev() {
		if err != nil {
			return fmt.Errorf("check the end of the log: %w", err)
		}
		b, err := openBatch(numberOf(e.key), e.value)
		if err == nil && b.end()+1 != next {
			err = fmt.Errorf("position %d follows %d: %w", next, b.end(), store.ErrDamaged)
		}
		if err := errors.Join(err, t.listedAt(&b)); err != nil {
			return fmt.Errorf("check the end of the log: %w", err)
		}
		next = b.first
	}
	return nil
}

// listedAt checks that the lists lead to a batch.
func (t *tx) listedAt(b *batch) error {
	placed, held, err := t.runAt(string(b.tablet), b.firstN)
	if err == nil && (!held || placed.pos+b.firstN-placed.first != b.first) {
		err = fmt.Errorf("the batch at position %d is not where its number leads: %w", b.first, store.ErrDamaged)
	}
	for _, list := range []struct {
		bucket bucketName
		name   []byte
	}{{bucketByTeam, b.team}, {bucketBySubject, b.subject}} {
		key := numbered(under(string(list.name)), b.first)
		value, found, lerr := t.table(list.bucket).get(key)
		if counted := (&reader{data: value}).number(); lerr == nil && (!found || counted != uint64(b.count)) {
			lerr = fmt.Errorf("the batch at position %d is not listed in %s: %w", b.first, list.bucket, store.ErrDamaged)
		}
		err = errors.Join(err, lerr)
	}
	return err
}

// Sound says whether the log and the audit trail can be added to: the file was
// whole and the log's end in order when it was opened, both can be read now, and no commit is
// missing.
func (d *DB) Sound() error {
	if d.damaged.Load() || d.noted.lost.Load() {
		return fmt.Errorf("the file is damaged, so nothing more is written to it: %w", store.ErrDamaged)
	}
	if d.tail != nil {
		return d.tail
	}
	return d.view(func(t *tx) error {
		_, err := t.LogID()
		_, err2 := t.Head()
		_, err3 := t.LastAudit()
		if errors.Is(err3, store.ErrNotFound) {
			err3 = nil
		}
		return errors.Join(err, err2, err3)
	})
}
