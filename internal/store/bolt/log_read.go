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

func (t *tx) LogID() (string, error) {
	data, found, err := t.table(bucketMeta).get(keyLogID)
	if err != nil {
		return "", err
	}
	id, err := unseal(bucketMeta, keyLogID, data)
	if err == nil && (!found || !validation.ValidID(string(id))) {
		err = fmt.Errorf("read log id: %w", store.ErrDamaged)
	}
	if err != nil {
		return "", err
	}
	return string(id), nil
}

func (t *tx) Logs() (model.Logs, error) {
	id, err := t.LogID()
	if err != nil {
		return model.Logs{}, err
	}
	earlier, err := get[[]model.EarlierLog](t, bucketMeta, keyEarlierLogs)
	if errors.Is(err, store.ErrNotFound) {
		err = nil // it was never restored
	}
	return model.Logs{Log: id, Earlier: earlier}, err
}

// Head is not known where the last batch can not be read: that one says how far
// it goes.
func (t *tx) Head() (int64, error) {
	last, err := t.table(bucketLog).last()
	if err != nil || last.key == nil {
		return 0, err
	}
	b, err := openBatch(numberOf(last.key), last.value)
	if err != nil {
		return 0, err
	}
	return b.end(), nil
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

func readRun(e entry) (run, error) {
	r := reader{data: e.value}
	found := run{first: numberOf(e.key), count: int64(r.number()), pos: int64(r.number()), quarantine: int64(r.number())}
	if r.bad || found.count < 1 {
		return run{}, fmt.Errorf("read where number %d went: %w", found.first, store.ErrDamaged)
	}
	return found, nil
}

// runAt finds the run that holds number n of a tablet.
func (t *tx) runAt(tablet string, n int64) (found run, held bool, err error) {
	prefix := under(tablet)
	e, err := t.table(bucketNumbers).floor(numbered(prefix, n))
	if err != nil || !bytes.HasPrefix(e.key, prefix) {
		return run{}, false, err
	}
	found, err = readRun(e)
	return found, err == nil && n < found.first+found.count, err
}

func (t *tx) Placed(tablet string, n int64) (store.Placed, error) {
	found, ok, err := t.runAt(tablet, n)
	if err != nil {
		return store.Placed{}, err
	}
	if !ok {
		return store.Placed{}, store.ErrNotFound
	}
	if found.quarantine != 0 {
		quarantine, err := t.Quarantined(found.quarantine)
		if errors.Is(err, store.ErrNotFound) {
			err = fmt.Errorf("read quarantined entry %d: %w", found.quarantine, store.ErrDamaged)
		}
		return store.Placed{Quarantine: found.quarantine, Raw: quarantine.Raw}, err
	}
	pos := found.pos + n - found.first
	entries, err := t.Entries(pos-1, 1)
	if len(entries) == 0 || entries[0].Pos != pos {
		return store.Placed{}, fmt.Errorf("read entry at position %d: %w", pos, cmp.Or(err, store.ErrDamaged))
	}
	return store.Placed{Pos: pos, Raw: entries[0].Raw}, nil
}

// Entries goes from batch to batch, each of which must begin where the one before
// ended.
func (t *tx) Entries(after int64, limit int) ([]model.Entry, error) {
	log := t.table(bucketLog)
	start, err := log.floor(numberKey(after + 1))
	if err != nil {
		return nil, err
	}
	var list []model.Entry
	next := int64(1)
	if start.key != nil {
		next = numberOf(start.key)
	}
	for e, err := range log.from(numberKey(next), nil) {
		if len(list) >= limit {
			break
		}
		if err != nil {
			return list, err
		}
		b, err := openBatch(numberOf(e.key), e.value)
		if err == nil && b.first != next {
			err = fmt.Errorf("read batch at position %d: it should be at %d: %w", b.first, next, store.ErrDamaged)
		}
		if err != nil {
			return list, err
		}
		if list, err = b.entries(list, after, limit); err != nil {
			return list, err
		}
		next = b.end() + 1
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
func (t *tx) listed(bucket bucketName, name string, after int64, limit int) ([]model.Entry, error) {
	prefix := under(name)
	start := numbered(prefix, after+1)
	lists := t.table(bucket)
	before, err := lists.floor(start)
	if err != nil {
		return nil, err
	}
	if bytes.HasPrefix(before.key, prefix) {
		start = bytes.Clone(before.key)
	}
	var list []model.Entry
	for e, err := range lists.from(start, prefix) {
		if len(list) >= limit {
			break
		}
		if err != nil {
			return list, err
		}
		b, err := t.batchAt(e)
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
func (t *tx) batchAt(e entry) (batch, error) {
	first := numberOf(e.key)
	data, _, err := t.table(bucketLog).get(numberKey(first))
	if err != nil {
		return batch{}, err
	}
	b, err := openBatch(first, data)
	if counted := (&reader{data: e.value}).number(); err == nil && counted != uint64(b.count) {
		err = fmt.Errorf("read list at position %d: it counts %d of %d entries: %w", first, counted, b.count, store.ErrDamaged)
	}
	return b, err
}

func (t *tx) Subject(id string) (store.Subject, error) {
	return get[store.Subject](t, bucketSubjects, []byte(id))
}

func (t *tx) VisitsOfClient(client string) ([]string, error) {
	var visits []string
	for e, err := range t.table(bucketVisits).under(under(client)) {
		if err != nil {
			return visits, err
		}
		visits = append(visits, string(e.value))
	}
	return visits, nil
}
