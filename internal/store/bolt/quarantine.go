package bolt

import (
	"errors"
	"fmt"

	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// Lists of quarantined entries, by what they begin with.
const (
	quarantineTeam   = "team"
	quarantineTablet = "tablet"
	quarantineClient = "client"
	quarantineAll    = "all"
)

func (t *tx) Quarantined(id int64) (store.Quarantined, error) {
	return get[store.Quarantined](t, bucketQuarantine, numberKey(id))
}

func (t *tx) Quarantine(q store.Quarantined) (int64, error) {
	places := q.Code != validation.CodeForked && q.Code != validation.CodeUnsigned
	if places && t.overlaps(q.Tablet, q.N, 1) {
		return 0, fmt.Errorf("quarantine %d of tablet %s: %w", q.N, q.Tablet, store.ErrOrder)
	}
	last, _ := t.bucket(bucketQuarantine).Cursor().Last()
	q.ID = numberOf(last) + 1
	lists := t.bucket(bucketQuarantineBy)
	err := errors.Join(
		put(t, bucketQuarantine, numberKey(q.ID), q),
		lists.Put(numbered(under(quarantineAll, ""), q.ID), nil),
		lists.Put(numbered(under(quarantineTeam, q.Team), q.ID), nil),
		lists.Put(numbered(under(quarantineTablet, q.Tablet), q.ID), nil),
		lists.Put(numbered(under(quarantineClient, q.Client), q.ID), nil),
	)
	if places {
		placed := run{count: 1, quarantine: q.ID}
		err = errors.Join(err, t.bucket(bucketNumbers).Put(numbered(under(q.Tablet), q.N), placed.value()))
	}
	return q.ID, err
}

func (t *tx) Settle(id int64, s store.Settlement) error {
	q, err := t.Quarantined(id)
	if err != nil {
		return fmt.Errorf("settle entry %d: %w", id, err)
	}
	q.Settled = &s
	return put(t, bucketQuarantine, numberKey(id), q)
}

func (t *tx) QuarantinedOf(f store.QuarantineFilter) ([]store.Quarantined, error) {
	prefix := under(quarantineAll, "")
	switch {
	case f.Client != "":
		prefix = under(quarantineClient, f.Client)
	case f.Tablet != "":
		prefix = under(quarantineTablet, f.Tablet)
	case f.Team != "":
		prefix = under(quarantineTeam, f.Team)
	}
	var list []store.Quarantined
	for id := range t.each(bucketQuarantineBy, prefix) {
		q, err := t.Quarantined(numberOf(id))
		if err != nil {
			return list, err
		}
		if matches(f, q) {
			list = append(list, q)
		}
	}
	return list, nil
}

func matches(f store.QuarantineFilter, q store.Quarantined) bool {
	return (f.Team == "" || f.Team == q.Team) &&
		(f.Tablet == "" || f.Tablet == q.Tablet) &&
		(f.Client == "" || f.Client == q.Client) &&
		(f.N == 0 || f.N == q.N) &&
		!(f.Open && q.Settled != nil)
}
