package bolt

import (
	"bytes"
	"errors"
	"fmt"
	"math"

	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// quarantineAll is the list of all quarantined entries; the others are by what
// they are counted by.
const quarantineAll store.QuarantineList = "all"

func (t *tx) Quarantined(id int64) (store.Quarantined, error) {
	return get[store.Quarantined](t, bucketQuarantine, numberKey(id))
}

func (t *tx) Quarantine(q store.Quarantined) (int64, error) {
	places := q.Code != validation.CodeForked && q.Code != validation.CodeUnsigned
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
	err = errors.Join(put(t, bucketQuarantine, numberKey(q.ID), q), t.index(&q))
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
	was := q.Open()
	q.Settled = &s
	if was {
		err = t.unlist(&q)
	}
	return errors.Join(err, put(t, bucketQuarantine, numberKey(id), q))
}

func (t *tx) Judge(id int64, as store.Quarantined) error {
	q, err := t.Quarantined(id)
	if err != nil {
		return fmt.Errorf("judge entry %d: %w", id, err)
	}
	if !q.Open() || q.Code == validation.CodeForked || as.Code == validation.CodeForked {
		return fmt.Errorf("judge entry %d: %w", id, store.ErrOrder)
	}
	q.Code, q.Field, q.Want, q.Got, q.Hint = as.Code, as.Field, as.Want, as.Got, as.Hint
	return put(t, bucketQuarantine, numberKey(id), q)
}

func (t *tx) Place(id int64, b store.Batch, at string) (int64, error) {
	q, err := t.Quarantined(id)
	if err != nil {
		return 0, fmt.Errorf("place entry %d: %w", id, err)
	}
	held, there, err := t.runAt(q.Tablet, q.N)
	if err != nil {
		return 0, fmt.Errorf("place entry %d: %w", id, err)
	}
	same := b.Tablet == q.Tablet && b.FirstN == q.N && len(b.Events) == 1 && bytes.Equal(b.Events[0], q.Raw)
	if !q.Open() || !there || held.quarantine != id || !same {
		return 0, fmt.Errorf("place entry %d: %w", id, store.ErrOrder)
	}
	if err := t.table(bucketNumbers).remove(numbered(under(q.Tablet), q.N)); err != nil {
		return 0, fmt.Errorf("place entry %d: %w", id, err)
	}
	pos, err := t.Append(b)
	if err != nil {
		return 0, fmt.Errorf("place entry %d: %w", id, err)
	}
	q.Pos, q.PlacedAt = pos, at
	return pos, errors.Join(t.unlist(&q), put(t, bucketQuarantine, numberKey(id), q))
}

func (t *tx) QuarantinedOf(f store.QuarantineFilter) ([]store.Quarantined, error) {
	list, _, err := t.QuarantinePage(f, 0, math.MaxInt)
	return list, err
}

func (t *tx) QuarantinePage(f store.QuarantineFilter, after int64, limit int) (page []store.Quarantined, more bool, err error) {
	list, prefix := t.shortest(f)
	for e, err := range t.table(list).from(numbered(prefix, after+1), prefix) {
		if err != nil {
			return page, false, err
		}
		q, err := t.Quarantined(numberOf(e.key))
		if errors.Is(err, store.ErrNotFound) {
			err = fmt.Errorf("read quarantined entry %d: %w", numberOf(e.key), store.ErrDamaged)
		}
		if err != nil {
			return page, false, err
		}
		if !matches(f, &q) {
			continue
		}
		if len(page) == limit {
			return page, true, nil
		}
		page = append(page, q)
	}
	return page, false, nil
}

// shortest is the list to look through for a filter, and what its keys begin
// with.
func (t *tx) shortest(f store.QuarantineFilter) (list bucketName, prefix []byte) {
	by, name := quarantineAll, ""
	switch {
	case f.Client != "":
		by, name = store.QuarantineByClient, f.Client
	case f.Tablet != "":
		by, name = store.QuarantineByTablet, f.Tablet
	case f.Person != "" && t.indexed():
		by, name = store.QuarantineByPerson, f.Person
	case f.Team != "":
		by, name = store.QuarantineByTeam, f.Team
	}
	list = bucketQuarantineBy
	if f.Open && t.indexed() {
		list = bucketQuarantineOpen
	}
	return list, under(string(by), name)
}

func matches(f store.QuarantineFilter, q *store.Quarantined) bool {
	return (f.Team == "" || f.Team == q.Team) &&
		(f.Tablet == "" || f.Tablet == q.Tablet) &&
		(f.Client == "" || f.Client == q.Client) &&
		(f.Person == "" || f.Person == q.Person) &&
		(f.N == 0 || f.N == q.N) &&
		(!f.Open || q.Open()) && (!f.Closed || !q.Open())
}
