//go:build linux || darwin

package bolt

import (
	"os"
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

// letGo takes the library's lock from a file. Closing does not where the file is
// still mapped.
func letGo(file *os.File) {
	_ = syscall.Flock(int(file.Fd()), syscall.LOCK_UN) // the library may have closed it
}
