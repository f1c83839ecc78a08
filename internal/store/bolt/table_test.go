package bolt_test

import (
	"bytes"
	"context"
	"errors"
	"slices"
	"testing"

	"go.etcd.io/bbolt"

	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/internal/store/storetest"
)

// further are ways to read the lists whose values are no records.
var further = map[string][]func(store.Reader) error{
	"meta": {
		func(r store.Reader) error { _, err := r.ResultFormat(); return err },
	},
	"numbers":    {func(r store.Reader) error { _, err := r.Placed("tab-a", 2); return err }},
	"by-team":    {func(r store.Reader) error { _, _, err := r.EntriesOfTeam("north", 0, 9); return err }},
	"by-subject": {func(r store.Reader) error { _, err := r.EntriesOfSubject("c1"); return err }},
	"visits":     {func(r store.Reader) error { _, err := r.VisitsOfClient("c1"); return err }},
	"caseload":   {func(r store.Reader) error { return lastOf(r.Summaries("north")) }},
	"aside-by": {func(r store.Reader) error {
		_, err := r.QuarantinedOf(store.QuarantineFilter{Team: "north"})
		return err
	}},
	"aside-open": {func(r store.Reader) error {
		_, _, err := r.QuarantinePage(store.QuarantineFilter{Team: "north", Open: true}, 0, 9)
		return err
	}},
	"aside-as":   {func(r store.Reader) error { _, err := r.QuarantinedAs("tab-q", 1, []byte("{}")); return err }},
	"aside-team": {func(r store.Reader) error { _, err := r.QuarantineTeam("tab-q", "v9"); return err }},
	"logins":     {func(r store.Reader) error { _, err := r.PersonByLogin("marit"); return err }},
	"members":    {func(r store.Reader) error { _, err := r.MembershipsOfPerson("p1"); return err }},
	"members-of": {func(r store.Reader) error { _, err := r.MembershipsOfTeam("north"); return err }},
	"signed-in":  {func(r store.Reader) error { _, err := r.SessionsOfPerson("p1"); return err }},
	"tablets-of": {func(r store.Reader) error { _, err := r.TabletsOfPerson("person-tab-a"); return err }},
}

// waysToRead are all of reads and further.
func waysToRead() map[string][]func(store.Reader) error {
	all := map[string][]func(store.Reader) error{}
	for _, some := range []map[string][]func(store.Reader) error{reads, further} {
		for list, ways := range some {
			all[list] = append(all[list], ways...)
		}
	}
	return all
}

// keysIn are copies of the keys of a half of a list.
func keysIn(b *bbolt.Bucket) (keys [][]byte) {
	_ = b.ForEach(func(key, _ []byte) error { keys = append(keys, bytes.Clone(key)); return nil })
	return keys
}

// damages are what damage can do to one half of a list.
var damages = map[string]func(b *bbolt.Bucket) error{
	"a key that is gone": func(b *bbolt.Bucket) (err error) {
		for _, key := range keysIn(b) {
			err = errors.Join(err, b.Delete(key))
		}
		return err
	},
	"a key that was changed": func(b *bbolt.Bucket) (err error) {
		for _, key := range keysIn(b) {
			other := bytes.Clone(key)
			other[len(other)-1] ^= 2
			err = errors.Join(err, b.Put(other, bytes.Clone(b.Get(key))), b.Delete(key))
		}
		return err
	},
	"a value that was changed": func(b *bbolt.Bucket) (err error) {
		for _, key := range keysIn(b) {
			value := append([]byte{7}, b.Get(key)...)
			err = errors.Join(err, b.Put(key, value[:max(1, len(value)-1)]))
		}
		return err
	},
}

// TestDamageInOneHalfOfAList is said by whatever reads the list, and whatever is
// not about it is read all the same.
func TestDamageInOneHalfOfAList(t *testing.T) {
	for list, ways := range waysToRead() {
		for _, half := range []string{"", "/sums"} {
			for name, damage := range damages {
				if list == "meta" {
					continue // see TestADamagedFormat
				}
				path := withOneOfAll(t)
				edit(t, path, func(tx *bbolt.Tx) error { return damage(tx.Bucket([]byte(list + half))) })
				db, err := bolt.Open(path, bolt.Options{NoSync: true})
				if err != nil {
					t.Fatalf("%s%s, %s: %v", list, half, name, err)
				}
				for i, read := range ways {
					if err := db.View(context.Background(), read); !errors.Is(err, store.ErrDamaged) {
						t.Errorf("%s%s, %s: way %d of reading it says %v", list, half, name, i+1, err)
					}
				}
				if err := db.View(context.Background(), func(r store.Reader) error { _, err := r.LogID(); return err }); err != nil {
					t.Errorf("%s%s, %s: %v", list, half, name, err)
				}
				if err := db.Close(); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
}

// TestAValueThatWasReplaced is not read again when the half that holds it is an
// older one, as when a pointer leads to pages that were in use before. Nor is one
// that belongs to another key.
func TestAValueThatWasReplaced(t *testing.T) {
	path := twoOfEach(t)
	edit(t, path, func(tx *bbolt.Tx) error {
		lines := tx.Bucket([]byte("summaries"))
		return lines.Put([]byte("c2"), bytes.Clone(lines.Get([]byte("c1"))))
	})
	db := reopened(t, path)
	var old []byte
	at := func(r store.Reader) error { _, err := r.Summary("c2"); return err }
	if err := db.View(context.Background(), at); !errors.Is(err, store.ErrDamaged) {
		t.Errorf("the line of another client: %v", err)
	}
	path = withOneOfAll(t)
	edit(t, path, func(tx *bbolt.Tx) error {
		old = bytes.Clone(tx.Bucket([]byte("teams")).Get([]byte("north")))
		return nil
	})
	db = reopened(t, path)
	err := db.Update(context.Background(), func(w store.Writer) error { return w.SetTeam(store.Team{ID: "north", Name: "New"}) })
	if err := errors.Join(err, db.Close()); err != nil {
		t.Fatal(err)
	}
	edit(t, path, func(tx *bbolt.Tx) error { return tx.Bucket([]byte("teams")).Put([]byte("north"), old) })
	team := func(r store.Reader) error { _, err := r.Team("north"); return err }
	if err := reopened(t, path).View(context.Background(), team); !errors.Is(err, store.ErrDamaged) {
		t.Errorf("an older team: %v", err)
	}
}

// listed are the clients of a run, those that are damaged in brackets.
func listed(r store.Reader, team string) (clients string) {
	for line, err := range r.Summaries(team) {
		if err != nil {
			clients += "(" + line.Client + ") "
			continue
		}
		clients += line.Client + " "
	}
	return clients
}

// TestLinesBesideADamagedOne are read: the caseload is made of them at the start.
func TestLinesBesideADamagedOne(t *testing.T) {
	for _, tt := range []struct {
		name     string
		damage   func(values, sums *bbolt.Bucket) error
		want     string
		ofNorths string
	}{
		{"a value", func(v, _ *bbolt.Bucket) error { return v.Put([]byte("c2"), []byte("{}")) }, "c1 (c2) c3 ", "c1 (c2) "},
		{"a checksum", func(_, s *bbolt.Bucket) error { return s.Put([]byte("c2"), []byte("1234")) }, "c1 (c2) c3 ", "c1 (c2) "},
		{"a checksum that is cut", func(_, s *bbolt.Bucket) error { return s.Put([]byte("c2"), nil) }, "c1 (c2) c3 ", "c1 (c2) "},
		{"a key in its place", func(v, _ *bbolt.Bucket) error { return rename(v, "c2", "c20") }, "c1 (c20) (c2) c3 ", "c1 (c2) "},
		{"the first key", func(v, _ *bbolt.Bucket) error { return rename(v, "c1", "c10") }, "(c10) (c1) c2 c3 ", "(c1) c2 "},
		{"the last key", func(v, _ *bbolt.Bucket) error { return rename(v, "c3", "c30") }, "c1 c2 (c30) (c3) ", "c1 c2 "},
		{"the last key of the checksums", func(_, s *bbolt.Bucket) error { return s.Delete([]byte("c3")) }, "c1 c2 (c3) ", "c1 c2 "},
		{"the first key, gone", func(v, _ *bbolt.Bucket) error { return v.Delete([]byte("c1")) }, "() ", "(c1) c2 "},
	} {
		path := twoOfEach(t)
		edit(t, path, func(tx *bbolt.Tx) error {
			return tt.damage(tx.Bucket([]byte("summaries")), tx.Bucket([]byte("summaries/sums")))
		})
		err := reopened(t, path).View(context.Background(), func(r store.Reader) error {
			if got := listed(r, ""); got != tt.want {
				t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
			}
			if got := listed(r, "north"); got != tt.ofNorths {
				t.Errorf("%s: of one team %q, want %q", tt.name, got, tt.ofNorths)
			}
			for line, err := range r.Summaries("") {
				if err != nil {
					break // who stops is not called again
				}
				_ = line
			}
			return nil
		})
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
		}
	}
}

func rename(b *bbolt.Bucket, from, to string) error {
	return errors.Join(b.Put([]byte(to), bytes.Clone(b.Get([]byte(from)))), b.Delete([]byte(from)))
}

// TestNothingIsWrittenBesideADamagedKey: what the library would take apart there
// may not be what it believes. Elsewhere in the list writing goes on, and a value
// that is damaged may be replaced.
func TestNothingIsWrittenBesideADamagedKey(t *testing.T) {
	path := twoOfEach(t)
	edit(t, path, func(tx *bbolt.Tx) error { return tx.Bucket([]byte("summaries")).Delete([]byte("c2")) })
	db := reopened(t, path)
	for client, damaged := range map[string]bool{"c1": false, "c2": true, "c11": true, "c3": false, "c4": false} {
		err := db.Update(context.Background(), func(w store.Writer) error {
			return w.SetSummary(store.Summary{Client: client, Team: "north", Name: "New"})
		})
		if damaged != errors.Is(err, store.ErrDamaged) || !damaged && err != nil {
			t.Errorf("%s: %v", client, err)
		}
	}
	path = twoOfEach(t)
	edit(t, path, func(tx *bbolt.Tx) error { return tx.Bucket([]byte("summaries")).Put([]byte("c2"), []byte("{}")) })
	db = reopened(t, path)
	for _, line := range []store.Summary{{Client: "c2", Team: "south", Name: "New"}} {
		if err := db.Update(context.Background(), func(w store.Writer) error { return w.SetSummary(line) }); err != nil {
			t.Error(err)
		}
		err := db.View(context.Background(), func(r store.Reader) error {
			got, err := r.Summary("c2")
			if got != line {
				t.Errorf("read as %+v", got)
			}
			return err
		})
		if err != nil {
			t.Error(err)
		}
	}
}

// TestAGapInTheLog is seen by whoever reads over it, though both halves of the
// list agree.
func TestAGapInTheLog(t *testing.T) {
	path := twoOfEach(t)
	db := reopened(t, path)
	err := db.Update(context.Background(), func(w store.Writer) error {
		return storetest.Push(w, storetest.Batch("tab-c", 1, 2, "north", "c1"))
	})
	if err := errors.Join(err, db.Close()); err != nil {
		t.Fatal(err)
	}
	edit(t, path, func(tx *bbolt.Tx) error {
		return errors.Join(tx.Bucket([]byte("log")).Delete(number(4)), tx.Bucket([]byte("log/sums")).Delete(number(4)))
	})
	err = reopened(t, path).View(context.Background(), func(r store.Reader) error {
		before, err := r.Entries(0, 3)
		if len(before) != 3 || err != nil {
			t.Errorf("before the gap: %d entries, %v", len(before), err)
		}
		if _, err := r.Entries(0, 4); !errors.Is(err, store.ErrDamaged) {
			t.Errorf("over the gap: %v", err)
		}
		if _, err := r.Entries(3, 1); !errors.Is(err, store.ErrDamaged) {
			t.Errorf("within the gap: %v", err)
		}
		after, err := r.Entries(5, 9)
		if len(after) != 2 || err != nil {
			t.Errorf("after the gap: %d entries, %v", len(after), err)
		}
		return nil
	})
	if err != nil {
		t.Error(err)
	}
}

// TestADamagedTablet is in the way of its owner alone.
func TestADamagedTablet(t *testing.T) {
	path := twoOfEach(t)
	edit(t, path, func(tx *bbolt.Tx) error { return tx.Bucket([]byte("tablets")).Put([]byte("tab-a"), []byte("{}")) })
	err := reopened(t, path).View(context.Background(), func(r store.Reader) error {
		if _, err := r.TabletsOfPerson("person-tab-a"); !errors.Is(err, store.ErrDamaged) {
			t.Errorf("the owner's tablets: %v", err)
		}
		others, err := r.TabletsOfPerson("person-tab-b")
		if len(others) != 1 || others[0].ID != "tab-b" {
			t.Errorf("another's tablets: %+v", others)
		}
		return err
	})
	if err != nil {
		t.Error(err)
	}
}

// TestWhatAListNamesAndIsNot there is damage and not an empty list.
func TestWhatAListNamesAndIsNot(t *testing.T) {
	for list, key := range map[string][]byte{"sessions": []byte("h1"), "tablets": []byte("tab-a"), "quarantine": number(1), "summaries": []byte("c1")} {
		path := withOneOfAll(t)
		edit(t, path, func(tx *bbolt.Tx) error {
			return errors.Join(tx.Bucket([]byte(list)).Delete(key), tx.Bucket([]byte(list+"/sums")).Delete(key))
		})
		db := reopened(t, path)
		for _, read := range map[string][]func(store.Reader) error{
			"sessions": further["signed-in"], "tablets": further["tablets-of"], "summaries": further["caseload"],
			"quarantine": slices.Concat(further["aside-by"], []func(store.Reader) error{func(r store.Reader) error { _, err := r.Placed("tab-q", 1); return err }}),
		}[list] {
			if err := db.View(context.Background(), read); !errors.Is(err, store.ErrDamaged) {
				t.Errorf("%s: %v", list, err)
			}
		}
	}
}
