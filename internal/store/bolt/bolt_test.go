package bolt_test

import (
	"os"
	"path/filepath"
	"testing"

	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/internal/store/storetest"
)

func open(t testing.TB) store.Store {
	t.Helper()
	db, err := bolt.Open(filepath.Join(t.TempDir(), "records.db"), bolt.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	return db
}

func TestStore(t *testing.T) { storetest.Run(t, open) }

func TestMain(m *testing.M) {
	if path := os.Getenv(childEnv); path != "" {
		os.Exit(pushForEver(path))
	}
	os.Exit(m.Run())
}
