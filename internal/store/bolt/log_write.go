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
	count := int64(len(b.Events))
	if t.overlaps(b.Tablet, b.FirstN, count) {
		return 0, fmt.Errorf("append %d of tablet %s: %w", b.FirstN, b.Tablet, store.ErrOrder)
	}
	head, err := t.head()
	if err != nil {
		return 0, fmt.Errorf("append batch: %w", err)
	}
	first := head + 1
	log := t.bucket(bucketLog)
	log.FillPercent = fullPages
	placed := run{count: count, pos: first}
	counted := binary.AppendUvarint(nil, uint64(count))
	err = errors.Join(
		log.Put(numberKey(first), appendBatch(make([]byte, 0, sizeOf(&b)), first, &b)),
		t.bucket(bucketNumbers).Put(numbered(under(b.Tablet), b.FirstN), placed.value()),
		t.bucket(bucketByTeam).Put(numbered(under(b.Team), first), counted),
		t.bucket(bucketBySubject).Put(numbered(under(b.Subject), first), counted),
	)
	if err != nil {
		return 0, fmt.Errorf("append batch: %w", err)
	}
	return first, nil
}

// overlaps says whether one of the numbers has been placed.
func (t *tx) overlaps(tablet string, first, count int64) bool {
	if _, held := t.runAt(tablet, first); held {
		return true
	}
	prefix := under(tablet)
	key, _ := t.bucket(bucketNumbers).Cursor().Seek(numbered(prefix, first))
	return bytes.HasPrefix(key, prefix) && numberOf(key) < first+count
}

func (t *tx) AddSubject(s store.Subject) error {
	key := []byte(s.ID)
	if t.bucket(bucketSubjects).Get(key) != nil {
		return fmt.Errorf("add %s %s: %w", s.Kind, s.ID, store.ErrTaken)
	}
	if s.Kind == model.SubjectVisit {
		order := int64(0)
		prefix := under(s.Client)
		if last, _ := t.floor(bucketVisits, numbered(prefix, math.MaxInt64)); bytes.HasPrefix(last, prefix) {
			order = numberOf(last) + 1
		}
		if err := t.bucket(bucketVisits).Put(numbered(prefix, order), key); err != nil {
			return fmt.Errorf("add visit: %w", err)
		}
	}
	return put(t, bucketSubjects, key, s)
}

func (t *tx) SetLogID(id string) error {
	if !validation.ValidID(id) {
		return fmt.Errorf("set log id: %w", store.ErrForeign)
	}
	if t.bucket(bucketMeta).Get(keyLogID) != nil {
		if err := t.endLog(); err != nil {
			return fmt.Errorf("set log id: %w", err)
		}
	}
	return t.bucket(bucketMeta).Put(keyLogID, seal(bucketMeta, keyLogID, []byte(id)))
}

// endLog keeps how the log was called so far, and where it ends.
func (t *tx) endLog() error {
	logs, err := t.Logs()
	if err != nil {
		return err
	}
	head, err := t.head()
	if err != nil {
		return err
	}
	return put(t, bucketMeta, keyEarlierLogs, append(logs.Earlier, model.EarlierLog{Log: logs.Log, Until: head}))
}
