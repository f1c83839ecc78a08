package bolt

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"iter"

	"go.etcd.io/bbolt"

	"doorsill/internal/store"
)

// bucketName names one list of the file, which is two of the library's buckets:
// the values under their keys, and under the same keys a checksum of each. The
// two lie on pages of their own, so that damage at one place of the file is a
// difference between them: a key that is missing, changed or there twice, a
// value that is another's, or one that was replaced since.
type bucketName struct{ values, sums []byte }

func bucketNamed(name string) bucketName {
	return bucketName{values: []byte(name), sums: []byte(name + "/sums")}
}

// String is the name as people see it.
func (n bucketName) String() string { return string(n.values) }

// table is one list within a transaction. All reading and writing of records
// goes through it: what it returns without an error is what was written. Where
// the list is missing the library panics, which guarded tells as damage.
type table struct {
	name         bucketName
	values, sums *bbolt.Bucket
	// unchecked marks a file of an earlier format, which has no sums.
	unchecked bool
}

func (t *tx) table(name bucketName) table {
	b := table{name: name, values: t.tx.Bucket(name.values), unchecked: t.unchecked}
	if !b.unchecked {
		b.sums = t.tx.Bucket(name.sums)
	}
	return b
}

// entry is a key with its value. Both point into the file; the key is nil where
// there is none.
type entry struct{ key, value []byte }

func (b table) damaged(key []byte, how string) error {
	return fmt.Errorf("read %s %q: %s: %w", b.name, bytes.Trim(key, "\x00"), how, store.ErrDamaged)
}

// get reads a value.
func (b table) get(key []byte) (value []byte, found bool, err error) {
	c := b.cursor(nil)
	if found, err = c.find(key); !found || err != nil {
		return nil, false, err
	}
	return c.at.value, true, c.check()
}

// has says whether there is a value, which may be damaged.
func (b table) has(key []byte) (bool, error) { return b.cursor(nil).find(key) }

// put adds or replaces a value, also one that is damaged. Where the keys of both
// halves differ it writes nothing and returns an error: the pages are then not what
// the library believes, and it could spoil more of them.
func (b table) put(key, value []byte) error {
	if _, err := b.has(key); err != nil {
		return err
	}
	if err := b.values.Put(key, value); err != nil {
		return fmt.Errorf("write %s: %w", b.name, err)
	}
	return b.putSum(key, value)
}

// grows has the pages of a list that only grows at its end become full.
func (b table) grows() table {
	if b.values != nil && b.sums != nil {
		b.values.FillPercent, b.sums.FillPercent = fullPages, fullPages
	}
	return b
}

// putSum writes the checksum of a value.
func (b table) putSum(key, value []byte) error {
	sum := binary.BigEndian.AppendUint32(nil, sumOf(b.name.values, key, value))
	if err := b.sums.Put(key, sum); err != nil {
		return fmt.Errorf("write %s: %w", b.name.sums, err)
	}
	return nil
}

// remove takes a key out; it is no error when there is none.
func (b table) remove(key []byte) error {
	if _, err := b.has(key); err != nil {
		return err
	}
	if err := b.values.Delete(key); err != nil {
		return fmt.Errorf("write %s: %w", b.name, err)
	}
	if err := b.sums.Delete(key); err != nil {
		return fmt.Errorf("write %s: %w", b.name.sums, err)
	}
	return nil
}

// floor finds the last entry at or before a key.
func (b table) floor(at []byte) (entry, error) { return b.cursor(nil).floor(at) }

// last finds the last entry of all.
func (b table) last() (entry, error) { return b.cursor(nil).last() }

// under runs over the entries whose keys have a prefix.
func (b table) under(prefix []byte) iter.Seq2[entry, error] { return b.from(prefix, prefix) }

// from is like under, but begins at a key. An entry whose value is damaged comes as
// its key with the error. Where one key differs between the halves, the keys of both
// come like that, and the run goes on if the caller does. Where more differs it ends
// with an error without a key.
func (b table) from(start, prefix []byte) iter.Seq2[entry, error] {
	return func(yield func(entry, error) bool) {
		c := b.cursor(prefix)
		e, err := c.seek(start)
		for e.key != nil || err != nil {
			if err == nil || c.agree() == nil {
				if !yield(e, err) {
					return
				}
				e, err = c.next()
				continue
			}
			one, other := c.at.key, c.sumKey
			if e, err = c.next(); c.agree() != nil {
				yield(entry{}, b.damaged(prefix, "the list can not be followed"))
				return
			}
			for _, key := range [][]byte{one, other} {
				if key != nil && !yield(entry{key: key}, b.damaged(key, differs)) {
					return
				}
			}
		}
	}
}

// differs is said of a key that was changed or lost in one half.
const differs = "its key is not in both halves of the list"

// cursor is a place in both halves of a list.
type cursor struct {
	table
	prefix      []byte // keys without it count as none
	inValues    *bbolt.Cursor
	inSums      *bbolt.Cursor
	at          entry
	sumKey, sum []byte
}

func (b table) cursor(prefix []byte) *cursor {
	c := &cursor{table: b, prefix: prefix, inValues: b.values.Cursor()}
	if !b.unchecked {
		c.inSums = b.sums.Cursor()
	}
	return c
}

// find moves to a key, or to the one after it, and says whether it is there. The
// value is not checked.
func (c *cursor) find(key []byte) (found bool, err error) {
	c.move(func(half *bbolt.Cursor) ([]byte, []byte) { return half.Seek(key) })
	return c.at.key != nil && bytes.Equal(c.at.key, key), c.agree()
}

// floor moves to the last key at or before one.
func (c *cursor) floor(at []byte) (entry, error) {
	found, err := c.find(at)
	switch {
	case err != nil:
		return entry{}, err
	case found:
		return c.at, c.check()
	case c.at.key == nil:
		return c.last()
	}
	return c.prev()
}

// seek moves to a key, or to the one after it.
func (c *cursor) seek(key []byte) (entry, error) {
	return c.read(func(half *bbolt.Cursor) ([]byte, []byte) { return half.Seek(key) })
}

func (c *cursor) next() (entry, error) { return c.read((*bbolt.Cursor).Next) }
func (c *cursor) prev() (entry, error) { return c.read((*bbolt.Cursor).Prev) }
func (c *cursor) last() (entry, error) { return c.read((*bbolt.Cursor).Last) }

// read moves and checks what is there.
func (c *cursor) read(step func(half *bbolt.Cursor) (key, value []byte)) (entry, error) {
	c.move(step)
	if err := c.check(); err != nil {
		return entry{key: c.at.key}, err
	}
	return c.at, nil
}

// check says whether both halves have the same key here and the value fits.
func (c *cursor) check() error {
	if err := c.agree(); err != nil || c.unchecked || c.at.key == nil {
		return err
	}
	if len(c.sum) != sumSize || binary.BigEndian.Uint32(c.sum) != sumOf(c.name.values, c.at.key, c.at.value) {
		return c.damaged(c.at.key, "the checksum does not fit")
	}
	return nil
}

// move moves in both halves in the same way.
func (c *cursor) move(step func(half *bbolt.Cursor) (key, value []byte)) {
	c.at.key, c.at.value = step(c.inValues)
	if !bytes.HasPrefix(c.at.key, c.prefix) {
		c.at = entry{}
	}
	if c.unchecked {
		return
	}
	c.sumKey, c.sum = step(c.inSums)
	if !bytes.HasPrefix(c.sumKey, c.prefix) {
		c.sumKey, c.sum = nil, nil
	}
}

// agree says whether both halves have the same key here.
func (c *cursor) agree() error {
	if c.unchecked || bytes.Equal(c.at.key, c.sumKey) {
		return nil // no key is empty
	}
	key := c.at.key
	if key == nil {
		key = c.sumKey
	}
	return c.damaged(key, differs)
}
