package caseload

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"doorsill/internal/account"
	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

func TestQuarantineIsShownToLeadAndAuthor(t *testing.T) {
	d := NewReader(filled(t))
	author := account.Caller{Person: "p1", Teams: map[string]string{"t1": model.RoleAssistant}}
	moved := account.Caller{Person: "p1", Teams: map[string]string{"t2": model.RoleAssistant}}
	admin := account.Caller{Person: "p9", Admin: true}
	for _, c := range []struct {
		name      string
		caller    account.Caller
		team, own int // how many they see; -1 is not allowed
	}{
		{"lead", member(model.RoleLead), 1, 0}, {"author", author, 1, 1}, {"colleague", member(model.RoleClinician), 0, 0},
		{"author who has moved", moved, -1, 1}, {"author in no team", account.Caller{Person: "p1"}, -1, 1}, {"admin", admin, -1, 0},
	} {
		page, err := d.Quarantine(t.Context(), c.caller, "t1", QuarantineQuery{})
		if seen := len(page.Entries); c.team < 0 && !errors.Is(err, account.ErrNotAllowed) || c.team >= 0 && (err != nil || seen != c.team) {
			t.Errorf("%s sees %d entries of the team (%v), want %d", c.name, seen, err, c.team)
		}
		page, err = d.OwnQuarantine(t.Context(), c.caller, QuarantineQuery{})
		if err != nil || len(page.Entries) != c.own {
			t.Errorf("%s sees %d entries of their own (%v), want %d", c.name, len(page.Entries), err, c.own)
		}
	}
	_, err := d.Quarantine(t.Context(), account.Caller{}, "t1", QuarantineQuery{})
	_, err2 := d.OwnQuarantine(t.Context(), account.Caller{}, QuarantineQuery{})
	if !errors.Is(err, account.ErrSignedOut) || !errors.Is(err2, account.ErrSignedOut) {
		t.Errorf("nobody: %v, %v", err, err2)
	}
}

// TestPagesOfTheQuarantine are cut by number and by size; together they are the
// whole list once, oldest first.
func TestPagesOfTheQuarantine(t *testing.T) {
	s := filled(t)
	err := s.Update(t.Context(), func(w store.Writer) error {
		var err error
		for n := range int64(2*MostQuarantined + 9) {
			_, bad := w.Quarantine(store.Quarantined{Tablet: "tab-q", N: n + 1, Person: "p1", Team: "t1", Code: validation.CodeBrokenJSON,
				Hint: "It can not be read.", Received: "2026-03-02T09:00:00.000Z", Raw: []byte("{")})
			err = errors.Join(err, bad)
		}
		return errors.Join(err, w.SetTablet(store.Tablet{ID: "tab-q", Person: "p1", Ack: 2*MostQuarantined + 9}),
			w.Settle(3, store.Settlement{By: "p2"}), w.Settle(5, store.Settlement{By: "p2"}))
	})
	if err != nil {
		t.Fatal(err)
	}
	d := NewReader(s)
	all := func(q QuarantineQuery) (ids []int64, pages int) {
		for {
			page, err := d.Quarantine(t.Context(), member(model.RoleLead), "t1", q)
			if err != nil || len(page.Entries) > MostQuarantined {
				t.Fatalf("%d entries, %v", len(page.Entries), err)
			}
			pages++
			for i := range page.Entries {
				ids = append(ids, page.Entries[i].ID)
			}
			if q.After = page.Next; !page.More {
				return ids, pages
			}
		}
	}
	for _, c := range []struct {
		query QuarantineQuery
		want  string
		pages int
	}{
		{QuarantineQuery{}, fmt.Sprint(upTo(2*MostQuarantined + 10)), 3},
		{QuarantineQuery{Limit: 1_000_000}, fmt.Sprint(upTo(2*MostQuarantined + 10)), 3},
		{QuarantineQuery{State: StateClosed}, "[3 5]", 1},
		{QuarantineQuery{State: StateClosed, Limit: 1}, "[3 5]", 2},
		{QuarantineQuery{State: StateOpen, After: 2 * MostQuarantined}, fmt.Sprint(upTo(2*MostQuarantined + 10)[2*MostQuarantined:]), 1},
		{QuarantineQuery{After: 1_000_000}, "[]", 1},
	} {
		ids, pages := all(c.query)
		if fmt.Sprint(ids) != c.want || pages != c.pages {
			t.Errorf("%+v: %v in %d pages, want %s in %d", c.query, ids, pages, c.want, c.pages)
		}
	}
	_, err = d.Quarantine(t.Context(), member(model.RoleLead), "t1", QuarantineQuery{State: "lost"})
	var bad *validation.Error
	if !errors.As(err, &bad) || bad.Path != "state" {
		t.Errorf("another state: %v", err)
	}
}

// upTo is the numbers from 1 to n.
func upTo(n int64) (list []int64) {
	for i := range n {
		list = append(list, i+1)
	}
	return list
}

// TestLargeEntriesComeInSmallerPages and one that is larger than a page alone.
func TestLargeEntriesComeInSmallerPages(t *testing.T) {
	s := filled(t)
	err := s.Update(t.Context(), func(w store.Writer) error {
		var err error
		for n := range int64(3) {
			_, bad := w.Quarantine(store.Quarantined{Tablet: "tab-q", N: n + 1, Person: "p7", Team: "t1", Code: validation.CodeOutOfRange,
				Hint: "too long", Received: "2026-03-02T09:00:00.000Z", Raw: []byte(strings.Repeat("x", MaxPullBytes*2/3))})
			err = errors.Join(err, bad)
		}
		return errors.Join(err, w.SetTablet(store.Tablet{ID: "tab-q", Person: "p7", Ack: 3}))
	})
	if err != nil {
		t.Fatal(err)
	}
	for after, want := range []int64{2, 2, 3, 4} {
		page, err := NewReader(s).Quarantine(t.Context(), member(model.RoleLead), "t1", QuarantineQuery{After: int64(after)})
		if got := page.Next; err != nil || got != want || page.More != (want < 4) {
			t.Errorf("after %d: up to %d, more %v, %v; want up to %d", after, got, page.More, err, want)
		}
	}
}
