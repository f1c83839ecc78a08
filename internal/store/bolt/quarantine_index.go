package bolt

import (
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"maps"

	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// Besides the quarantined entries stand lists and counts of them, so that the
// writer never looks through what was quarantined before. All of it follows
// from the entries.

// indexed says whether the file has the lists. One of an earlier format that was
// opened for reading only has not.
func (t *tx) indexed() bool { return !t.unchecked }

// quarantineLists are the lists that name an entry.
func quarantineLists(q *store.Quarantined) [][]byte {
	prefixes := [][]byte{under(string(quarantineAll), "")}
	for by, name := range counted(q) {
		prefixes = append(prefixes, under(string(by), name))
	}
	return prefixes
}

// counted gives what an entry is counted by: the kind of list and the name in it. An
// entry without a name, such as one that is about no client, is not counted by it.
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
		err = errors.Join(err, t.table(bucketQuarantineBy).put(numbered(prefix, q.ID), nil))
		if q.Open() {
			err = errors.Join(err, t.table(bucketQuarantineOpen).put(numbered(prefix, q.ID), nil))
		}
	}
	if q.Open() {
		err = errors.Join(err, t.count(q, 1))
	}
	for _, one := range foundBy(q) {
		err = errors.Join(err, putNew(t.table(one.list), one.key, one.value))
	}
	return err
}

// putNew leaves what is there already: the first entry counts.
func putNew(b table, key, value []byte) error {
	if there, err := b.has(key); there || err != nil {
		return err
	}
	return b.put(key, value)
}

// keyed is a value in a list.
type keyed struct {
	list       bucketName
	key, value []byte
}

// foundBy is what an entry is found by besides lists and number.
func foundBy(q *store.Quarantined) []keyed {
	found := []keyed{{bucketQuarantineAs, asKey(q.Tablet, q.N, q.Raw), numberKey(q.ID)}}
	if validation.ValidID(q.Subject) && q.Team != "" { // what came may be longer than a key
		found = append(found, keyed{bucketQuarantineTeam, teamKey(q.Tablet, q.Subject), []byte(q.Team)})
	}
	return found
}

// asKey is where the bytes that came under a number of a tablet are found.
func asKey(tablet string, n int64, raw []byte) []byte {
	sum := sha256.Sum256(raw)
	return append(numbered(under(tablet), n), sum[:]...)
}

func teamKey(tablet, subject string) []byte { return append(under(tablet), subject...) }

// unlist takes an entry that is open no more out of the lists of open ones.
func (t *tx) unlist(q *store.Quarantined) error {
	var err error
	for _, prefix := range quarantineLists(q) {
		err = errors.Join(err, t.table(bucketQuarantineOpen).remove(numbered(prefix, q.ID)))
	}
	return errors.Join(err, t.count(q, -1))
}

// count adds an open entry to its counts, or takes it away, after the lists. A count
// that is damaged is made anew from them: it must not keep out what arrives.
func (t *tx) count(q *store.Quarantined, sign int64) error {
	b := t.table(bucketQuarantineCount)
	for by, name := range counted(q) {
		key := under(string(by), name)
		now, err := t.QuarantineOpen(by, name)
		if errors.Is(err, store.ErrDamaged) {
			now, err = t.recount(key)
		} else {
			now.Entries += sign
			now.Bytes += sign * int64(len(q.Raw))
		}
		if err != nil {
			return fmt.Errorf("count entry %d: %w", q.ID, err)
		}
		if now == (store.QuarantineCount{}) {
			err = b.remove(key)
		} else {
			value := binary.AppendUvarint(nil, uint64(now.Entries))
			err = b.put(key, seal(bucketQuarantineCount, key, binary.AppendUvarint(value, uint64(now.Bytes))))
		}
		if err != nil {
			return fmt.Errorf("count entry %d: %w", q.ID, err)
		}
	}
	return nil
}

// recount counts the entries that a list of open ones names.
func (t *tx) recount(list []byte) (n store.QuarantineCount, err error) {
	for e, err := range t.table(bucketQuarantineOpen).under(list) {
		if err != nil {
			return n, err
		}
		q, err := t.Quarantined(numberOf(e.key))
		if err != nil {
			return n, err
		}
		n.Entries++
		n.Bytes += int64(len(q.Raw))
	}
	return n, nil
}

func (t *tx) QuarantineOpen(by store.QuarantineList, name string) (n store.QuarantineCount, err error) {
	if !t.indexed() {
		made, err := t.makeUp()
		return made.open[string(under(string(by), name))], err
	}
	key := under(string(by), name)
	stored, found, err := t.table(bucketQuarantineCount).get(key)
	if err != nil || !found {
		return n, err
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

func (t *tx) QuarantinedAs(tablet string, n int64, raw []byte) (store.Quarantined, error) {
	id, err := t.lookUp(bucketQuarantineAs, asKey(tablet, n, raw))
	if err != nil {
		return store.Quarantined{}, err
	}
	q, err := t.Quarantined(numberOf(id))
	if err == nil && (q.Tablet != tablet || q.N != n || string(q.Raw) != string(raw)) || errors.Is(err, store.ErrNotFound) {
		err = fmt.Errorf("read entry %d of tablet %s: the list of what came leads to another one: %w", n, tablet, store.ErrDamaged)
	}
	return q, err
}

func (t *tx) QuarantineTeam(tablet, subject string) (string, error) {
	team, err := t.lookUp(bucketQuarantineTeam, teamKey(tablet, subject))
	return string(team), err
}

// lookUp is what a list has under a key, ErrNotFound when it has nothing.
func (t *tx) lookUp(list bucketName, key []byte) (value []byte, err error) {
	var found bool
	if t.indexed() {
		value, found, err = t.table(list).get(key)
	} else {
		var made *madeUp
		made, err = t.makeUp()
		value, found = made.lists[list.String()][string(key)]
	}
	if err == nil && !found {
		err = store.ErrNotFound
	}
	return value, err
}

// madeUp stands for the lists of a file of an earlier version that is open for
// reading only, so that they can not be written to it.
type madeUp struct {
	open  map[string]store.QuarantineCount
	lists map[string]map[string][]byte
}

// makeUp makes them in memory, once a transaction, out of what was quarantined.
func (t *tx) makeUp() (*madeUp, error) {
	if t.made != nil {
		return t.made, nil
	}
	made := &madeUp{map[string]store.QuarantineCount{}, map[string]map[string][]byte{bucketQuarantineAs.String(): {}, bucketQuarantineTeam.String(): {}}}
	all, err := t.QuarantinedOf(store.QuarantineFilter{})
	for i := range all {
		q := &all[i]
		for by, name := range counted(q) {
			key := string(under(string(by), name))
			if n := made.open[key]; q.Open() {
				made.open[key] = store.QuarantineCount{Entries: n.Entries + 1, Bytes: n.Bytes + int64(len(q.Raw))}
			}
		}
		for _, one := range foundBy(q) {
			if list := made.lists[one.list.String()]; list[string(one.key)] == nil {
				list[string(one.key)] = one.value
			}
		}
	}
	if err == nil {
		t.made = made
	}
	return made, err
}

// indexQuarantine makes the lists of a file of an earlier version. An entry that
// can not be read is in none; verify finds it.
func (t *tx) indexQuarantine() error {
	for e, err := range t.table(bucketQuarantine).under(nil) {
		var q store.Quarantined
		if err == nil {
			q, err = decode[store.Quarantined](bucketQuarantine, e.key, e.value)
		}
		if errors.Is(err, store.ErrDamaged) {
			continue
		}
		if err := errors.Join(err, t.index(&q)); err != nil {
			return fmt.Errorf("index quarantine: %w", err)
		}
	}
	return nil
}
