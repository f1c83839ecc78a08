package intake

import (
	"fmt"

	"doorsill/internal/model"
	"doorsill/internal/record"
	"doorsill/internal/store"
)

// load folds what the store has of a visit.
func load(r store.Reader, checklists checklists, s *subject) error {
	return loadWith(r, checklists, s, func(int64, *model.Event, string) {})
}

// loadWith folds a visit and calls each before an event is added.
func loadWith(r store.Reader, checklists checklists, s *subject, each func(pos int64, event *model.Event, received string)) error {
	entries, err := r.EntriesOfSubject(s.ID)
	if err != nil {
		return fmt.Errorf("load visit %s: %w", s.ID, err)
	}
	s.fold = record.NewVisitFold()
	s.pinned = checklists.byHash[s.Checklist]
	for i := range entries {
		event, err := record.Decode(entries[i].Raw)
		if err != nil {
			return fmt.Errorf("load visit %s: entry at position %d: %w", s.ID, entries[i].Pos, err)
		}
		body, err := record.ReadBody(&event)
		if err != nil {
			body = nil
		}
		if i == 0 {
			s.begun = entries[i].Received
		}
		each(entries[i].Pos, &event, entries[i].Received)
		s.fold.Add(entries[i].Pos, &event, body)
		s.last = entries[i].Pos
	}
	return nil
}
