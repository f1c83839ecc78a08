package store

import "errors"

// These are returned by lookups and writes.
var (
	// ErrNotFound is returned when the named record does not exist.
	ErrNotFound = errors.New("not found")

	// ErrTaken is returned when a name that must be unique, such as a login,
	// belongs to another record.
	ErrTaken = errors.New("already taken")

	// ErrOrder is returned when something is appended out of its order: a
	// tablet's number that is already in the log, or an audit entry whose
	// number does not follow the last.
	ErrOrder = errors.New("out of order")
)

// ErrFull is returned by writes that found no space on the disk. Nothing of
// them was written, and reading goes on.
var ErrFull = errors.New("no space left for records")

// These are returned when a store is opened or used after closing.
var (
	// ErrInUse is returned by opening when another process holds the data.
	ErrInUse = errors.New("in use by another process")

	// ErrForeign is returned by opening when the data is of another program
	// or of a newer version of this one.
	ErrForeign = errors.New("not a record store that this version can read")

	// ErrDamaged is returned when a stored record can not be read back.
	ErrDamaged = errors.New("damaged record")

	// ErrClosed is returned by every call after Close.
	ErrClosed = errors.New("store is closed")
)
