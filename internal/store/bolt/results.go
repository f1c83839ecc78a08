package bolt

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"iter"

	"doorsill/internal/store"
)

func (t *tx) Tablet(id string) (store.Tablet, error) {
	return get[store.Tablet](t, bucketTablets, []byte(id))
}

func (t *tx) Tablets() ([]store.Tablet, error) { return all[store.Tablet](t, bucketTablets) }

func (t *tx) TabletsOfPerson(person string) ([]store.Tablet, error) {
	tablets, err := t.Tablets()
	var own []store.Tablet
	for _, tablet := range tablets {
		if tablet.Person == person {
			own = append(own, tablet)
		}
	}
	return own, err
}

func (t *tx) SetTablet(tablet store.Tablet) error {
	return put(t, bucketTablets, []byte(tablet.ID), tablet)
}

// A result is stored as its JSON without the text, a line end, and the text.

func (t *tx) Result(visit string) (store.Result, error) {
	data := t.bucket(bucketResults).Get([]byte(visit))
	if data == nil {
		return store.Result{}, store.ErrNotFound
	}
	var result store.Result
	data, err := unseal(bucketResults, []byte(visit), data)
	if err != nil {
		return result, err
	}
	head, text, found := bytes.Cut(data, []byte{'\n'})
	if err := json.Unmarshal(head, &result); err != nil || !found {
		return result, fmt.Errorf("read result of %s: %w", visit, errors.Join(store.ErrDamaged, err))
	}
	result.Text = bytes.Clone(text)
	return result, nil
}

func (t *tx) SetResult(result store.Result) error {
	text := result.Text
	result.Text = nil
	data, err := json.Marshal(result)
	if err != nil {
		return fmt.Errorf("write result: %w", err)
	}
	key := []byte(result.Visit)
	data = seal(bucketResults, key, append(append(data, '\n'), text...))
	if err := t.bucket(bucketResults).Put(key, data); err != nil {
		return fmt.Errorf("write result: %w", err)
	}
	return nil
}

func (t *tx) Summary(client string) (store.Summary, error) {
	return get[store.Summary](t, bucketSummaries, []byte(client))
}

func (t *tx) SetSummary(s store.Summary) error {
	old, err := t.Summary(s.Client)
	if err == nil && old == s {
		return nil
	}
	caseload := t.bucket(bucketCaseload)
	if err == nil && old.Team != s.Team {
		if err := caseload.Delete(append(under(old.Team), s.Client...)); err != nil {
			return fmt.Errorf("write summary: %w", err)
		}
	}
	if err := caseload.Put(append(under(s.Team), s.Client...), nil); err != nil {
		return fmt.Errorf("write summary: %w", err)
	}
	return put(t, bucketSummaries, []byte(s.Client), s)
}

func (t *tx) Summaries(team string) iter.Seq2[store.Summary, error] {
	return func(yield func(store.Summary, error) bool) {
		stop := errors.New("stop")
		var err error
		if team == "" {
			err = t.bucket(bucketSummaries).ForEach(func(key, data []byte) error {
				s, err := decode[store.Summary](bucketSummaries, key, data)
				if !yield(s, err) || err != nil {
					return stop
				}
				return nil
			})
		} else {
			err = t.each(bucketCaseload, under(team), func(client, _ []byte) error {
				s, err := t.Summary(string(client))
				if !yield(s, err) || err != nil {
					return stop
				}
				return nil
			})
		}
		_ = err // either nil or stop: errors were handed to yield
	}
}
