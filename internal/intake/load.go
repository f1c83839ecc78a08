package intake

import (
	"errors"
	"fmt"

	"doorsill/internal/model"
	"doorsill/internal/record"
	"doorsill/internal/store"
)

// load folds what the store has of a visit.
func load(r store.Reader, checklists checklists, s *subject) error {
	return loadWith(r, checklists, s, func(int64, *model.Event, string) {})
}

// storedResult is a visit's result as the store has it. One that is damaged is as
// good as one without a score: it must not hold up what tablets send about the
// client. The visit's next entry, or Rescore, computes it anew, and verify finds it.
func storedResult(r store.Reader, id string) (store.Result, error) {
	stored, err := r.Result(id)
	if errors.Is(err, store.ErrDamaged) {
		return store.Result{Visit: id, Brief: store.Brief{Unscored: true}}, nil
	}
	return stored, err
}

// storedEvidence is what is kept of a visit's result.
func storedEvidence(r store.Reader, id string) (evidence, error) {
	stored, err := r.Result(id)
	switch {
	case errors.Is(err, store.ErrDamaged):
		intact(&stored)
		return evidenceOf(&stored), nil
	case err == nil:
		return evidenceOf(&stored), nil
	case errors.Is(err, store.ErrNotFound):
		return evidence{}, nil
	}
	return evidence{}, fmt.Errorf("load visit %s: %w", id, err)
}

// loadWith folds what the store has of a visit and calls each before an event is added.
func loadWith(r store.Reader, checklists checklists, s *subject, each func(pos int64, event *model.Event, received string)) error {
	var err error
	if s.evidence, err = storedEvidence(r, s.ID); err != nil {
		return err
	}
	entries, err := r.EntriesOfSubject(s.ID)
	if err != nil {
		return fmt.Errorf("load visit %s: %w", s.ID, err)
	}
	logs, err := r.Logs()
	if err != nil {
		return fmt.Errorf("load visit %s: %w", s.ID, err)
	}
	s.fold = record.NewVisitFold(logs)
	s.pinned = checklists.byHash[s.Checklist]
	for i := range entries {
		event, err := record.Decode(entries[i].Raw)
		if err != nil {
			return fmt.Errorf("load visit %s: entry at position %d: %w", s.ID, entries[i].Pos, err)
		}
		body, _ := record.ReadBody(&event) // one that cannot be read is nil, and counted as unknown
		if i == 0 {
			s.begun = entries[i].Received
		}
		each(entries[i].Pos, &event, entries[i].Received)
		s.add(entries[i].Pos, &event, body)
	}
	return nil
}

// add takes in one more event, and folds it into a visit.
func (s *subject) add(pos int64, event *model.Event, body model.Body) {
	s.last = pos
	if s.fold == nil {
		return
	}
	if event.Kind != model.KindVisitSigned {
		s.evidence.said = pos
	}
	s.fold.Add(pos, event, body)
}
