package verify_test

import (
	"testing"

	"doorsill/internal/store/bolt"
	"doorsill/internal/store/storetest"
)

// TestRecordsOfEachFormat are in order as they are, and once they were opened
// for writing; everything that can be read is the same.
func TestRecordsOfEachFormat(t *testing.T) {
	for _, name := range []string{"doorsill-records-2", "doorsill-records-3"} {
		t.Run(name, func(t *testing.T) { staysTheSame(t, storetest.Unpacked(t, "../../testdata/records/"+name+".db.gz")) })
	}
}

func staysTheSame(t *testing.T, records []byte) {
	t.Helper()
	path := write(t, records)
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
