package bolt_test

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"

	"go.etcd.io/bbolt"

	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
)

// keysOf are the keys of a list as text, with a dot for each zero byte.
func keysOf(t *testing.T, path, list string) (keys []string) {
	t.Helper()
	for at := range contents(t, path) {
		if at.list == list {
			keys = append(keys, strings.ReplaceAll(at.key, "\x00", "."))
		}
	}
	slices.Sort(keys)
	return keys
}

// listKey is where a value stands in the file.
type listKey struct{ list, key string }

// contents is all that a file holds.
func contents(t *testing.T, path string) map[listKey]string {
	t.Helper()
	db, err := bbolt.Open(path, 0o600, &bbolt.Options{ReadOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	var all map[listKey]string
	err = db.View(func(tx *bbolt.Tx) error { all = contentsOf(tx); return nil })
	if err := errors.Join(err, db.Close()); err != nil {
		t.Fatal(err)
	}
	return all
}

// asBefore makes a file one of an earlier format, which has no checksums beside
// the values and no list of people's tablets.
func asBefore(t *testing.T, path, format string) {
	t.Helper()
	edit(t, path, func(tx *bbolt.Tx) error {
		var later [][]byte
		_ = tx.ForEach(func(name []byte, _ *bbolt.Bucket) error {
			if strings.HasSuffix(string(name), "/sums") || string(name) == "tablets-of" {
				later = append(later, slices.Clone(name))
			}
			return nil
		})
		for _, name := range later {
			if err := tx.DeleteBucket(name); err != nil {
				return err
			}
		}
		return tx.Bucket([]byte("meta")).Put([]byte("format"), []byte(format))
	})
}

func contentsOf(tx *bbolt.Tx) map[listKey]string {
	all := map[listKey]string{}
	_ = tx.ForEach(func(list []byte, b *bbolt.Bucket) error {
		return b.ForEach(func(key, value []byte) error {
			all[listKey{string(list), string(key)}] = string(value)
			return nil
		})
	})
	return all
}

// TestKeysOfTheFile stay as they are, so that files from before are found again:
// a zero byte after each text, and numbers in eight bytes.
func TestKeysOfTheFile(t *testing.T) {
	path := withOneOfAll(t)
	for list, want := range map[string]string{
		"log": ".......\x01", "by-team": "north........\x01", "by-subject": "c1........\x01", "subjects": "c1 v1", "visits": "c1.........",
		"numbers": "tab-a........\x01 tab-q........\x01", "tablets": "tab-a", "results": "v1", "summaries": "c1", "caseload": "north.c1",
		"quarantine": ".......\x01", "aside-open": "all.........\x01 client.c1........\x01 tablet.tab-q........\x01 team.north........\x01",
		"aside-count": "client.c1. tablet.tab-q. team.north.", "aside-as": "tab-q........\x01D\x13o\xa3U\xb3g\x8a\x11F\xad\x16\xf7\xe8d\x9e\x94\xfbO\xc2\x1f\xe7~\x83\x10\xc0`\xf6\x1c\xaa\xff\x8a", "aside-team": "tab-q.v9",
		"aside-by": "all.........\x01 client.c1........\x01 tablet.tab-q........\x01 team.north........\x01",
		"people":   "p1", "logins": "marit", "teams": "north", "members": "p1.north", "members-of": "north.p1",
		"sessions": "h1", "signed-in": "p1.h1", "audit": ".......\x01", "meta": "format log-id", "tablets-of": "person-tab-a.tab-a",
	} {
		if got := strings.Join(keysOf(t, path, list), " "); got != want {
			t.Errorf("%s: keys %q, want %q", list, got, want)
		}
		if got := strings.Join(keysOf(t, path, list+"/sums"), " "); got != want {
			t.Errorf("checksums of %s: keys %q, want %q", list, got, want)
		}
	}
}

// TestFilesOfTheFormatBefore are read as they are, and get the new format once
// they are opened for writing; what is in them stays, their name too.
func TestFilesOfTheFormatBefore(t *testing.T) {
	path := withOneOfAll(t)
	now := contents(t, path)
	asBefore(t, path, "doorsill-records/1")
	before := contents(t, path)
	for _, readOnly := range []bool{true, false} {
		db, err := bolt.Open(path, bolt.Options{NoSync: true, ReadOnly: readOnly})
		if err != nil {
			t.Fatal(err)
		}
		for list, readers := range reads {
			for i, read := range readers {
				if err := db.View(context.Background(), read); err != nil {
					t.Errorf("read only %v: %s, way %d: %v", readOnly, list, i+1, err)
				}
			}
		}
		if err := db.Close(); err != nil {
			t.Fatal(err)
		}
		want := now
		if readOnly {
			want = before
		}
		got := contents(t, path)
		for where, value := range want {
			if got[where] != value || len(got) != len(want) {
				t.Errorf("read only %v: %+v is %q, want %q", readOnly, where, got[where], value)
			}
		}
	}
}

// TestStoredResults are the JSON of a head, a line end, and the body; then comes
// the body of the evidence, if there is some.
func TestStoredResults(t *testing.T) {
	for _, tt := range []struct{ stored, format, body, evidence string }{
		{`{"visit":"v1","engine":"1"}` + "\nlevel\tpause\nnote\n", model.FirstResultFormat, "level\tpause\nnote\n", "none"},
		{`{"visit":"v1","format":"f/2"}` + "\n", "f/2", "", "none"},
		{`{"visit":"v1","format":"f/2","body_size":1}` + "\nbody", "f/2", "body", "none"},
		{`{"visit":"v1","format":"f/2","evidence":{},"body_size":1}` + "\nbody", "f/2", "b", "ody"},
		{`{"visit":"v1","format":"f/2","evidence":{},"body_size":4}` + "\nbody", "f/2", "body", ""},
		{`{"visit":"v1","format":"f/2","evidence":{}}` + "\nbody", "f/2", "", "body"},
		{`{"visit":"v1","format":"f/2","evidence":{},"body_size":5}` + "\nbody", "damaged", "", ""},
		{`{"visit":"v1","format":"f/2","evidence":{},"body_size":-1}` + "\nbody", "damaged", "", ""},
		{`{"visit":"v1","format":"f/2"}`, "damaged", "", ""},
		{`{"visit":"v1","format":"f/2"` + "\nbody", "damaged", "", ""},
		{"\nbody", "damaged", "", ""},
	} {
		path := withOneOfAll(t)
		changed(t, path, "results", func([]byte) []byte { return []byte(tt.stored) })
		asBefore(t, path, "doorsill-records/1")
		err := reopened(t, path).View(context.Background(), func(r store.Reader) error {
			result, err := r.Result("v1")
			if err != nil {
				return err
			}
			evidence := "none"
			if result.Evidence != nil {
				evidence = string(result.Evidence.Body)
			}
			if result.Visit != "v1" || result.Format != tt.format || string(result.Body) != tt.body || evidence != tt.evidence {
				t.Errorf("%q is read as %+v with evidence %q", tt.stored, result, evidence)
			}
			return nil
		})
		if damaged := tt.format == "damaged"; damaged != errors.Is(err, store.ErrDamaged) || !damaged && err != nil {
			t.Errorf("%q: %v", tt.stored, err)
		}
	}
}
