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
	places := q.Code != validation.CodeForked
	if places {
		placed, err := t.overlaps(q.Tablet, q.N, 1)
		if err != nil {
			return 0, fmt.Errorf("quarantine %d of tablet %s: %w", q.N, q.Tablet, err)
		}
		if placed {
			return 0, fmt.Errorf("quarantine %d of tablet %s: %w", q.N, q.Tablet, store.ErrOrder)
		}
	}
	last, err := t.table(bucketQuarantine).last()
	if err != nil {
		return 0, fmt.Errorf("quarantine %d of tablet %s: %w", q.N, q.Tablet, err)
	}
	q.ID = numberOf(last.key) + 1
	lists := t.table(bucketQuarantineBy)
	err = errors.Join(
		put(t, bucketQuarantine, numberKey(q.ID), q),
		lists.put(numbered(under(quarantineAll, ""), q.ID), nil),
		lists.put(numbered(under(quarantineTeam, q.Team), q.ID), nil),
		lists.put(numbered(under(quarantineTablet, q.Tablet), q.ID), nil),
		lists.put(numbered(under(quarantineClient, q.Client), q.ID), nil),
	)
	if places {
		placed := run{count: 1, quarantine: q.ID}
		err = errors.Join(err, t.table(bucketNumbers).put(numbered(under(q.Tablet), q.N), placed.value()))
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
	for e, err := range t.table(bucketQuarantineBy).under(prefix) {
		if err != nil {
			return list, err
		}
		q, err := t.Quarantined(numberOf(e.key))
		if errors.Is(err, store.ErrNotFound) {
			err = fmt.Errorf("read quarantined entry %d: %w", numberOf(e.key), store.ErrDamaged)
		}
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
