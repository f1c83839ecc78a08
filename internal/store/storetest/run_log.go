package storetest

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"testing"

	"doorsill/internal/model"
	"doorsill/internal/store"
)

func testEmpty(t *testing.T, s store.Store) {
	view(t, s, func(r store.Reader) error {
		if LogID(t, r) == "" {
			t.Error("no log id")
		}
		equal(t, "head", Head(t, r), 0)
		entries, err := r.Entries(0, 10)
		equal(t, "entries", len(entries), 0)
		_, missing := r.Placed("tab-a", 1)
		wantError(t, "number of nobody", missing, store.ErrNotFound)
		_, missing = r.Subject("c1")
		wantError(t, "subject", missing, store.ErrNotFound)
		return err
	})
}

// testLogs names the log anew as restoring does, and finds how far it is the same
// as those before.
func testLogs(t *testing.T, s store.Store) {
	logs := func() (logs model.Logs) {
		view(t, s, func(r store.Reader) (err error) { logs, err = r.Logs(); return err })
		return logs
	}
	first := nameOf(t, s)
	equal(t, "log of a new store", fmt.Sprint(logs()), fmt.Sprint(model.Logs{Log: first}))
	change(t, s, func(w store.Writer) error { return w.SetLogID("second") })
	change(t, s, func(w store.Writer) error { return Push(w, Batch("tab-a", 1, 3, "north", "c1")) })
	change(t, s, func(w store.Writer) error { return w.SetLogID("third") })
	equal(t, "log id", nameOf(t, s), "third")
	want := model.Logs{Log: "third", Earlier: []model.EarlierLog{{Log: first, Until: 0}, {Log: "second", Until: 3}}}
	equal(t, "logs", fmt.Sprint(logs()), fmt.Sprint(want))
	change(t, s, func(w store.Writer) error { return Push(w, Batch("tab-a", 4, 2, "north", "c1")) })
	equal(t, "logs later", fmt.Sprint(logs()), fmt.Sprint(want))
}

func testAllOrNothing(t *testing.T, s store.Store) {
	no := errors.New("no")
	err := s.Update(context.Background(), func(w store.Writer) error {
		if err := Push(w, Batch("tab-a", 1, 3, "north", "c1")); err != nil {
			return err
		}
		equal(t, "head inside", Head(t, w), 3)
		return no
	})
	wantError(t, "update", err, no)
	view(t, s, func(r store.Reader) error {
		equal(t, "head after", Head(t, r), 0)
		_, err := r.Tablet("tab-a")
		wantError(t, "tablet", err, store.ErrNotFound)
		return nil
	})
}

func testOneMoment(t *testing.T, s store.Store) {
	view(t, s, func(r store.Reader) error {
		done := make(chan error)
		go func() {
			done <- s.Update(context.Background(), func(w store.Writer) error {
				return Push(w, Batch("tab-a", 1, 2, "north", "c1"))
			})
		}()
		if err := <-done; err != nil {
			return err
		}
		equal(t, "head in the old moment", Head(t, r), 0)
		return nil
	})
	view(t, s, func(r store.Reader) error { equal(t, "head now", Head(t, r), 2); return nil })
}

func testContext(t *testing.T, s store.Store) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	err := s.Update(ctx, func(store.Writer) error { t.Error("update started"); return nil })
	wantError(t, "update", err, context.Canceled)
	err = s.View(ctx, func(store.Reader) error { t.Error("view started"); return nil })
	wantError(t, "view", err, context.Canceled)
}

func testClosed(t *testing.T, s store.Store) {
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	ctx := context.Background()
	wantError(t, "view", s.View(ctx, func(store.Reader) error { return nil }), store.ErrClosed)
	wantError(t, "update", s.Update(ctx, func(store.Writer) error { return nil }), store.ErrClosed)
}

func testEvents(t *testing.T, s store.Store) {
	odd := []byte(` {"tablet":"tab-a","n":1,"kind":"test-noted","subject":"c1","author":"p","at":"2026-03-02T09:00:00.000Z","zone":"Z","schema":1,"seen":0,"body":{"é":"\u00e9  "}}`)
	change(t, s, func(w store.Writer) error {
		return Push(w, store.Batch{Tablet: "tab-a", FirstN: 1, Team: "north", Subject: "c1", Received: Arrived, Skewed: true, Events: [][]byte{odd}})
	})
	change(t, s, func(w store.Writer) error { return Push(w, Batch("tab-b", 1, 1, "north", "c1")) })
	view(t, s, func(r store.Reader) error {
		entries, err := r.Entries(0, 10)
		equal(t, "entries", len(entries), 2)
		equal(t, "first", string(entries[0].Raw), string(odd))
		equal(t, "skewed", entries[0].Skewed, true)
		equal(t, "not skewed", entries[1].Skewed, false)
		equal(t, "received", entries[0].Received, Arrived)
		return err
	})
}

func positions(entries []model.Entry) string {
	var list []int64
	for _, entry := range entries {
		list = append(list, entry.Pos)
	}
	return fmt.Sprint(list)
}

func testPages(t *testing.T, s store.Store) {
	change(t, s, func(w store.Writer) error {
		return errors.Join(
			Push(w, Batch("tab-a", 1, 5, "north", "c1")), // 1 to 5
			Push(w, Batch("tab-b", 1, 2, "south", "c2")), // 6, 7
			Push(w, Batch("tab-a", 6, 3, "north", "c1")), // 8 to 10
		)
	})
	tests := []struct {
		after int64
		limit int
		want  string
		more  bool
	}{
		{0, 3, "[1 2 3]", true},
		{3, 3, "[4 5 8]", true},
		{5, 3, "[8 9 10]", false},
		{6, 2, "[8 9]", true},
		{9, 100, "[10]", false},
		{10, 100, "[]", false},
		{99, 100, "[]", false},
	}
	view(t, s, func(r store.Reader) error {
		for _, tt := range tests {
			entries, more, err := r.EntriesOfTeam("north", tt.after, tt.limit)
			if err != nil {
				return err
			}
			equal(t, fmt.Sprintf("%d after %d", tt.limit, tt.after), positions(entries), tt.want)
			equal(t, "more", more, tt.more)
		}
		entries, err := r.Entries(4, 3)
		equal(t, "any team", positions(entries), "[5 6 7]")
		return err
	})
}

func testNumbers(t *testing.T, s store.Store) {
	change(t, s, func(w store.Writer) error { return Push(w, Batch("tab-a", 1, 5, "north", "c1")) })
	tests := []struct {
		name  string
		first int64
		count int
		want  error
	}{
		{"the same", 1, 5, store.ErrOrder},
		{"one in the middle", 3, 1, store.ErrOrder},
		{"an overlap at the end", 5, 3, store.ErrOrder},
		{"none", 0, 1, store.ErrOrder},
		{"the next", 6, 2, nil},
	}
	for _, tt := range tests {
		change(t, s, func(w store.Writer) error {
			err := Push(w, Batch("tab-a", tt.first, tt.count, "north", "c1"))
			wantError(t, tt.name, err, tt.want)
			return nil
		})
	}
	view(t, s, func(r store.Reader) error {
		placed, err := r.Placed("tab-a", 7)
		equal(t, "position of 7", placed.Pos, 7)
		_, missing := r.Placed("tab-a", 8)
		wantError(t, "8", missing, store.ErrNotFound)
		_, missing = r.Placed("tab", 1)
		wantError(t, "a tablet whose name begins the same", missing, store.ErrNotFound)
		return err
	})
}

func testTeams(t *testing.T, s store.Store) {
	change(t, s, func(w store.Writer) error {
		return errors.Join(
			Push(w, Batch("tab-a", 1, 2, "north", "c1")),
			Push(w, Batch("tab-b", 1, 2, "north-east", "c2")),
			Push(w, Batch("tab-a", 3, 1, "north", "c3")),
		)
	})
	view(t, s, func(r store.Reader) error {
		north, _, err := r.EntriesOfTeam("north", 0, 10)
		equal(t, "north", positions(north), "[1 2 5]")
		east, _, err2 := r.EntriesOfTeam("north-east", 0, 10)
		equal(t, "north-east", positions(east), "[3 4]")
		one, err3 := r.EntriesOfSubject("c1")
		equal(t, "c1", positions(one), "[1 2]")
		return errors.Join(err, err2, err3)
	})
}

func testSubjects(t *testing.T, s store.Store) {
	change(t, s, func(w store.Writer) error {
		client := store.Subject{ID: "c1", Kind: model.SubjectClient, Team: "north", Client: "c1"}
		err := w.AddSubject(client)
		wantError(t, "again", w.AddSubject(client), store.ErrTaken)
		for _, id := range []string{"v9", "v1", "v5"} {
			err = errors.Join(err, w.AddSubject(store.Subject{ID: id, Kind: model.SubjectVisit, Team: "north", Client: "c1"}))
		}
		return err
	})
	view(t, s, func(r store.Reader) error {
		visit, err := r.Subject("v1")
		equal(t, "client of v1", visit.Client, "c1")
		visits, err2 := r.VisitsOfClient("c1")
		equal(t, "visits, oldest first", fmt.Sprint(visits), "[v9 v1 v5]")
		return errors.Join(err, err2)
	})
}

func testWriters(t *testing.T, s store.Store) {
	const writers, pushes = 4, 10
	var all sync.WaitGroup
	for i := range writers {
		all.Go(func() {
			tablet := fmt.Sprintf("tab-%d", i)
			for n := range int64(pushes) {
				err := s.Update(context.Background(), func(w store.Writer) error {
					return Push(w, Batch(tablet, n+1, 1, "north", "c1"))
				})
				if err != nil {
					t.Error(err)
				}
			}
		})
	}
	all.Wait()
	view(t, s, func(r store.Reader) error { equal(t, "head", Head(t, r), writers*pushes); return nil })
}
