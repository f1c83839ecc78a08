// Package folder makes changes of a folder durable.
package folder

import (
	"errors"
	"os"
	"syscall"
)

// Sync makes durable which files a folder names. Syncing a new or renamed file does
// not do that, and a power cut could then take the file with all that was written
// to it. A system that can not sync folders is passed over; a disk that fails to is
// an error.
func Sync(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	err = f.Sync()
	// EINVAL is said by file systems of Unix without it, a missing permission by Windows.
	if errors.Is(err, errors.ErrUnsupported) || errors.Is(err, syscall.EINVAL) || errors.Is(err, os.ErrPermission) {
		err = nil
	}
	return errors.Join(err, f.Close())
}
