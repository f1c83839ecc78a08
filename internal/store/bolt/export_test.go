package bolt

import (
	"go.etcd.io/bbolt"

	"doorsill/internal/store"
)

// WriterOf writes within an update of the library, which a test can look into,
// prepare and undo.
func WriterOf(tx *bbolt.Tx) store.Writer { return open(tx) }
