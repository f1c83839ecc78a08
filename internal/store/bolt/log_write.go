package bolt

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"math"

	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// fullPages is how full the pages of lists that only grow at the end become.
const fullPages = 0.95

func (t *tx) Append(b store.Batch) (int64, error) {
	if len(b.Events) == 0 || b.FirstN < 1 {
		return 0, fmt.Errorf("append batch: %w", store.ErrOrder)
	}
	if t.tail != nil {
		return 0, fmt.Errorf("append batch: %w", t.tail)
	}
	count := int64(len(b.Events))
	placedBefore, err := t.overlaps(b.Tablet, b.FirstN, count)
	if err != nil {
		return 0, fmt.Errorf("append batch: %w", err)
	}
	if placedBefore {
		return 0, fmt.Errorf("append %d of tablet %s: %w", b.FirstN, b.Tablet, store.ErrOrder)
	}
	head, err := t.Head()
	if err != nil {
		return 0, fmt.Errorf("append batch: %w", err)
	}
	first := head + 1
	placed := run{count: count, pos: first}
	counted := binary.AppendUvarint(nil, uint64(count))
	err = errors.Join(
		t.table(bucketLog).grows().put(numberKey(first), appendBatch(make([]byte, 0, sizeOf(&b)), first, &b)),
		t.table(bucketNumbers).put(numbered(under(b.Tablet), b.FirstN), placed.value()),
		t.table(bucketByTeam).put(numbered(under(b.Team), first), counted),
		t.table(bucketBySubject).put(numbered(under(b.Subject), first), counted),
	)
	if err != nil {
		return 0, fmt.Errorf("append batch: %w", err)
	}
	return first, nil
}

// overlaps says whether one of the numbers has been placed. A run that holds one
// of them is the last that begins before their end.
func (t *tx) overlaps(tablet string, first, count int64) (bool, error) {
	last, _, err := t.runAt(tablet, first+count-1)
	return last.first+last.count > first, err
}

func (t *tx) AddSubject(s store.Subject) error {
	key := []byte(s.ID)
	taken, err := t.table(bucketSubjects).has(key)
	if err != nil {
		return fmt.Errorf("add %s %s: %w", s.Kind, s.ID, err)
	}
	if taken {
		return fmt.Errorf("add %s %s: %w", s.Kind, s.ID, store.ErrTaken)
	}
	if s.Kind == model.SubjectVisit {
		if err := t.addVisit(s.Client, key); err != nil {
			return fmt.Errorf("add visit: %w", err)
		}
	}
	return put(t, bucketSubjects, key, s)
}

// addVisit adds to the end of a client's visits.
func (t *tx) addVisit(client string, visit []byte) error {
	prefix := under(client)
	visits := t.table(bucketVisits)
	last, err := visits.floor(numbered(prefix, math.MaxInt64))
	if err != nil {
		return err
	}
	order := int64(0)
	if bytes.HasPrefix(last.key, prefix) {
		order = numberOf(last.key) + 1
	}
	return visits.put(numbered(prefix, order), visit)
}

func (t *tx) SetLogID(id string) error {
	if !validation.ValidID(id) {
		return fmt.Errorf("set log id: %w", store.ErrForeign)
	}
	named, err := t.table(bucketMeta).has(keyLogID)
	if err == nil && named {
		err = t.endLog()
	}
	if err != nil {
		return fmt.Errorf("set log id: %w", err)
	}
	return t.table(bucketMeta).put(keyLogID, seal(bucketMeta, keyLogID, []byte(id)))
}

// endLog keeps how the log was called so far, and where it ends.
func (t *tx) endLog() error {
	logs, err := t.Logs()
	if err != nil {
		return err
	}
	head, err := t.Head()
	if err != nil {
		return err
	}
	return put(t, bucketMeta, keyEarlierLogs, append(logs.Earlier, model.EarlierLog{Log: logs.Log, Until: head}))
}
