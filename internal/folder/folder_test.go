package folder_test

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"doorsill/internal/folder"
)

func TestFoldersThatCanBeSyncedOrNot(t *testing.T) {
	if err := folder.Sync(t.TempDir()); err != nil {
		t.Errorf("a folder: %v", err)
	}
	if runtime.GOOS == "linux" {
		f, err := os.Open("/proc")
		if err != nil {
			t.Skip("there is no /proc to try a file system that syncs no folders:", err)
		}
		defer f.Close()
		if f.Sync() == nil {
			t.Skip("this system syncs /proc, so nothing here can not be synced")
		}
		if err := folder.Sync("/proc"); err != nil {
			t.Errorf("a folder of a file system that can not: %v", err)
		}
	}
	if err := folder.Sync(filepath.Join(t.TempDir(), "missing")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("no folder: %v", err)
	}
}
