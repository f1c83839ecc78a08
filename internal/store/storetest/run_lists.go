package storetest

import (
	"errors"
	"fmt"
	"testing"

	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// testFilters asks for what was set aside by each part of a filter, and by
// several at a time.
func testFilters(t *testing.T, s store.Store) {
	change(t, s, func(w store.Writer) error {
		var err error
		for i, q := range []store.Quarantined{
			{Team: "north", Tablet: "tab-a", N: 1, Client: "c1"},
			{Team: "north", Tablet: "tab-a", N: 2, Client: "c2"},
			{Team: "south", Tablet: "tab-b", N: 1, Client: "c1"},
			{Team: "north", Tablet: "tab-b", N: 2},
			{Team: "south", Tablet: "tab-a", N: 2, Client: "c1", Code: validation.CodeForked},
		} {
			if q.Received, q.Hint = Arrived, "something is missing"; q.Code == "" {
				q.Code = validation.CodeRequired
			}
			id, bad := w.Quarantine(q)
			equal(t, "id", id, int64(i)+1)
			err = errors.Join(err, bad)
		}
		return errors.Join(err, w.Settle(2, store.Settlement{By: "lena"}), w.Settle(3, store.Settlement{By: "lena"}))
	})
	view(t, s, func(r store.Reader) error {
		for _, tt := range []struct {
			filter store.QuarantineFilter
			want   string
		}{
			{store.QuarantineFilter{}, "[1 2 3 4 5]"},
			{store.QuarantineFilter{Team: "north"}, "[1 2 4]"},
			{store.QuarantineFilter{Tablet: "tab-a"}, "[1 2 5]"},
			{store.QuarantineFilter{Client: "c1"}, "[1 3 5]"},
			{store.QuarantineFilter{Tablet: "tab-a", N: 2}, "[2 5]"},
			{store.QuarantineFilter{N: 1}, "[1 3]"},
			{store.QuarantineFilter{Team: "north", Tablet: "tab-b"}, "[4]"},
			{store.QuarantineFilter{Team: "south", Client: "c1"}, "[3 5]"},
			{store.QuarantineFilter{Tablet: "tab-b", Client: "c1"}, "[3]"},
			{store.QuarantineFilter{Team: "north", Tablet: "tab-a", Client: "c2", N: 2}, "[2]"},
			{store.QuarantineFilter{Open: true}, "[1 4 5]"},
			{store.QuarantineFilter{Team: "south", Open: true}, "[5]"},
			{store.QuarantineFilter{Client: "c"}, "[]"},
		} {
			list, err := r.QuarantinedOf(tt.filter)
			if err != nil {
				return err
			}
			ids := []int64{}
			for _, q := range list {
				ids = append(ids, q.ID)
			}
			equal(t, fmt.Sprintf("%+v", tt.filter), fmt.Sprint(ids), tt.want)
		}
		return nil
	})
}

// testGaps places numbers beyond a gap; what fills it must end before them.
func testGaps(t *testing.T, s store.Store) {
	change(t, s, func(w store.Writer) error {
		return errors.Join(Push(w, Batch("tab-a", 10, 3, "north", "c1")), Push(w, Batch("tab-b", 1, 1, "north", "c1")), Push(w, Batch("tab-c", 2, 1, "north", "c1")))
	})
	for _, tt := range []struct {
		first int64
		count int
		want  error
	}{{8, 3, store.ErrOrder}, {8, 5, store.ErrOrder}, {9, 2, store.ErrOrder}, {8, 2, nil}, {13, 1, nil}, {1, 7, nil}} {
		change(t, s, func(w store.Writer) error {
			_, err := w.Append(Batch("tab-a", tt.first, tt.count, "north", "c1"))
			wantError(t, fmt.Sprintf("%d from %d", tt.count, tt.first), err, tt.want)
			return nil
		})
	}
	change(t, s, func(w store.Writer) error {
		_, none := w.Append(store.Batch{Tablet: "tab-a", FirstN: 20, Team: "north", Subject: "c1"})
		wantError(t, "no events", none, store.ErrOrder)
		id, before := w.Quarantine(quarantine("tab-c", 1, "north", validation.CodeRequired))
		wantError(t, "a number before one that is placed", before, nil)
		equal(t, "id", id, 1)
		_, held := w.Quarantine(quarantine("tab-a", 11, "north", validation.CodeRequired))
		wantError(t, "a number that is placed", held, store.ErrOrder)
		wantError(t, "a name that is none", w.SetLogID("a b"), store.ErrForeign)
		return w.SetTablet(store.Tablet{ID: "tab-a", Person: "person-tab-a", Ack: 13})
	})
	view(t, s, func(r store.Reader) error {
		placed, err := r.Placed("tab-a", 12)
		equal(t, "position of 12", placed.Pos, 3)
		equal(t, "head", Head(t, r), 15)
		return err
	})
}

// testNewNames renames what other lists name too.
func testNewNames(t *testing.T, s store.Store) {
	change(t, s, func(w store.Writer) error {
		return errors.Join(
			w.SetPerson(store.Person{ID: "p1", Login: "marit"}), w.SetPerson(store.Person{ID: "p1", Login: "marit.o"}),
			w.SetPerson(store.Person{ID: "p1", Login: "marit.o", Name: "Marit"}),
			w.SetPerson(store.Person{ID: "p2", Login: "davit"}), w.SetPerson(store.Person{ID: "p2"}),
			w.SetPerson(store.Person{ID: "p3"}), w.SetPerson(store.Person{ID: "p4"}),
			w.SetSession(store.Session{Hash: "h1", Person: "p1", Expires: "2026-03-02"}), w.SetSession(store.Session{Hash: "h1", Person: "p2", Expires: "2026-03-02"}),
			w.SetLogID("another-name"),
		)
	})
	view(t, s, func(r store.Reader) error {
		for _, login := range []string{"marit", "davit"} {
			_, err := r.PersonByLogin(login)
			wantError(t, "the login "+login+" that was given up", err, store.ErrNotFound)
		}
		marit, err := r.PersonByLogin("marit.o")
		equal(t, "marit.o", marit.Name, "Marit")
		people, err2 := r.People()
		equal(t, "people", len(people), 4)
		old, err3 := r.SessionsOfPerson("p1")
		now, err4 := r.SessionsOfPerson("p2")
		equal(t, "sessions of the first and of the second", fmt.Sprint(len(old), len(now)), "0 1")
		equal(t, "log", LogID(t, r), "another-name")
		return errors.Join(err, err2, err3, err4)
	})
	change(t, s, func(w store.Writer) error {
		early, err := w.RemoveSessionsExpired("2026-03-02")
		late, err2 := w.RemoveSessionsExpired("2026-03-02T00:00:00.001Z")
		equal(t, "ended at its time, and after it", fmt.Sprint(early, late), "0 1")
		return errors.Join(err, err2)
	})
}

// testStopping stops each run over a list after its first.
func testStopping(t *testing.T, s store.Store) {
	change(t, s, func(w store.Writer) error {
		return errors.Join(
			w.SetSummary(store.Summary{Client: "c1", Team: "north"}), w.SetSummary(store.Summary{Client: "c2", Team: "north"}),
			w.AppendAudit(store.AuditEntry{Seq: 1, Action: "read client"}), w.AppendAudit(store.AuditEntry{Seq: 2}), w.AppendAudit(store.AuditEntry{Seq: 3}),
		)
	})
	view(t, s, func(r store.Reader) error {
		for _, team := range []string{"", "north"} {
			for line, err := range r.Summaries(team) {
				equal(t, "first of "+team, line.Client, "c1")
				if err != nil {
					return err
				}
				break
			}
		}
		for entry := range r.AuditEntries(1) {
			equal(t, "first after 1", entry.Seq, 2)
			break
		}
		all := int64(0)
		for entry, err := range r.AuditEntries(0) {
			if all++; entry.Seq != all || err != nil {
				t.Errorf("entry %d: %+v, %v", all, entry, err)
			}
		}
		equal(t, "entries", all, 3)
		return nil
	})
}
