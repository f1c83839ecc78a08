// Package backup writes everything that a service must not lose into one
// encrypted file, and reads it back: the records as they stand at one moment,
// and the organisation's key. It knows nothing of what the records hold.
package backup

import "errors"

// Format is the first field of the file's own description.
const Format = "doorsill-backup/1"

// Names of the parts, in their order in the file.
const (
	aboutPart   = "about.json"
	keyPart     = "organisation.key"
	recordsPart = "records.db"
)

// ErrKey is wrapped when a backup can not be opened with the identities or the
// passphrase given.
var ErrKey = errors.New("the key or passphrase does not open this backup")

// ErrForeign is wrapped when a file is no backup, or one of a newer version.
var ErrForeign = errors.New("not a backup that this version can read")

// ErrDamaged is wrapped when a backup ends too early or was changed.
var ErrDamaged = errors.New("the backup is damaged or incomplete")

// About is what a backup says of itself.
type About struct {
	Format string `json:"format"`
	// Log and Head are the log that was copied and its last position.
	Log  string `json:"log"`
	Head int64  `json:"head"`
	// At is when, RFC 3339 in UTC.
	At string `json:"at"`
}
