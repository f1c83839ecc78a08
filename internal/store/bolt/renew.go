package bolt

import (
	"bytes"
	"errors"
	"fmt"
	"slices"

	"go.etcd.io/bbolt"

	"doorsill/internal/store"
)

// formatNow is the version of the file's layout. It is raised when an older
// program could misread the file.
const formatNow = "doorsill-records/3"

// formatsBefore are the formats without checksums beside the values; in the first
// of them results had no format and no evidence either. Such a file is read as it
// is, and brought up to date in one commit when it is opened for writing.
func formatsBefore() []string { return []string{"doorsill-records/1", "doorsill-records/2"} }

// listsSince are the lists that files of the formats before may lack; renew makes
// them.
func listsSince() []bucketName {
	return []bucketName{bucketTabletsOf, bucketQuarantineOpen, bucketQuarantineCount, bucketQuarantineAs, bucketQuarantineTeam}
}

// mayLack says whether a file of the formats before may lack a list.
func mayLack(name bucketName) bool {
	return slices.ContainsFunc(listsSince(), func(since bucketName) bool { return bytes.Equal(since.values, name.values) })
}

// recognise looks at what a file has without writing. One that holds nothing is a
// new one.
func (d *DB) recognise(tx *bbolt.Tx) error {
	if name, _ := tx.Cursor().First(); name == nil && !d.noted.readOnly && d.noted.log == "" {
		d.noted.wanting = ""
		return nil
	}
	format, err := formatOf(tx)
	if err != nil {
		return err
	}
	d.unchecked = format != formatNow
	if d.unchecked || tx.ID() <= firstCommit {
		d.noted.wanting = ""
	}
	t := d.moment(tx)
	log, err := t.LogID()
	if err != nil {
		return err
	}
	if err := d.noted.reached(log, tx.ID()); err != nil {
		return err
	}
	for _, name := range buckets() {
		values, sums := tx.Bucket(name.values) != nil, tx.Bucket(name.sums) != nil
		if d.unchecked && !values && mayLack(name) {
			continue
		}
		if !values || sums == d.unchecked {
			return fmt.Errorf("there is no list %q, or only one half of it: %w", name, store.ErrDamaged)
		}
	}
	return nil
}

// formatOf is the format of a file that holds something.
func formatOf(tx *bbolt.Tx) (string, error) {
	values, sums := tx.Bucket(bucketMeta.values), tx.Bucket(bucketMeta.sums)
	switch {
	case values == nil && sums == nil:
		return "", store.ErrForeign
	case values == nil:
		return "", fmt.Errorf("there is no list %q: %w", bucketMeta, store.ErrDamaged)
	case sums == nil:
		if format := string(values.Get(keyFormat)); slices.Contains(formatsBefore(), format) {
			return format, nil
		}
		return "", store.ErrForeign
	}
	format, _, err := open(tx).table(bucketMeta).get(keyFormat)
	if err == nil && string(format) != formatNow {
		err = store.ErrForeign // of a later version
	}
	return string(format), err
}

// prepare makes what a new file needs and brings an earlier one up to date.
func (d *DB) prepare(tx *bbolt.Tx) error {
	first, _ := tx.Cursor().First()
	indexed := tx.Bucket(bucketQuarantineCount.values) != nil
	for _, name := range buckets() {
		for _, half := range [][]byte{name.values, name.sums} {
			if _, err := tx.CreateBucketIfNotExists(half); err != nil {
				return fmt.Errorf("make list %q: %w", half, errors.Join(store.ErrDamaged, err))
			}
		}
	}
	t := open(tx)
	var err error
	switch {
	case first == nil:
		err = d.begin(t)
	case d.unchecked:
		err = t.renew(indexed)
	}
	if err != nil {
		return err
	}
	log, err := t.LogID()
	commit := tx.ID()
	tx.OnCommit(func() { d.noted.note(log, commit) })
	return err
}

// begin names a new log.
func (d *DB) begin(t *tx) error {
	id, err := newLogID(d.random)
	if err != nil {
		return err
	}
	return errors.Join(t.table(bucketMeta).put(keyFormat, []byte(formatNow)), t.SetLogID(id))
}

// renew puts checksums beside the values of a file of an earlier format and makes
// the lists that it lacks; indexed says that those of the quarantine are there. What
// was damaged before stays so: the checksum within the value does not fit.
func (t *tx) renew(indexed bool) error {
	for _, name := range buckets() {
		b := t.table(name).grows()
		c := b.values.Cursor()
		for key, value := c.First(); key != nil; key, value = c.Next() {
			if err := b.putSum(key, value); err != nil {
				return err
			}
		}
	}
	for e, err := range t.table(bucketTablets).under(nil) {
		if err != nil {
			return err
		}
		// One that can not be read was nobody's before, and is not now.
		if tablet, err := decode[store.Tablet](bucketTablets, e.key, e.value); err == nil {
			if err := t.table(bucketTabletsOf).put(append(under(tablet.Person), tablet.ID...), nil); err != nil {
				return err
			}
		}
	}
	if !indexed {
		if err := t.indexQuarantine(); err != nil {
			return err
		}
	}
	return t.table(bucketMeta).put(keyFormat, []byte(formatNow))
}
