package bolt

import (
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"maps"

	"go.etcd.io/bbolt"

	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// Besides the quarantined entries stand lists and counts of them, so that the
// writer never looks through what was quarantined before. All of it follows
// from the entries.

// quarantineIndexes are the lists that files of earlier versions lack.
func quarantineIndexes() [][]byte {
	return [][]byte{bucketQuarantineOpen, bucketQuarantineCount, bucketQuarantineAs, bucketQuarantineTeam}
}

// indexed says whether the file has the lists. One of an earlier version that
// was opened for reading only has not.
func (t *tx) indexed() bool { return t.bucket(bucketQuarantineCount) != nil }

// quarantineLists are the lists that name an entry.
func quarantineLists(q *store.Quarantined) [][]byte {
	prefixes := [][]byte{under(string(quarantineAll), "")}
	for by, name := range counted(q) {
		prefixes = append(prefixes, under(string(by), name))
	}
	return prefixes
}

// counted is what an entry is counted by. What has no name, as the client of an
// entry that is about none, is not.
func counted(q *store.Quarantined) map[store.QuarantineList]string {
	names := map[store.QuarantineList]string{
		store.QuarantineByTeam: q.Team, store.QuarantineByTablet: q.Tablet,
		store.QuarantineByClient: q.Client, store.QuarantineByPerson: q.Person,
	}
	maps.DeleteFunc(names, func(_ store.QuarantineList, name string) bool { return name == "" })
	return names
}

// index enters a new entry into every list.
func (t *tx) index(q *store.Quarantined) error {
	var err error
	for _, prefix := range quarantineLists(q) {
		err = errors.Join(err, t.bucket(bucketQuarantineBy).Put(numbered(prefix, q.ID), nil))
		if q.Open() {
			err = errors.Join(err, t.bucket(bucketQuarantineOpen).Put(numbered(prefix, q.ID), nil))
		}
	}
	if q.Open() {
		err = errors.Join(err, t.count(q, 1))
	}
	err = errors.Join(err, putNew(t.bucket(bucketQuarantineAs), asKey(q.Tablet, q.N, q.Raw), numberKey(q.ID)))
	if validation.ValidID(q.Subject) && q.Team != "" { // what came may be longer than a key
		err = errors.Join(err, putNew(t.bucket(bucketQuarantineTeam), teamKey(q.Tablet, q.Subject), []byte(q.Team)))
	}
	return err
}

// putNew leaves what is there already: the first entry counts.
func putNew(b *bbolt.Bucket, key, value []byte) error {
	if b.Get(key) != nil {
		return nil
	}
	return b.Put(key, value)
}

// asKey is where the bytes that came under a number of a tablet are found.
func asKey(tablet string, n int64, raw []byte) []byte {
	sum := sha256.Sum256(raw)
	return append(numbered(under(tablet), n), sum[:]...)
}

func teamKey(tablet, subject string) []byte { return append(under(tablet), subject...) }

// unlist takes an entry that is open no more out of the lists of open ones.
func (t *tx) unlist(q *store.Quarantined) error {
	err := t.count(q, -1)
	for _, prefix := range quarantineLists(q) {
		err = errors.Join(err, t.bucket(bucketQuarantineOpen).Delete(numbered(prefix, q.ID)))
	}
	return err
}

// count adds an open entry to its counts, or takes it away.
func (t *tx) count(q *store.Quarantined, sign int64) error {
	b := t.bucket(bucketQuarantineCount)
	for by, name := range counted(q) {
		now, err := t.QuarantineOpen(by, name)
		if err != nil {
			return err
		}
		now.Entries += sign
		now.Bytes += sign * int64(len(q.Raw))
		key := under(string(by), name)
		if now == (store.QuarantineCount{}) {
			err = b.Delete(key)
		} else {
			value := binary.AppendUvarint(nil, uint64(now.Entries))
			err = b.Put(key, seal(bucketQuarantineCount, key, binary.AppendUvarint(value, uint64(now.Bytes))))
		}
		if err != nil {
			return fmt.Errorf("count entry %d: %w", q.ID, err)
		}
	}
	return nil
}

func (t *tx) QuarantineOpen(by store.QuarantineList, name string) (n store.QuarantineCount, err error) {
	if !t.indexed() {
		return t.countOpen(by, name)
	}
	key := under(string(by), name)
	stored := t.bucket(bucketQuarantineCount).Get(key)
	if stored == nil {
		return n, nil
	}
	value, err := unseal(bucketQuarantineCount, key, stored)
	if err != nil {
		return n, err
	}
	r := reader{data: value}
	n = store.QuarantineCount{Entries: int64(r.number()), Bytes: int64(r.number())}
	if r.bad || len(r.data) > 0 || n.Entries < 1 || n.Bytes < 0 {
		err = fmt.Errorf("read count of %s %s: %w", by, name, store.ErrDamaged)
	}
	return n, err
}

// countOpen looks through a file without counts.
func (t *tx) countOpen(by store.QuarantineList, name string) (n store.QuarantineCount, err error) {
	all, err := t.QuarantinedOf(store.QuarantineFilter{Open: true})
	for i := range all {
		if counted(&all[i])[by] == name {
			n.Entries++
			n.Bytes += int64(len(all[i].Raw))
		}
	}
	return n, err
}

func (t *tx) QuarantinedAs(tablet string, n int64, raw []byte) (store.Quarantined, error) {
	if !t.indexed() {
		return t.lookThrough(store.QuarantineFilter{Tablet: tablet, N: n}, func(q *store.Quarantined) bool { return string(q.Raw) == string(raw) })
	}
	id := t.bucket(bucketQuarantineAs).Get(asKey(tablet, n, raw))
	if id == nil {
		return store.Quarantined{}, store.ErrNotFound
	}
	q, err := t.Quarantined(numberOf(id))
	if err == nil && (q.Tablet != tablet || q.N != n || string(q.Raw) != string(raw)) || errors.Is(err, store.ErrNotFound) {
		err = fmt.Errorf("read entry %d of tablet %s: the list of what came leads to another one: %w", n, tablet, store.ErrDamaged)
	}
	return q, err
}

func (t *tx) QuarantineTeam(tablet, subject string) (string, error) {
	if !t.indexed() {
		q, err := t.lookThrough(store.QuarantineFilter{Tablet: tablet}, func(q *store.Quarantined) bool { return q.Subject == subject && q.Team != "" })
		return q.Team, err
	}
	team := t.bucket(bucketQuarantineTeam).Get(teamKey(tablet, subject))
	if team == nil {
		return "", store.ErrNotFound
	}
	return string(team), nil
}

// lookThrough finds the first entry in a file without lists.
func (t *tx) lookThrough(f store.QuarantineFilter, wanted func(*store.Quarantined) bool) (store.Quarantined, error) {
	all, err := t.QuarantinedOf(f)
	for i := range all {
		if wanted(&all[i]) {
			return all[i], err
		}
	}
	return store.Quarantined{}, errors.Join(err, store.ErrNotFound)
}

// indexQuarantine makes the lists of a file of an earlier version. An entry that
// can not be read is in none; verify finds it.
func (t *tx) indexQuarantine() error {
	for key, data := range t.each(bucketQuarantine, nil) {
		q, err := decode[store.Quarantined](bucketQuarantine, key, data)
		if errors.Is(err, store.ErrDamaged) {
			continue
		}
		if err := errors.Join(err, t.index(&q)); err != nil {
			return fmt.Errorf("index quarantine: %w", err)
		}
	}
	return nil
}
