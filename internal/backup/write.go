package backup

import (
	"archive/tar"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"filippo.io/age"
)

// Source is what is copied.
type Source struct {
	About About
	// Key is the organisation's key as it lies on the disk; nil when the
	// service has none.
	Key []byte
	// Size is the length of the records, WriteTo writes that many bytes.
	Size    int64
	WriteTo func(io.Writer) (int64, error)
}

// Write writes a backup that each of the recipients can open. out should be a
// disk: the records are held at one moment for as long as this takes.
func Write(out io.Writer, from Source, recipients ...age.Recipient) error {
	sealed, err := age.Encrypt(out, recipients...)
	if err != nil {
		return fmt.Errorf("encrypt backup: %w", err)
	}
	parts := tar.NewWriter(sealed)
	if err := writeParts(parts, from); err != nil {
		return fmt.Errorf("write backup: %w", err)
	}
	if err := errors.Join(parts.Close(), sealed.Close()); err != nil {
		return fmt.Errorf("write backup: %w", err)
	}
	return nil
}

func writeParts(parts *tar.Writer, from Source) error {
	from.About.Format = Format
	about, err := json.Marshal(from.About)
	if err != nil {
		return err
	}
	if err := writePart(parts, aboutPart, about); err != nil {
		return err
	}
	if from.Key != nil {
		if err := writePart(parts, keyPart, from.Key); err != nil {
			return err
		}
	}
	if err := parts.WriteHeader(&tar.Header{Name: recordsPart, Mode: 0o600, Size: from.Size}); err != nil {
		return err
	}
	_, err = from.WriteTo(parts)
	return err
}

func writePart(parts *tar.Writer, name string, data []byte) error {
	if err := parts.WriteHeader(&tar.Header{Name: name, Mode: 0o600, Size: int64(len(data))}); err != nil {
		return err
	}
	_, err := parts.Write(data)
	return err
}
