package audit_test

import (
	"context"
	"errors"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"doorsill/internal/audit"
	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
)

func fixed() time.Time { return time.Date(2026, 3, 10, 9, 0, 0, 0, time.UTC) }

func open(t *testing.T) store.Store {
	t.Helper()
	db, err := bolt.Open(filepath.Join(t.TempDir(), "records.db"), bolt.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := db.Close(); err != nil {
			t.Error(err)
		}
	})
	return db
}

func TestNotesFromEverywhereMakeOneChain(t *testing.T) {
	db := open(t)
	trail := audit.New(db, fixed)
	var all sync.WaitGroup
	for range 200 {
		all.Go(func() {
			if err := trail.Note(audit.Note{Person: "p", Action: "read client", Subject: "c", Team: "t", From: "192.0.2.1"}); err != nil {
				t.Error(err)
			}
		})
	}
	all.Wait()
	trail.Close()
	last, err := audit.Verify(t.Context(), db)
	if err != nil || last.Seq != 200 {
		t.Errorf("trail ends at %d (%v), want 200", last.Seq, err)
	}
	if last.Detail != `from="192.0.2.1" result=ok` || last.At != "2026-03-10T09:00:00.000Z" {
		t.Errorf("a line reads %+v", last)
	}
	if err := trail.Note(audit.Note{}); !errors.Is(err, audit.ErrClosed) {
		t.Errorf("after Close: %v", err)
	}
}

func TestAChainGoesOnAfterARestart(t *testing.T) {
	db := open(t)
	for range 3 {
		trail := audit.New(db, fixed)
		if err := trail.Note(audit.Note{Action: "read client"}); err != nil {
			t.Fatal(err)
		}
		trail.Close()
	}
	if last, err := audit.Verify(t.Context(), db); err != nil || last.Seq != 3 {
		t.Errorf("trail ends at %d, %v", last.Seq, err)
	}
}

func TestVerifyFindsTheLineThatWasTouched(t *testing.T) {
	lines := func() []store.AuditEntry {
		var list []store.AuditEntry
		var prev string
		for seq := int64(1); seq <= 3; seq++ {
			e := store.AuditEntry{Seq: seq, At: "2026-03-10T09:00:00.000Z", Person: "p", Action: "read client", Prev: prev}
			e.Hash = audit.Hash(e)
			prev = e.Hash
			list = append(list, e)
		}
		return list
	}
	for name, touch := range map[string]func([]store.AuditEntry){
		"another person":               func(l []store.AuditEntry) { l[1].Person = "q" },
		"letters moved between fields": func(l []store.AuditEntry) { l[1].Person, l[1].Action = "pr", "ead client" },
		"a line made anew":             func(l []store.AuditEntry) { l[1].Person = "q"; l[1].Hash = audit.Hash(l[1]) },
		"a line taken out and renumbered": func(l []store.AuditEntry) {
			l[1] = l[2]
			l[1].Seq = 2
			l[1].Hash = audit.Hash(l[1])
			l[2].Prev = l[1].Hash
		},
	} {
		t.Run(name, func(t *testing.T) {
			db, list := open(t), lines()
			touch(list)
			err := db.Update(t.Context(), func(w store.Writer) error {
				for _, e := range list {
					if err := w.AppendAudit(e); err != nil {
						return err
					}
				}
				return nil
			})
			if err != nil {
				t.Fatal(err)
			}
			if _, err := audit.Verify(context.Background(), db); !errors.Is(err, audit.ErrBroken) {
				t.Errorf("error %v, want %v", err, audit.ErrBroken)
			}
		})
	}
}

// TestTheEndOfTheTrailIsFollowed: the last lines are checked, and no others.
func TestTheEndOfTheTrailIsFollowed(t *testing.T) {
	chain := func() (list []store.AuditEntry) {
		prev := ""
		for seq := int64(1); seq <= 5; seq++ {
			e := store.AuditEntry{Seq: seq, Person: "p", Action: "read client", Prev: prev}
			e.Hash = audit.Hash(e)
			prev = e.Hash
			list = append(list, e)
		}
		return list
	}
	for _, tt := range []struct {
		name   string
		change func(list []store.AuditEntry)
		last   int64
		broken bool
	}{
		{"whole", func([]store.AuditEntry) {}, 3, false},
		{"more than there is", func([]store.AuditEntry) {}, 9, false},
		{"the last", func(list []store.AuditEntry) { list[4].Person = "q" }, 1, true},
		{"one that is checked", func(list []store.AuditEntry) { list[2].Person = "q" }, 3, true},
		{"one that is not", func(list []store.AuditEntry) { list[1].Person = "q" }, 3, false},
		{"the first", func(list []store.AuditEntry) { list[0].Person = "q" }, 5, true},
		{"what the first names as before it", func(list []store.AuditEntry) { list[0].Prev = "x"; list[0].Hash = audit.Hash(list[0]) }, 9, true},
		{"what the first that is checked names", func(list []store.AuditEntry) { list[2].Prev = "x"; list[2].Hash = audit.Hash(list[2]) }, 2, false},
		{"what the second that is checked names", func(list []store.AuditEntry) { list[3].Prev = "x"; list[3].Hash = audit.Hash(list[3]) }, 3, true},
	} {
		db := open(t)
		list := chain()
		tt.change(list)
		err := db.Update(t.Context(), func(w store.Writer) error {
			if err := audit.FollowEnd(w, tt.last); err != nil {
				t.Errorf("an empty trail: %v", err)
			}
			for _, e := range list {
				if err := w.AppendAudit(e); err != nil {
					return err
				}
			}
			if err := audit.FollowEnd(w, tt.last); tt.broken != errors.Is(err, audit.ErrBroken) || !tt.broken && err != nil {
				t.Errorf("%s: %v", tt.name, err)
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
}

// hurtTrail is a reader of a trail that can not be read at an end.
type hurtTrail struct {
	store.Reader
	last store.AuditEntry
	err  error
}

func (r hurtTrail) LastAudit() (store.AuditEntry, error) { return r.last, r.err }

// TestATrailThatCanNotBeReadIsNotFollowed, nor one that does not end where it
// says.
func TestATrailThatCanNotBeReadIsNotFollowed(t *testing.T) {
	err := open(t).View(t.Context(), func(r store.Reader) error {
		if err := audit.FollowEnd(hurtTrail{r, store.AuditEntry{}, store.ErrDamaged}, 9); !errors.Is(err, store.ErrDamaged) {
			t.Errorf("a damaged end: %v", err)
		}
		if err := audit.FollowEnd(hurtTrail{r, store.AuditEntry{Seq: 4}, nil}, 9); !errors.Is(err, audit.ErrBroken) {
			t.Errorf("an end that is not there: %v", err)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
