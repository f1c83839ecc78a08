package intake

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"doorsill/internal/account"
	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// ErrTakenIn is returned when somebody wants to settle an entry that was confirmed
// or given a place since they looked: they believe that it does not count, and a
// note of theirs would replace who confirmed it and why.
var ErrTakenIn = errors.New("the entry was taken in")

// Settle notes that a quarantined entry was dealt with and how. The lead of
// the entry's team may do so, and the person who sent it while they work there;
// what somebody left behind is for the lead to decide. The entry stays. The
// error is *validation.Error, account.ErrSignedOut, account.ErrNotAllowed or
// ErrTakenIn, or a fault.
func (in *Intake) Settle(ctx context.Context, who account.Caller, id int64, note string) (store.Quarantined, error) {
	if !who.SignedIn() {
		return store.Quarantined{}, account.ErrSignedOut
	}
	note = strings.TrimSpace(note)
	if note == "" || utf8.RuneCountInString(note) > model.LongestText {
		return store.Quarantined{}, validation.Invalid("note", "a sentence that says how the entry was dealt with")
	}
	var after store.Quarantined
	err := in.submit(ctx, func(c *commit) (err error) {
		after, err = c.settle(who, id, note)
		return err
	})
	if err != nil {
		return store.Quarantined{}, err
	}
	return after, nil
}

func (c *commit) settle(who account.Caller, id int64, note string) (store.Quarantined, error) {
	q, err := c.w.Quarantined(id)
	if errors.Is(err, store.ErrNotFound) {
		return q, account.ErrNotAllowed
	}
	if err != nil {
		return q, fmt.Errorf("settle entry %d: %w", id, err)
	}
	if !who.Leads(q.Team) && !(q.Person == who.Person && who.Member(q.Team)) {
		return store.Quarantined{}, account.ErrNotAllowed
	}
	if q.Pos != 0 || q.Settled != nil && q.Settled.Confirmed {
		return store.Quarantined{}, ErrTakenIn
	}
	settled := store.Settlement{By: who.Person, At: c.now, Note: note}
	if err := c.w.Settle(id, settled); err != nil {
		return q, err
	}
	q.Settled = &settled
	return q, c.touchClient(q.Client)
}
