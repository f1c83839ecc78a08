package intake

import (
	"errors"
	"fmt"
	"strconv"

	"doorsill/internal/model"
	"doorsill/internal/record"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// fitsReplaced says whether an answer names answers to its own item, where it
// names what it replaces. A restored server may not have all of them yet.
func (t *pushTransaction) fitsReplaced(s *subject, b *model.AnswerGiven) (*validation.Error, error) {
	for i, ref := range b.Replaces {
		item, there := s.fold.Answered(ref)
		if there && item == b.Item {
			continue
		}
		if !there {
			other, err := t.isOther(ref)
			if err != nil {
				return nil, err
			}
			if !other {
				continue
			}
		}
		return &validation.Error{Code: validation.CodeSubject, Path: "body.replaces[" + strconv.Itoa(i) + "]",
			Want: "an answer to " + b.Item + " in this visit", Got: string(ref)}, nil
	}
	return nil, nil
}

// isOther says whether the log has something that is surely no answer of the visit
// whose fold does not know it: a newer version may have written an answer that
// this one cannot read.
func (t *pushTransaction) isOther(ref model.Ref) (bool, error) {
	placed, err := t.w.Placed(ref.Tablet(), ref.Number())
	if errors.Is(err, store.ErrNotFound) || err == nil && placed.Pos == 0 {
		return false, nil
	}
	if err != nil {
		return false, fmt.Errorf("find %s, which is replaced: %w", ref, err)
	}
	event, err := record.Decode(placed.Raw)
	return err == nil && event.Known(), nil
}
