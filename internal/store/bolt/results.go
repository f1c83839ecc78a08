package bolt

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"iter"
	"slices"

	"doorsill/internal/model"
	"doorsill/internal/store"
)

func (t *tx) Tablet(id string) (store.Tablet, error) {
	return get[store.Tablet](t, bucketTablets, []byte(id))
}

func (t *tx) Tablets() ([]store.Tablet, error) { return all[store.Tablet](t, bucketTablets) }

// TabletsOfPerson follows a list of its own, so that a tablet that can not be read
// is in nobody's way but its owner's.
func (t *tx) TabletsOfPerson(person string) ([]store.Tablet, error) {
	if t.unchecked {
		return t.tabletsSearched(person)
	}
	ids, err := t.names(bucketTabletsOf, under(person))
	if err != nil {
		return nil, err
	}
	var own []store.Tablet
	for _, id := range ids {
		tablet, err := t.Tablet(id)
		if errors.Is(err, store.ErrNotFound) {
			err = fmt.Errorf("read tablet %s: %w", id, store.ErrDamaged)
		}
		if err != nil {
			return own, err
		}
		own = append(own, tablet)
	}
	return own, nil
}

// tabletsSearched is TabletsOfPerson in a file of an earlier format.
func (t *tx) tabletsSearched(person string) ([]store.Tablet, error) {
	tablets, err := t.Tablets()
	return slices.DeleteFunc(tablets, func(one store.Tablet) bool { return one.Person != person }), err
}

func (t *tx) SetTablet(tablet store.Tablet) error {
	old, err := t.Tablet(tablet.ID)
	if err != nil && !errors.Is(err, store.ErrNotFound) {
		return fmt.Errorf("set tablet: %w", err)
	}
	if known := err == nil; !known || old.Person != tablet.Person {
		of := t.table(bucketTabletsOf)
		if known {
			err = of.remove(append(under(old.Person), tablet.ID...))
		} else {
			err = nil
		}
		if err = errors.Join(err, of.put(append(under(tablet.Person), tablet.ID...), nil)); err != nil {
			return fmt.Errorf("set tablet: %w", err)
		}
	}
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
	data, found, err := t.table(bucketResults).get([]byte(visit))
	if err != nil {
		return madeOut(data), err
	}
	if !found {
		return store.Result{}, store.ErrNotFound
	}
	sealed := data
	data, err = unseal(bucketResults, []byte(visit), sealed)
	if err != nil {
		return madeOut(sealed), err
	}
	result, err := readResult(data)
	if err != nil {
		return result, fmt.Errorf("read result of %s: %w", visit, errors.Join(store.ErrDamaged, err))
	}
	return result, nil
}

// madeOut is what can be made out of a damaged result: its bodies have hashes of
// their own.
func madeOut(sealed []byte) store.Result {
	if len(sealed) < sealSize {
		return store.Result{}
	}
	result, err := readResult(sealed[:len(sealed)-sealSize])
	if err != nil {
		return store.Result{}
	}
	return result
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
	if err := t.table(bucketResults).put(key, seal(bucketResults, key, data)); err != nil {
		return fmt.Errorf("write result: %w", err)
	}
	return nil
}

func (t *tx) ResultFormat() (string, error) {
	format, _, err := t.table(bucketMeta).get(keyResultFormat)
	return string(format), err
}

func (t *tx) SetResultFormat(format string) error {
	return t.table(bucketMeta).put(keyResultFormat, []byte(format))
}

func (t *tx) Summary(client string) (store.Summary, error) {
	return get[store.Summary](t, bucketSummaries, []byte(client))
}

func (t *tx) SetSummary(s store.Summary) error {
	old, err := t.Summary(s.Client)
	if err != nil && !errors.Is(err, store.ErrNotFound) && !errors.Is(err, store.ErrDamaged) {
		return fmt.Errorf("write summary: %w", err)
	}
	if err == nil && old == s {
		return nil
	}
	caseload := t.table(bucketCaseload)
	// Where an old line can not be read its team is not known; Summaries passes
	// over what is left of it.
	if err := caseload.remove(append(under(old.Team), s.Client...)); err != nil {
		return fmt.Errorf("write summary: %w", err)
	}
	if err := caseload.put(append(under(s.Team), s.Client...), nil); err != nil {
		return fmt.Errorf("write summary: %w", err)
	}
	return put(t, bucketSummaries, []byte(s.Client), s)
}

func (t *tx) Summaries(team string) iter.Seq2[store.Summary, error] {
	list, prefix := t.table(bucketSummaries), []byte(nil)
	if team != "" {
		list, prefix = t.table(bucketCaseload), under(team)
	}
	return func(yield func(store.Summary, error) bool) {
		for e, err := range list.under(prefix) {
			var s store.Summary
			client := ""
			if e.key != nil {
				client = string(e.key[len(prefix):])
			}
			switch {
			case err == nil && team == "":
				s, err = decode[store.Summary](bucketSummaries, e.key, e.value)
			case err == nil:
				s, err = t.Summary(client)
			}
			if errors.Is(err, store.ErrNotFound) {
				err = fmt.Errorf("read summary of %s: %w", client, store.ErrDamaged)
			}
			if err != nil {
				s = store.Summary{Client: client, Team: team}
			} else if team != "" && s.Team != team {
				continue // it moved while its line could not be read
			}
			if !yield(s, err) {
				return
			}
		}
	}
}
