package readiness

import (
	"doorsill/internal/checklist"
	"doorsill/internal/message"
)

// Barrier is a place of the home that the person needs and that does not let the
// chair through. What lies behind it is not driven alone.
type Barrier struct {
	// Place is the id of the place.
	Place string
	// Answer names the place and what is wrong, Say what that forbids, Clear what
	// would lift it.
	Answer, Say, Clear message.Message
}

// barriers raises a limit for every place that does not let the chair through.
func (j *judge) barriers(effect string) {
	if effect != checklist.LimitAccompanied {
		return
	}
	for i := range j.in.Barriers {
		b := &j.in.Barriers[i]
		j.Effects = append(j.Effects, Raised{Effect: effect, Item: -1, Barrier: b, Say: b.Say})
	}
}

// standing states what raises an effect: an item with its answer, or a place.
func (j *judge) standing(r *Raised) message.Message {
	if r.Barrier != nil {
		return r.Barrier.Answer
	}
	return message.New("readiness.answered", message.Word("item", j.items[r.Item].ID), message.Inner("answer", j.answer(r.Item)))
}
