package bolt

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"iter"

	"doorsill/internal/model"
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

// A result is stored as the JSON of its head, a line end, and the body; after
// that comes the body of its evidence, if it has one. Earlier versions named no
// format in the head: what they stored is of the first.

// resultHead is a result without the bodies.
type resultHead struct {
	store.Result
	// BodySize is how many bytes the body has where evidence follows.
	BodySize int `json:"body_size,omitempty"`
}

func (t *tx) Result(visit string) (store.Result, error) {
	data := t.bucket(bucketResults).Get([]byte(visit))
	if data == nil {
		return store.Result{}, store.ErrNotFound
	}
	data, err := unseal(bucketResults, []byte(visit), data)
	if err != nil {
		return store.Result{}, err
	}
	result, err := readResult(data)
	if err != nil {
		return result, fmt.Errorf("read result of %s: %w", visit, errors.Join(store.ErrDamaged, err))
	}
	return result, nil
}

func readResult(data []byte) (store.Result, error) {
	var head resultHead
	line, body, found := bytes.Cut(data, []byte{'\n'})
	if err := json.Unmarshal(line, &head); err != nil {
		return store.Result{}, err
	}
	result := head.Result
	if result.Format == "" {
		result.Format = model.FirstResultFormat
	}
	if e := result.Evidence; e != nil {
		if head.BodySize < 0 || head.BodySize > len(body) {
			return store.Result{}, errors.New("the body is cut short")
		}
		e.Body, body = bytes.Clone(body[head.BodySize:]), body[:head.BodySize]
	}
	if !found {
		return store.Result{}, errors.New("there is no body")
	}
	result.Body = bytes.Clone(body)
	return result, nil
}

func (t *tx) SetResult(result store.Result) error {
	head := resultHead{Result: result}
	if result.Evidence != nil {
		head.BodySize = len(result.Body)
	}
	data, err := json.Marshal(head)
	if err != nil {
		return fmt.Errorf("write result: %w", err)
	}
	data = append(append(data, '\n'), result.Body...)
	if result.Evidence != nil {
		data = append(data, result.Evidence.Body...)
	}
	key := []byte(result.Visit)
	if err := t.bucket(bucketResults).Put(key, seal(bucketResults, key, data)); err != nil {
		return fmt.Errorf("write result: %w", err)
	}
	return nil
}

func (t *tx) ResultFormat() string { return string(t.bucket(bucketMeta).Get(keyResultFormat)) }

func (t *tx) SetResultFormat(format string) error {
	return t.bucket(bucketMeta).Put(keyResultFormat, []byte(format))
}

func (t *tx) Summary(client string) (store.Summary, error) {
	return get[store.Summary](t, bucketSummaries, []byte(client))
}

func (t *tx) SetSummary(s store.Summary) error {
	old, _ := t.Summary(s.Client) // nothing where it can not be read: it is written anew
	if old == s {
		return nil
	}
	caseload := t.bucket(bucketCaseload)
	if err := caseload.Delete(append(under(old.Team), s.Client...)); err != nil {
		return fmt.Errorf("write summary: %w", err)
	}
	if err := caseload.Put(append(under(s.Team), s.Client...), nil); err != nil {
		return fmt.Errorf("write summary: %w", err)
	}
	return put(t, bucketSummaries, []byte(s.Client), s)
}

func (t *tx) Summaries(team string) iter.Seq2[store.Summary, error] {
	clients := t.each(bucketSummaries, nil)
	if team != "" {
		clients = t.each(bucketCaseload, under(team))
	}
	return func(yield func(store.Summary, error) bool) {
		for client := range clients {
			s, err := t.Summary(string(client))
			if err == nil && team != "" && s.Team != team {
				continue // it moved while its line could not be read
			}
			if !yield(s, err) || err != nil {
				return
			}
		}
	}
}
