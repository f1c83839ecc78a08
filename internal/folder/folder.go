// Package folder makes changes of a folder durable.
package folder

import "os"

// Sync makes durable what names a folder holds: syncing a new or renamed file need
// not, and a power cut would then take it with all that was written to it. A
// system that cannot sync folders is passed over.
func Sync(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	_ = f.Sync() // not all systems can
	return f.Close()
}
