package storetest

import (
	"errors"
	"fmt"
	"testing"

	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// open counts the open entries of a list.
func open(t testing.TB, r store.Reader, by store.QuarantineList, name string) int64 {
	t.Helper()
	n, err := r.QuarantineOpen(by, name)
	if err != nil {
		t.Error(err)
	}
	return n.Entries
}

// testOpenEntries settles and places entries, and counts what is left.
func testOpenEntries(t *testing.T, s store.Store) {
	change(t, s, func(w store.Writer) error {
		err := Push(w, Batch("tab-a", 1, 1, "north", "c1"))
		for n := range int64(4) {
			_, bad := w.Quarantine(quarantine("tab-a", n+2, "north", validation.CodeWrongType))
			err = errors.Join(err, bad)
		}
		_, bad := w.Quarantine(quarantine("tab-b", 1, "south", validation.CodeWrongType))
		return errors.Join(err, bad, w.SetTablet(store.Tablet{ID: "tab-a", Ack: 5}), w.SetTablet(store.Tablet{ID: "tab-b", Ack: 1}))
	})
	count := func(r store.Reader) string {
		return fmt.Sprint(open(t, r, store.QuarantineByTablet, "tab-a"), open(t, r, store.QuarantineByPerson, "person-tab-a"),
			open(t, r, store.QuarantineByTeam, "north"), open(t, r, store.QuarantineByClient, "c1"), open(t, r, store.QuarantineByTeam, "east"))
	}
	change(t, s, func(w store.Writer) error {
		equal(t, "open", count(w), "4 4 4 5 0")
		n, err := w.QuarantineOpen(store.QuarantineByTablet, "tab-a")
		equal(t, "bytes", n.Bytes, int64(4*len("{not json \xff")))
		err = errors.Join(err, w.Settle(1, store.Settlement{By: "lead"}), w.Settle(1, store.Settlement{By: "lead", Note: "again"}))
		equal(t, "one was settled, twice", count(w), "3 3 3 4 0")
		return err
	})
	change(t, s, func(w store.Writer) error {
		b := store.Batch{Tablet: "tab-a", FirstN: 3, Team: "north", Subject: "c1", Received: Arrived, Events: [][]byte{Event("tab-a", 3, "c1", "another")}}
		_, err := w.Place(2, b, Arrived)
		wantError(t, "place other bytes", err, store.ErrOrder)
		b.FirstN, b.Events = 2, [][]byte{[]byte("{not json \xff")}
		_, err = w.Place(1, b, Arrived)
		wantError(t, "place what was settled", err, store.ErrOrder)
		return nil
	})
	view(t, s, func(r store.Reader) error {
		equal(t, "nothing was placed", count(r), "3 3 3 4 0")
		known, err := r.JudgedBy()
		equal(t, "judged by", known, "")
		return err
	})
	change(t, s, func(w store.Writer) error { return w.SetJudgedBy("all that is known") })
	view(t, s, func(r store.Reader) error {
		known, err := r.JudgedBy()
		equal(t, "judged by", known, "all that is known")
		return err
	})
}

// testPlacing gives a quarantined entry its place in the log, once.
func testPlacing(t *testing.T, s store.Store) {
	raw := Event("tab-a", 2, "c1", "later")
	late := quarantine("tab-a", 2, "north", validation.CodeRequired)
	late.Raw, late.Subject = raw, "c1"
	forked := late
	forked.N, forked.Code, forked.Raw = 1, validation.CodeForked, Event("tab-a", 1, "c1", "forked")
	change(t, s, func(w store.Writer) error {
		err := Push(w, Batch("tab-a", 1, 1, "north", "c1"))
		_, err2 := w.Quarantine(late)
		_, err3 := w.Quarantine(forked)
		return errors.Join(err, err2, err3, w.SetTablet(store.Tablet{ID: "tab-a", Ack: 2}), Push(w, Batch("tab-a", 3, 1, "north", "c1")))
	})
	batch := func(n int64, raw []byte) store.Batch {
		return store.Batch{Tablet: "tab-a", FirstN: n, Team: "north", Subject: "c1", Received: Arrived, Events: [][]byte{raw}}
	}
	change(t, s, func(w store.Writer) error {
		_, missing := w.Place(9, batch(2, raw), Arrived)
		wantError(t, "place nothing", missing, store.ErrNotFound)
		_, other := w.Place(2, batch(1, forked.Raw), Arrived)
		wantError(t, "place what is forked", other, store.ErrOrder)
		wantError(t, "judge what is forked", w.Judge(2, store.Quarantined{Code: validation.CodeRequired}), store.ErrOrder)
		wantError(t, "judge forked", w.Judge(1, store.Quarantined{Code: validation.CodeForked}), store.ErrOrder)
		return w.Judge(1, store.Quarantined{Code: validation.CodeSubject, Hint: "another one", Team: "south"})
	})
	change(t, s, func(w store.Writer) error {
		q, err := w.Quarantined(1)
		equal(t, "judged anew", q.Code+" "+q.Hint+" "+q.Team, "subject another one north")
		pos, err2 := w.Place(1, batch(2, raw), "2026-04-01T12:00:00.000Z")
		equal(t, "position", pos, 3)
		return errors.Join(err, err2)
	})
	change(t, s, func(w store.Writer) error {
		_, again := w.Place(1, batch(2, raw), Arrived)
		wantError(t, "place it again", again, store.ErrOrder)
		wantError(t, "judge what was placed", w.Judge(1, store.Quarantined{Code: validation.CodeRequired}), store.ErrOrder)
		_, forgotten := w.Append(batch(2, raw))
		wantError(t, "append it again", forgotten, store.ErrOrder)
		placed, err := w.Placed("tab-a", 2)
		equal(t, "where its number leads", fmt.Sprint(placed.Pos, placed.Quarantine, string(placed.Raw) == string(raw)), "3 0 true")
		q, err2 := w.Quarantined(1)
		equal(t, "what it says", fmt.Sprintf("%d %s %v", q.Pos, q.PlacedAt, q.Open()), "3 2026-04-01T12:00:00.000Z false")
		equal(t, "open", open(t, w, store.QuarantineByTablet, "tab-a"), 1)
		entries, err3 := w.EntriesOfSubject("c1")
		equal(t, "entries", positions(entries), "[1 2 3]")
		return errors.Join(err, err2, err3)
	})
}

// testPagesOfTheQuarantine reads lists in pages, and by the bytes that came.
func testPagesOfTheQuarantine(t *testing.T, s store.Store) {
	change(t, s, func(w store.Writer) error {
		var err error
		for n := range int64(7) {
			q := quarantine("tab-a", n+1, []string{"north", "south"}[n%2], validation.CodeRequired)
			q.Subject, q.Raw = "v1", fmt.Appendf(nil, "{%d", n+1)
			if n == 0 {
				q.Team = ""
			}
			_, bad := w.Quarantine(q)
			err = errors.Join(err, bad)
		}
		again := quarantine("tab-a", 2, "north", validation.CodeForked)
		again.Person, again.Raw = "person-tab-b", []byte("{2 too")
		_, bad := w.Quarantine(again)
		return errors.Join(err, bad, w.Settle(4, store.Settlement{By: "lead"}), w.SetTablet(store.Tablet{ID: "tab-a", Ack: 7}))
	})
	view(t, s, func(r store.Reader) error {
		for _, tt := range []struct {
			filter store.QuarantineFilter
			after  int64
			limit  int
			want   string
		}{
			{store.QuarantineFilter{Team: "south"}, 0, 9, "[2 4 6] false"},
			{store.QuarantineFilter{Team: "south"}, 0, 3, "[2 4 6] false"},
			{store.QuarantineFilter{Team: "south"}, 0, 2, "[2 4] true"},
			{store.QuarantineFilter{Team: "south"}, 4, 2, "[6] false"},
			{store.QuarantineFilter{Team: "south"}, 6, 2, "[] false"},
			{store.QuarantineFilter{Team: "south", Open: true}, 0, 2, "[2 6] false"},
			{store.QuarantineFilter{Person: "person-tab-a", Open: true}, 2, 2, "[3 5] true"},
			{store.QuarantineFilter{Person: "person-tab-a", Team: "north"}, 0, 2, "[3 5] true"},
			{store.QuarantineFilter{Person: "person-tab-b"}, 0, 9, "[8] false"},
			{store.QuarantineFilter{Tablet: "tab-a", N: 2}, 0, 9, "[2 8] false"},
			{store.QuarantineFilter{Open: true}, 0, 4, "[1 2 3 5] true"},
			{store.QuarantineFilter{Client: "c1", Open: true}, 6, 4, "[7 8] false"},
			{store.QuarantineFilter{Client: "c1", Closed: true}, 0, 4, "[4] false"},
			{store.QuarantineFilter{Client: "c1", Closed: true, Open: true}, 0, 4, "[] false"},
		} {
			page, more, err := r.QuarantinePage(tt.filter, tt.after, tt.limit)
			ids := []int64{}
			for i := range page {
				ids = append(ids, page[i].ID)
			}
			equal(t, fmt.Sprintf("%+v after %d", tt.filter, tt.after), fmt.Sprint(ids, more), tt.want)
			if err != nil {
				return err
			}
		}
		second, err := r.QuarantinedAs("tab-a", 2, []byte("{2 too"))
		equal(t, "the second under number 2", second.ID, 8)
		first, err2 := r.QuarantinedAs("tab-a", 2, []byte("{2"))
		equal(t, "the first", first.ID, 2)
		_, missing := r.QuarantinedAs("tab-a", 3, []byte("{2"))
		wantError(t, "bytes of another number", missing, store.ErrNotFound)
		team, err3 := r.QuarantineTeam("tab-a", "v1")
		equal(t, "the first team that there was", team, "south")
		_, missing = r.QuarantineTeam("tab-b", "v1")
		wantError(t, "team of another tablet", missing, store.ErrNotFound)
		return errors.Join(err, err2, err3)
	})
}
