package backup

import (
	"archive/tar"
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"filippo.io/age"
)

// magic is how every file that age writes begins.
const magic = "age-encryption.org/"

// mostAbout and mostKey bound the small parts, in bytes.
const (
	mostAbout = 1 << 16
	mostKey   = 1 << 16
)

// Is says whether a file is encrypted as a backup is.
func Is(path string) bool {
	file, err := os.Open(path)
	if err != nil {
		return false
	}
	head := make([]byte, len(magic))
	_, err = io.ReadFull(file, head)
	return errors.Join(err, file.Close()) == nil && string(head) == magic
}

// Unpack opens a backup and writes its parts into a folder that exists: the
// records under the name given, and the organisation's key, if there is one,
// under its usual name. Files that exist are not overwritten. The error wraps
// ErrKey, ErrForeign or ErrDamaged, or is the file system's; what was written
// until then stays.
func Unpack(in io.Reader, dir, records string, identities ...age.Identity) (About, error) {
	opened, err := age.Decrypt(bufio.NewReader(in), identities...)
	var none *age.NoIdentityMatchError
	switch {
	case errors.As(err, &none):
		return About{}, fmt.Errorf("open backup: %w", ErrKey)
	case err != nil:
		return About{}, fmt.Errorf("open backup: %w: %w", ErrForeign, err)
	}
	return unpack(tar.NewReader(opened), dir, records)
}

func unpack(parts *tar.Reader, dir, records string) (about About, err error) {
	seen := map[string]bool{}
	for {
		head, err := parts.Next()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return about, fmt.Errorf("read backup: %w: %w", ErrDamaged, err)
		}
		if seen[head.Name] {
			return about, fmt.Errorf("read backup: %w: %s comes twice", ErrDamaged, head.Name)
		}
		seen[head.Name] = true
		if err := unpackOne(parts, head.Name, dir, records, &about); err != nil {
			return about, err
		}
	}
	if !seen[aboutPart] || !seen[recordsPart] {
		return about, fmt.Errorf("read backup: %w", ErrDamaged)
	}
	return about, nil
}

// unpackOne takes known parts only: no name of a file's own choice is written.
func unpackOne(part io.Reader, name, dir, records string, about *About) error {
	switch name {
	case aboutPart:
		data, err := io.ReadAll(io.LimitReader(part, mostAbout))
		if err != nil {
			return fmt.Errorf("read backup: %w: %w", ErrDamaged, err)
		}
		if err := json.Unmarshal(data, about); err != nil || about.Format != Format {
			return fmt.Errorf("read backup: expected format %s: %w", Format, ErrForeign)
		}
		return nil
	case keyPart:
		return save(io.LimitReader(part, mostKey), filepath.Join(dir, keyPart))
	case recordsPart:
		return save(part, filepath.Join(dir, records))
	}
	return fmt.Errorf("read backup: %w: it has a part %q", ErrForeign, name)
}

func save(from io.Reader, path string) error {
	file, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return fmt.Errorf("unpack backup: %w", err)
	}
	reader := &reading{from: from}
	_, err = io.Copy(file, reader)
	err = errors.Join(err, file.Sync(), file.Close())
	switch {
	case reader.err != nil:
		return fmt.Errorf("unpack backup: %w: %w", ErrDamaged, reader.err)
	case err != nil:
		return fmt.Errorf("unpack backup: %w", err)
	}
	return nil
}

// reading tells the errors of reading from those of writing.
type reading struct {
	from io.Reader
	err  error
}

// Read reads on.
func (r *reading) Read(p []byte) (int, error) {
	n, err := r.from.Read(p)
	if err != nil && !errors.Is(err, io.EOF) {
		r.err = err
	}
	return n, err
}
