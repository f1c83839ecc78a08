package bolt

import (
	"fmt"
	"iter"

	"doorsill/internal/store"
)

func (t *tx) LastAudit() (store.AuditEntry, error) {
	last, err := t.table(bucketAudit).last()
	if err != nil {
		return store.AuditEntry{}, err
	}
	if last.key == nil {
		return store.AuditEntry{}, store.ErrNotFound
	}
	return decode[store.AuditEntry](bucketAudit, last.key, last.value)
}

func (t *tx) AuditEntries(after int64) iter.Seq2[store.AuditEntry, error] {
	return func(yield func(store.AuditEntry, error) bool) {
		for e, err := range t.table(bucketAudit).from(numberKey(after+1), nil) {
			var line store.AuditEntry
			if err == nil {
				line, err = decode[store.AuditEntry](bucketAudit, e.key, e.value)
			}
			if !yield(line, err) || err != nil {
				return
			}
		}
	}
}

func (t *tx) AppendAudit(line store.AuditEntry) error {
	trail := t.table(bucketAudit)
	end, err := trail.last()
	if err != nil {
		return fmt.Errorf("append audit %d: %w", line.Seq, err)
	}
	if last := numberOf(end.key); line.Seq != last+1 {
		return fmt.Errorf("append audit %d after %d: %w", line.Seq, last, store.ErrOrder)
	}
	return putIn(trail.grows(), numberKey(line.Seq), line)
}
