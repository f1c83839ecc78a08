//go:build linux || darwin

package bolt

import (
	"path/filepath"
	"syscall"
)

// freeSpace is how many bytes a file beside path could still take.
func freeSpace(path string) (bytes int64, known bool) {
	var fs syscall.Statfs_t
	if err := syscall.Statfs(filepath.Dir(path), &fs); err != nil {
		return 0, false
	}
	return int64(fs.Bavail) * int64(fs.Bsize), true
}
