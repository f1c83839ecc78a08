//go:build !linux && !darwin

package bolt

// freeSpace is not known here; trying shows whether there is room.
func freeSpace(string) (bytes int64, known bool) { return 0, false }
