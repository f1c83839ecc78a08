package verify_test

import (
	"compress/gzip"
	"io"
	"os"
	"testing"

	"doorsill/internal/store/bolt"
)

// recordsBefore is a file that a server wrote before values had checksums beside
// them, doorsill-records/2.
func recordsBefore(t *testing.T) []byte {
	t.Helper()
	packed, err := os.Open("../../testdata/records/doorsill-records-2.db.gz")
	if err != nil {
		t.Fatal(err)
	}
	defer packed.Close()
	unpacked, err := gzip.NewReader(packed)
	if err != nil {
		t.Fatal(err)
	}
	data, err := io.ReadAll(unpacked)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// TestRecordsOfTheFormatBefore are in order as they are, and once they were opened
// for writing; everything that can be read is the same.
func TestRecordsOfTheFormatBefore(t *testing.T) {
	path := write(t, recordsBefore(t))
	before, err := everything(t, path)
	if err != nil {
		t.Fatal(err)
	}
	clean := func(when string) {
		t.Helper()
		report := compare(t, path)
		if !report.Clean() || report.Entries < 20 || report.Visits != 2 || report.Tablets < 2 {
			t.Errorf("%s: %+v", when, report)
		}
	}
	clean("before")
	for range 2 { // the second time there is nothing to be done
		db, err := bolt.Open(path, bolt.Options{NoSync: true})
		if err != nil {
			t.Fatal(err)
		}
		if err := db.Sound(); err != nil {
			t.Error(err)
		}
		if err := db.Close(); err != nil {
			t.Fatal(err)
		}
		clean("after")
		if after, err := everything(t, path); err != nil || after != before {
			t.Errorf("what is read afterwards is not what was read before (%v)", err)
		}
	}
}
