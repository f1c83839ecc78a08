package simulation

import (
	"errors"
	"fmt"
	"maps"
	"slices"

	"doorsill/internal/model"
	"doorsill/internal/record"
)

// bothStand folds the answers by what their authors really had before them, and
// not by what the events say of it. It needs no log and no position.
func bothStand(w *world, v *serverState) error {
	if w.has.clones {
		return nil // two devices write one stream, and do not see each other
	}
	said := map[string]*entry{}
	for _, e := range w.said {
		for line := range e.lines {
			said[refIn(line)] = e
		}
	}
	var bad []error
	for id, s := range v.subjects {
		if s.Kind != model.SubjectVisit {
			continue
		}
		visit, err := record.FoldVisit(w.stored(id), v.logs)
		w.must(err)
		for _, answer := range visit.Answers {
			bad = append(bad, w.standThoughKnown(v, id+" "+answer.Item, answer, said)...)
			bad = append(bad, w.yieldedUnseen(v, id, answer, said)...)
		}
	}
	return errors.Join(bad...)
}

// standThoughKnown finds answers that stand beside one whose author had them on
// the tablet. A restored server may have them in another order, or lack one that
// was in between: then both stand. So they do where the author had chosen between
// them, and it was set aside because their role does not cover it.
func (w *world) standThoughKnown(v *serverState, item string, answer model.Answer, said map[string]*entry) (bad []error) {
	if w.has.restores {
		return nil
	}
	setAside := func(author string) bool {
		return slices.ContainsFunc(w.said, func(e *entry) bool {
			lies := slices.ContainsFunc(slices.Collect(maps.Keys(e.lines)), func(line string) bool { return v.quarantined[line] > 0 })
			return e.author == author && e.chooses && e.item == item && lies
		})
	}
	for i, head := range answer.Heads {
		for _, other := range answer.Heads[i+1:] {
			if one := said[string(other.Ref)]; one.knew[said[string(head.Ref)].id] && !setAside(one.author) {
				bad = append(bad, fmt.Errorf("%s knew %s and both stand", other.Ref, head.Ref))
			}
		}
	}
	return bad
}

// yieldedUnseen finds answers that no longer stand though nobody who answered or
// chose afterwards had them on the tablet.
func (w *world) yieldedUnseen(v *serverState, id string, answer model.Answer, said map[string]*entry) (bad []error) {
	stands := map[string]bool{}
	for _, head := range answer.Heads {
		stands[string(head.Ref)] = true
	}
	entries := w.stored(id)
	for i, e := range entries {
		ref := refIn(string(e.Raw))
		one := said[ref]
		if one == nil || one.item != id+" "+answer.Item || one.chooses || stands[ref] {
			continue
		}
		excused := false
		for _, later := range entries[i+1:] {
			next := said[refIn(string(later.Raw))]
			excused = excused || next != nil && next.item == one.item && (next.knew[one.id] || claimed(v, next, e.Pos))
		}
		if !excused {
			bad = append(bad, fmt.Errorf("%s yielded to nobody who had seen it", ref))
		}
	}
	return bad
}

// claimed reports whether an entry counts as having seen a position, because it says so
// of a log that the present one begins with up to there.
func claimed(v *serverState, one *entry, pos int64) bool {
	return slices.ContainsFunc(v.logs.Earlier, func(earlier model.EarlierLog) bool {
		return earlier.Log == one.claims && pos <= earlier.Until
	})
}
