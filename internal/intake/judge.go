package intake

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"doorsill/internal/account"
	"doorsill/internal/model"
	"doorsill/internal/record"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// judgedAtOnce is how many entries one commit judges again: others wait for it.
const judgedAtOnce = 100

// Judge looks again at entries that were set aside because this server, or an
// earlier version of it, lacked a schema, a kind or a checklist, because they are
// about something that was itself set aside, or because what they build on could
// not be read. Entries that stand now are placed in the log, once, in the order in
// which they came; the others get the new verdict. It reads nothing when the server
// knows no more than at the last call that came to its end, and nothing was set
// aside as unreadable since. It may be stopped at any point and called again. When
// some entries cannot be judged, all others are, and the error says how many; an
// entry whose own record is damaged, store.ErrFull, ErrClosed and the context's
// error end it early.
func (in *Intake) Judge(ctx context.Context) error {
	known, before := in.knowledge(), ""
	err := in.store.View(ctx, func(r store.Reader) (err error) { before, err = r.JudgedBy(); return err })
	if err != nil || before == known {
		return err
	}
	faults := 0
	for after, more := int64(0), true; more; {
		var ids []int64
		if ids, after, more, err = in.toJudge(ctx, after); err != nil {
			return fmt.Errorf("judge again: %w", err)
		}
		failed, err := in.judgeAll(ctx, ids)
		if err != nil {
			return fmt.Errorf("judge again: %w", err)
		}
		faults += failed
	}
	if faults > 0 {
		// What cannot be read may name what was entered: that is not for a log.
		return fmt.Errorf("judge again: %d entries cannot be read, or what they are about cannot; verify says which", faults)
	}
	if err := in.submit(ctx, func(c *commit) error { return c.w.SetJudgedBy(known) }); err != nil {
		return fmt.Errorf("judge again: %w", err)
	}
	return nil
}

// knowledge is a hash over all that decides whether an event can be read.
func (in *Intake) knowledge() string {
	known := []string{fmt.Sprintf("schema %d", model.SchemaNow)}
	for _, kind := range model.Kinds() {
		known = append(known, "kind "+kind.Name)
	}
	known = append(known, slices.Sorted(maps.Keys(in.checklists.byHash))...)
	sum := sha256.Sum256([]byte(strings.Join(known, "\n")))
	return hex.EncodeToString(sum[:])
}

// toJudge lists the next entries that may stand now.
func (in *Intake) toJudge(ctx context.Context, after int64) (ids []int64, last int64, more bool, err error) {
	last = after
	err = in.store.View(ctx, func(r store.Reader) error {
		page, rest, err := r.QuarantinePage(store.QuarantineFilter{Open: true}, after, judgedAtOnce)
		more = rest
		for i := range page {
			last = page[i].ID
			if judgedAgain(page[i].Code) {
				ids = append(ids, last)
			}
		}
		return err
	})
	return ids, last, more, err
}

// judgedAgain says whether what was wrong with an entry can have been that the
// server did not know enough, or did not have, or could not read, what the entry
// builds on.
func judgedAgain(code string) bool {
	switch code {
	case validation.CodeUnknownSchema, validation.CodeOtherChecklist, validation.CodeSubject, validation.CodeUnreadable:
		return true
	}
	return false
}

// judgeAll judges entries in one commit, and one by one where that fails, so that
// one does not keep the others out.
func (in *Intake) judgeAll(ctx context.Context, ids []int64) (failed int, err error) {
	inOneCommit := func(ids ...int64) error {
		return in.submit(ctx, func(c *commit) error {
			for _, id := range ids {
				if err := c.judge(id); err != nil {
					return err
				}
			}
			return nil
		})
	}
	if len(ids) == 0 || inOneCommit(ids...) == nil {
		return 0, nil
	}
	for _, id := range ids {
		err := inOneCommit(id)
		if errors.Is(err, store.ErrFull) || errors.Is(err, ErrClosed) || ctx.Err() != nil {
			return failed, err
		}
		if err != nil {
			failed++
		}
	}
	return failed, nil
}

// judge places an entry, or says anew why it can not stand.
func (c *commit) judge(id int64) error {
	q, err := c.w.Quarantined(id)
	if err != nil || !q.Open() || !judgedAgain(q.Code) {
		return err
	}
	who, err := c.senderOf(&q)
	if err != nil {
		return err
	}
	it := item{raw: q.Raw}
	it.decode()
	t := pushTransaction{commit: c, who: who, tablet: q.Tablet}
	bad, err := t.overtaken(&it)
	var s *subject
	if bad == nil && err == nil {
		s, bad, err = t.place(q.N, &it)
	}
	if bad != nil && bad.Code == validation.CodeUnreadable {
		err = store.ErrDamaged // to be judged at the next start
	}
	if err != nil {
		return fmt.Errorf("judge entry %d: %w", id, err)
	}
	if bad != nil {
		return c.w.Judge(id, store.Quarantined{Code: bad.Code, Field: bad.Path, Want: bad.Want, Got: bad.Got, Hint: hint(bad)})
	}
	if s.last == 0 {
		s.begun = q.Received // the server first heard of it then
	}
	pos, err := c.w.Place(id, store.Batch{
		Tablet: q.Tablet, FirstN: q.N, Team: s.Team, Subject: s.ID, Received: q.Received, Skewed: q.Skewed, Events: [][]byte{q.Raw},
	}, c.now)
	if err != nil {
		return err
	}
	c.head = pos
	s.add(pos, &it.event, it.body)
	return errors.Join(c.touch(s), c.touchClient(q.Client))
}

// senderOf is the person who sent an entry, with the roles that they had when it
// arrived: what they may do by now is another matter. Earlier versions noted none;
// then it is the present ones.
func (c *commit) senderOf(q *store.Quarantined) (account.Caller, error) {
	who := account.Caller{Person: q.Person, Teams: q.Roles}
	if q.Roles != nil {
		return who, nil
	}
	memberships, err := c.w.MembershipsOfPerson(q.Person)
	who.Teams = make(map[string]string, len(memberships))
	for _, m := range memberships {
		who.Teams[m.Team] = m.Role
	}
	return who, err
}

// overtaken refuses an event whose tablet has a later one of the same kind about
// the same in the log: placed behind it, the older would count.
func (t *pushTransaction) overtaken(it *item) (*validation.Error, error) {
	entries, err := t.w.EntriesOfSubject(it.event.Subject)
	if err != nil || standsBeside(it.body) {
		return nil, err
	}
	for i := range entries {
		event, err := record.Decode(entries[i].Raw)
		if err != nil {
			return nil, err
		}
		if event.Tablet == t.tablet && event.N > it.event.N && event.Kind == it.event.Kind && sameItem(&event, it.body) {
			return &validation.Error{Code: validation.CodeOvertaken, Path: "n", Want: "the last of its kind from its tablet", Got: "one before " + string(event.Ref())}, nil
		}
	}
	return nil, nil
}

// standsBeside says whether events of this kind count all, in any order, and none
// replaces another.
func standsBeside(body model.Body) bool {
	switch body.(type) {
	case *model.ReadingTaken, *model.RunTimed:
		return true
	}
	return false
}

// sameItem says whether an event of the same kind and subject is about the same:
// of answers, whether they answer the same item.
func sameItem(event *model.Event, body model.Body) bool {
	answer, is := body.(*model.AnswerGiven)
	if !is {
		return true
	}
	other, _ := record.ReadBody(event) // one that cannot be read counts for nothing
	before, is := other.(*model.AnswerGiven)
	return is && before.Item == answer.Item
}
