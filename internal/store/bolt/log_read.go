package bolt

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"errors"
	"fmt"
	"math"

	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

func (t *tx) LogID() string {
	id, _ := t.logID() // Open has refused a file whose name can not be read
	return id
}

func (t *tx) logID() (string, error) {
	id, err := unseal(bucketMeta, keyLogID, t.bucket(bucketMeta).Get(keyLogID))
	if err == nil && !validation.ValidID(string(id)) {
		err = fmt.Errorf("read log id: %w", store.ErrDamaged)
	}
	return string(id), err
}

func (t *tx) Logs() (model.Logs, error) {
	id, err := t.logID()
	if err != nil {
		return model.Logs{}, err
	}
	earlier, err := get[[]model.EarlierLog](t, bucketMeta, keyEarlierLogs)
	if errors.Is(err, store.ErrNotFound) {
		err = nil // it was never restored
	}
	return model.Logs{Log: id, Earlier: earlier}, err
}

func (t *tx) Head() int64 {
	head, _ := t.head()
	return head
}

// head is the last position given. Where the last batch can not be read it is
// only known where that one begins.
func (t *tx) head() (int64, error) {
	key, data := t.bucket(bucketLog).Cursor().Last()
	if key == nil {
		return 0, nil
	}
	first := numberOf(key)
	b, err := openBatch(first, data)
	if err != nil {
		return first, err
	}
	return first + int64(b.count) - 1, nil
}

// run says where consecutive numbers of a tablet went: count positions from
// pos on, or one number into quarantine.
type run struct {
	first, count, pos, quarantine int64
}

func (r run) value() []byte {
	value := binary.AppendUvarint(nil, uint64(r.count))
	value = binary.AppendUvarint(value, uint64(r.pos))
	return binary.AppendUvarint(value, uint64(r.quarantine))
}

func readRun(key, value []byte) run {
	r := reader{data: value}
	return run{first: numberOf(key), count: int64(r.number()), pos: int64(r.number()), quarantine: int64(r.number())}
}

// runAt finds the run that holds number n of a tablet.
func (t *tx) runAt(tablet string, n int64) (run, bool) {
	prefix := under(tablet)
	key, value := t.floor(bucketNumbers, numbered(prefix, n))
	if !bytes.HasPrefix(key, prefix) {
		return run{}, false
	}
	found := readRun(key, value)
	return found, n < found.first+found.count
}

// floor finds the last key at or before a key.
func (t *tx) floor(bucket, at []byte) (key, value []byte) {
	c := t.bucket(bucket).Cursor()
	key, value = c.Seek(at)
	switch {
	case key == nil:
		return c.Last()
	case bytes.Equal(key, at):
		return key, value
	}
	return c.Prev()
}

func (t *tx) Placed(tablet string, n int64) (store.Placed, error) {
	found, ok := t.runAt(tablet, n)
	if !ok {
		return store.Placed{}, store.ErrNotFound
	}
	if found.quarantine != 0 {
		quarantine, err := t.Quarantined(found.quarantine)
		return store.Placed{Quarantine: found.quarantine, Raw: quarantine.Raw}, err
	}
	pos := found.pos + n - found.first
	entries, err := t.Entries(pos-1, 1)
	if len(entries) == 0 || entries[0].Pos != pos {
		return store.Placed{}, fmt.Errorf("read entry at position %d: %w", pos, cmp.Or(err, store.ErrDamaged))
	}
	return store.Placed{Pos: pos, Raw: entries[0].Raw}, nil
}

func (t *tx) Entries(after int64, limit int) ([]model.Entry, error) {
	var list []model.Entry
	start, _ := t.floor(bucketLog, numberKey(after+1))
	c := t.bucket(bucketLog).Cursor()
	for key, data := c.Seek(start); key != nil && len(list) < limit; key, data = c.Next() {
		b, err := openBatch(numberOf(key), data)
		if err != nil {
			return list, err
		}
		if list, err = b.entries(list, after, limit); err != nil {
			return list, err
		}
	}
	return list, nil
}

func (t *tx) EntriesOfTeam(team string, after int64, limit int) ([]model.Entry, bool, error) {
	list, err := t.listed(bucketByTeam, team, after, limit+1)
	if len(list) > limit {
		return list[:limit], true, err
	}
	return list, false, err
}

func (t *tx) EntriesOfSubject(subject string) ([]model.Entry, error) {
	return t.listed(bucketBySubject, subject, 0, math.MaxInt)
}

// listed reads the entries that a list names, after a position.
func (t *tx) listed(bucket []byte, name string, after int64, limit int) ([]model.Entry, error) {
	prefix := under(name)
	start := numbered(prefix, after+1)
	if key, _ := t.floor(bucket, start); bytes.HasPrefix(key, prefix) {
		start = bytes.Clone(key)
	}
	var list []model.Entry
	c := t.bucket(bucket).Cursor()
	for key, value := c.Seek(start); bytes.HasPrefix(key, prefix) && len(list) < limit; key, value = c.Next() {
		b, err := t.batchAt(key, value)
		if err != nil {
			return list, err
		}
		if list, err = b.entries(list, after, limit); err != nil {
			return list, err
		}
	}
	return list, nil
}

// batchAt reads the batch that a list names. A list that counts other entries
// than the batch has would show those of somebody else.
func (t *tx) batchAt(key, value []byte) (batch, error) {
	first := numberOf(key)
	b, err := openBatch(first, t.bucket(bucketLog).Get(numberKey(first)))
	if counted := (&reader{data: value}).number(); err == nil && counted != uint64(b.count) {
		err = fmt.Errorf("read list at position %d: it counts %d of %d entries: %w", first, counted, b.count, store.ErrDamaged)
	}
	return b, err
}

func (t *tx) Subject(id string) (store.Subject, error) {
	return get[store.Subject](t, bucketSubjects, []byte(id))
}

func (t *tx) VisitsOfClient(client string) ([]string, error) {
	var visits []string
	for _, visit := range t.each(bucketVisits, under(client)) {
		visits = append(visits, string(visit))
	}
	return visits, nil
}
