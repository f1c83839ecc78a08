package intake

import (
	"context"
	"errors"
	"fmt"

	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// checkAnswers checks the answers of a push against their visits' checklists,
// so that the one writer, for whom everybody waits, need not. A visit's checklist
// never changes.
func (in *Intake) checkAnswers(ctx context.Context, p *push) error {
	return in.store.View(ctx, func(r store.Reader) error {
		started := map[string]string{} // the checklists of visits that begin in this push
		for i := range p.items {
			it := &p.items[i]
			if start, is := it.body.(*model.VisitStarted); is {
				started[it.event.Subject] = start.Checklist.Hash
				continue
			}
			if _, is := it.said.(*model.AnswerGiven); !is {
				continue
			}
			hash, known := started[it.event.Subject]
			if !known {
				s, err := r.Subject(it.event.Subject)
				if err != nil && !errors.Is(err, store.ErrNotFound) {
					return fmt.Errorf("find subject %s: %w", it.event.Subject, err)
				}
				hash = s.Checklist
				started[it.event.Subject] = hash
			}
			if pinned := in.checklists.byHash[hash]; pinned != nil {
				it.badAnswer, it.checked = it.checkAnswer(in.checklists, pinned), pinned
			}
		}
		return nil
	})
}

// checkAnswer checks an answer, unless that was done before.
func (it *item) checkAnswer(all checklists, pinned *pinnedChecklist) *validation.Error {
	if it.checked == pinned {
		return it.badAnswer
	}
	answer, is := it.said.(*model.AnswerGiven)
	if !is {
		return nil
	}
	return all.check(pinned, answer)
}
