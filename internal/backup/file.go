package backup

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"doorsill/internal/folder"
)

// nameLayout names a backup by its time in UTC, so that names sort.
const (
	namePrefix = "doorsill-"
	nameLayout = "20060102T150405.000Z"
	nameSuffix = ".age"
)

// Name is what a backup made at a time is called.
func Name(at time.Time) string { return namePrefix + at.UTC().Format(nameLayout) + nameSuffix }

// File writes a file that is either whole and on the disk, or not there. It
// does not overwrite.
func File(path string, write func(io.Writer) error) (err error) {
	if _, err := os.Lstat(path); !errors.Is(err, os.ErrNotExist) {
		return fmt.Errorf("write %s: %w", path, cmp.Or(err, os.ErrExist))
	}
	part := path + ".part"
	file, err := os.OpenFile(part, os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o600)
	if err != nil {
		return fmt.Errorf("write backup: %w", err)
	}
	if err := errors.Join(write(file), file.Sync(), file.Close()); err != nil {
		return errors.Join(err, os.Remove(part))
	}
	if err := os.Rename(part, path); err != nil {
		return fmt.Errorf("write backup: %w", err)
	}
	if err := folder.Sync(filepath.Dir(path)); err != nil {
		return fmt.Errorf("write backup: %w", err)
	}
	return nil
}

// Prune removes the oldest backups of a folder but the last keep, and returns
// their names. Other files stay, whatever they are.
func Prune(dir string, keep int) (removed []string, err error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, fmt.Errorf("prune backups: %w", err)
	}
	var names []string
	for _, entry := range entries {
		if _, ok := madeAt(entry); ok {
			names = append(names, entry.Name())
		}
	}
	slices.Sort(names)
	for _, name := range names[:max(0, len(names)-keep)] {
		if err := os.Remove(filepath.Join(dir, name)); err != nil {
			return removed, fmt.Errorf("prune backups: %w", err)
		}
		removed = append(removed, name)
	}
	return removed, nil
}

// madeAt is when a file of a folder was made, if it is a backup by its name.
func madeAt(entry os.DirEntry) (time.Time, bool) {
	text, found := strings.CutPrefix(entry.Name(), namePrefix)
	text, ends := strings.CutSuffix(text, nameSuffix)
	at, err := time.Parse(nameLayout, text)
	return at, found && ends && err == nil && entry.Type().IsRegular()
}

// KeyIn reads the organisation's key of a data folder, as it lies there; nil
// when there is none.
func KeyIn(folder string) ([]byte, error) {
	data, err := os.ReadFile(filepath.Join(folder, keyPart))
	if errors.Is(err, os.ErrNotExist) {
		return nil, nil
	}
	return data, err
}
