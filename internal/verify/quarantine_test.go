package verify_test

import (
	"context"
	"encoding/binary"
	"errors"
	"strings"
	"testing"

	"go.etcd.io/bbolt"

	"doorsill/internal/store"
	"doorsill/internal/verify"
)

// TestListsOfTheQuarantineAreComparedWithIt changes what stands beside the
// entries, one list at a time.
func TestListsOfTheQuarantineAreComparedWithIt(t *testing.T) {
	data := smallService(t)
	for _, tt := range []struct {
		list   string
		change func(b *bbolt.Bucket, key, value []byte) error
		what   string
	}{
		{"aside-open", func(b *bbolt.Bucket, key, _ []byte) error { return b.Delete(key) }, "A list that should name it does not"},
		{"aside-by", func(b *bbolt.Bucket, key, _ []byte) error {
			if strings.HasPrefix(string(key), "all") {
				return nil // nothing is known of what it lacks but the gap
			}
			return b.Delete(key)
		}, "A list that should name it does not"},
		{"aside-count", func(b *bbolt.Bucket, key, _ []byte) error { return b.Delete(key) }, "It is said to have 0 open quarantined entries of 0 bytes and has "},
		{"aside-as", func(b *bbolt.Bucket, key, _ []byte) error { return b.Delete(key) }, "It is not found by what came under number"},
		{"aside-as", func(b *bbolt.Bucket, key, _ []byte) error { return b.Put(key, binary.BigEndian.AppendUint64(nil, 2)) }, "It is not found by what came under number"},
		{"aside-team", func(b *bbolt.Bucket, key, _ []byte) error { return b.Put(key, []byte("elsewhere")) }, "Another team is noted"},
	} {
		path := write(t, data)
		db, err := bbolt.Open(path, 0o600, &bbolt.Options{NoSync: true})
		if err != nil {
			t.Fatal(err)
		}
		err = db.Update(func(tx *bbolt.Tx) error {
			b := tx.Bucket([]byte(tt.list))
			all := map[string]string{}
			err := b.ForEach(func(key, value []byte) error { all[string(key)] = string(value); return nil })
			for key, value := range all {
				err = errors.Join(err, tt.change(b, []byte(key), []byte(value)))
			}
			return err
		})
		if err := errors.Join(err, db.Close()); err != nil {
			t.Fatal(err)
		}
		report := compare(t, path)
		if len(report.Faults) == 0 || !strings.Contains(report.Faults[0].What, tt.what) {
			t.Errorf("%s: found %+v, want %q", tt.list, report.Faults, tt.what)
		}
	}
}

// counting is a store that counts what lists give.
type counting struct {
	store.Store
	given int
}

func (c *counting) View(ctx context.Context, fn func(store.Reader) error) error {
	return c.Store.View(ctx, func(r store.Reader) error { return fn(countingReader{r, c}) })
}

type countingReader struct {
	store.Reader
	*counting
}

func (r countingReader) SessionsOfPerson(person string) ([]store.Session, error) {
	list, err := r.Reader.SessionsOfPerson(person)
	r.given += len(list)
	return list, err
}

func (r countingReader) VisitsOfClient(client string) ([]string, error) {
	list, err := r.Reader.VisitsOfClient(client)
	r.given += len(list)
	return list, err
}

func (r countingReader) QuarantinedOf(f store.QuarantineFilter) ([]store.Quarantined, error) {
	list, err := r.Reader.QuarantinedOf(f)
	r.given += len(list)
	return list, err
}

// TestTwiceAsMuchIsReadTwiceAsOften and not four times.
func TestTwiceAsMuchIsReadTwiceAsOften(t *testing.T) {
	given := func(n int) int {
		c := &counting{Store: crowded(t, n, n, n)}
		report, err := verify.Store(t.Context(), c, lists())
		if err != nil || !report.Clean() {
			t.Fatalf("%v: %+v", err, report.Faults)
		}
		return c.given
	}
	if once, twice := given(20), given(40); twice > 2*once || once < 100 {
		t.Errorf("lists give %d things for 20 of each and %d for 40", once, twice)
	}
}
