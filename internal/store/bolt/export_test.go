package bolt

import (
	"go.etcd.io/bbolt"

	"doorsill/internal/store"
)

// WriterOf writes within an update of the library, which a test can look into,
// prepare and undo.
func WriterOf(tx *bbolt.Tx) store.Writer { return open(tx) }

// NoteSum is what must stand under a line of what was noted of commits.
func NoteSum(line string) string { return noteSum([]byte(line)) }

// Library is what lies under a store, for a test to damage.
func (d *DB) Library() *bbolt.DB { return d.db }
