package intake

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode/utf8"

	"doorsill/internal/account"
	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// MostConfirmed is how many entries can be confirmed at once.
const MostConfirmed = 1_000

// ErrAuthorIsHere is returned when a lead wants to confirm entries whose author
// still works in the team, and can be asked.
var ErrAuthorIsHere = errors.New("the author is here to confirm the entries")

// Confirm takes in quarantined entries that came unsigned: their author says that
// they are theirs, or, once the author is gone, the lead of the entries' team, with
// a reason. Each is then judged as if it had arrived now, once. The entries are of
// one tablet, and none of its numbers before them may be missing. The error is
// *validation.Error, account.ErrSignedOut, account.ErrNotAllowed, ErrAuthorIsHere,
// a *PushError with CodeGap, or a fault; nothing was taken in then.
func (in *Intake) Confirm(ctx context.Context, who account.Caller, ids []int64, reason string) (PushAnswer, error) {
	if !who.SignedIn() {
		return PushAnswer{}, account.ErrSignedOut
	}
	reason = strings.TrimSpace(reason)
	switch {
	case len(ids) == 0 || len(ids) > MostConfirmed:
		return PushAnswer{}, validation.Invalid("entries", fmt.Sprintf("1 to %d entries", MostConfirmed))
	case utf8.RuneCountInString(reason) > model.LongestText:
		return PushAnswer{}, validation.Invalid("reason", fmt.Sprintf("at most %d characters", model.LongestText))
	}
	if err := in.room(); err != nil {
		return PushAnswer{}, err
	}
	var answer PushAnswer
	err := in.submit(ctx, func(c *commit) error {
		list, err := c.toConfirm(who, ids, reason)
		if err == nil {
			answer, err = c.confirm(who, list, reason)
		}
		return err
	})
	if err != nil {
		return PushAnswer{}, err
	}
	answer.ServerTime = stampOf(in.now())
	return answer, nil
}

// toConfirm reads the entries, in the order of their numbers, and refuses them all
// when the caller may not confirm one of them, or one has to wait for another.
func (c *commit) toConfirm(who account.Caller, ids []int64, reason string) ([]store.Quarantined, error) {
	ids = slices.Compact(slices.Sorted(slices.Values(ids)))
	list := make([]store.Quarantined, 0, len(ids))
	for _, id := range ids {
		q, err := c.w.Quarantined(id)
		if errors.Is(err, store.ErrNotFound) {
			return nil, account.ErrNotAllowed
		}
		if err == nil {
			err = mayConfirm(c.w, who, &q, reason)
		}
		if err != nil {
			return nil, err
		}
		list = append(list, q)
	}
	slices.SortStableFunc(list, func(a, b store.Quarantined) int { return cmp.Compare(a.N, b.N) })
	tablet, err := c.w.Tablet(list[0].Tablet)
	if err != nil {
		return nil, fmt.Errorf("confirm entries of tablet %s: %w", list[0].Tablet, err)
	}
	ack := tablet.Ack
	for i := range list {
		if list[i].Tablet != tablet.ID {
			return nil, validation.Invalid("entries", "entries of one tablet")
		}
		if list[i].N > ack+1 {
			return nil, &PushError{Code: CodeGap, Ack: ack, Field: "entries", Want: fmt.Sprintf("number %d of the tablet first", ack+1),
				Message: fmt.Sprintf("Entry %d of this tablet has not arrived, and those after it count only after it. Confirm it first, or let the tablet send it.", ack+1)}
		}
		ack = max(ack, list[i].N)
	}
	return list, nil
}

// mayConfirm refuses somebody who may not confirm an entry, and an entry that does
// not wait for it.
func mayConfirm(r store.Reader, who account.Caller, q *store.Quarantined, reason string) error {
	mine := q.Person == who.Person
	if !mine && !who.Leads(q.Team) {
		return account.ErrNotAllowed
	}
	if q.Code != validation.CodeUnsigned || !q.Open() {
		return validation.Invalid("entries", "entries that came unsigned and that nobody has dealt with")
	}
	if mine {
		return nil
	}
	here, err := worksIn(r, q.Person, q.Team)
	switch {
	case err != nil:
		return err
	case here:
		return ErrAuthorIsHere
	case reason == "":
		return validation.Invalid("reason", "why you know that the author wrote these entries")
	}
	return nil
}

// Confirmable says which of some quarantined entries the caller may confirm now, a
// lead with a reason.
func (in *Intake) Confirmable(ctx context.Context, who account.Caller, list []store.Quarantined) (map[int64]bool, error) {
	may := map[int64]bool{}
	err := in.store.View(ctx, func(r store.Reader) error {
		for i := range list {
			err := mayConfirm(r, who, &list[i], "some reason")
			if err != nil && !refused(err) {
				return err
			}
			may[list[i].ID] = err == nil
		}
		return nil
	})
	return may, err
}

// worksIn says whether somebody has an open account and works in a team.
func worksIn(r store.Reader, person, team string) (bool, error) {
	p, err := r.Person(person)
	if errors.Is(err, store.ErrNotFound) {
		return false, nil
	}
	if err != nil {
		return false, fmt.Errorf("find the author: %w", err)
	}
	roles, err := account.RolesOf(r, person)
	return p.Active && roles[team] != "", err
}

// confirm takes in entries of one tablet, in the order of their numbers.
func (c *commit) confirm(who account.Caller, list []store.Quarantined, reason string) (PushAnswer, error) {
	tablet, err := c.w.Tablet(list[0].Tablet)
	if err != nil {
		return PushAnswer{}, err
	}
	roles, err := account.RolesOf(c.w, tablet.Person)
	if err != nil {
		return PushAnswer{}, fmt.Errorf("confirm entries of tablet %s: %w", tablet.ID, err)
	}
	t := pushTransaction{commit: c, push: &push{}, tablet: tablet.ID, confirming: true, who: account.Caller{Person: tablet.Person, Teams: roles}}
	answer := PushAnswer{Log: c.log, Verdicts: make([]Verdict, 0, len(list))}
	for i := range list {
		q := &list[i]
		t.who.Teams = roles
		if who.Person != q.Person && roles[q.Team] == "" {
			// The lead vouches for somebody who works in this team no more.
			t.who.Teams = maps.Clone(roles)
			t.who.Teams[q.Team] = model.RoleClinician
		}
		verdict, err := t.takeConfirmed(q, tablet.Ack)
		if err != nil {
			return PushAnswer{}, fmt.Errorf("take in event %d of tablet %s: %w", q.N, tablet.ID, err)
		}
		tablet.Ack = max(tablet.Ack, q.N)
		answer.Verdicts = append(answer.Verdicts, verdict)
		if err := c.w.Settle(q.ID, store.Settlement{By: who.Person, At: c.now, Note: reason, Confirmed: true}); err != nil {
			return PushAnswer{}, err
		}
		if err := c.touchClient(q.Client); err != nil {
			return PushAnswer{}, err
		}
	}
	if err := t.flush(); err != nil {
		return PushAnswer{}, fmt.Errorf("take in confirmed entries of tablet %s: %w", tablet.ID, err)
	}
	answer.Ack = tablet.Ack
	return answer, c.w.SetTablet(tablet)
}

// takeConfirmed judges an entry as if it had arrived now.
func (t *pushTransaction) takeConfirmed(q *store.Quarantined, ack int64) (Verdict, error) {
	it := item{raw: q.Raw}
	it.decode()
	if q.N > ack {
		return t.takeNew(q.N, &it)
	}
	// The batch must be in the log for the number to be found there.
	if err := t.flush(); err != nil {
		return Verdict{}, err
	}
	placed, err := t.w.Placed(t.tablet, q.N)
	if err != nil {
		return Verdict{}, err
	}
	if bytes.Equal(placed.Raw, q.Raw) {
		return knownAs(t.w, q.N, placed)
	}
	return t.quarantine(q.N, &it, forked())
}
