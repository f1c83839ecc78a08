package server

import (
	"bytes"
	"errors"
	"log/slog"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"doorsill/internal/seal"
	"doorsill/internal/store"
)

// TestALostOrganisationKeyIsTold: records without the key that their tablets seal
// to are served, but not without a word.
func TestALostOrganisationKeyIsTold(t *testing.T) {
	s := newSite(t, Options{})
	key, err := s.organisation.PEM()
	if err != nil {
		t.Fatal(err)
	}
	open := func(key []byte) (said string) {
		t.Helper()
		dir := t.TempDir()
		var records, log bytes.Buffer
		err := s.Store.(store.Copier).Copy(func(c store.Copy) error {
			_, err := c.WriteTo(&records)
			return err
		})
		if err := errors.Join(err, os.WriteFile(filepath.Join(dir, RecordsFile), records.Bytes(), 0o600)); err != nil {
			t.Fatal(err)
		}
		if key != nil {
			if err := os.WriteFile(filepath.Join(dir, seal.KeyFile), key, 0o600); err != nil {
				t.Fatal(err)
			}
		}
		app, err := Open(dir, Options{NoSync: true, Files: bundle(), Now: s.clock.Now, Log: slog.New(slog.NewTextHandler(&log, nil))})
		if err == nil {
			err = app.Close()
		}
		if err != nil {
			t.Fatal(err)
		}
		return log.String()
	}
	if said := open(key); strings.Contains(said, seal.KeyFile) {
		t.Errorf("with its key: %s", said)
	}
	if said := open(nil); !strings.Contains(said, "level=WARN") || !strings.Contains(said, seal.KeyFile) || !strings.Contains(said, "tablets=1") {
		t.Errorf("without its key: %q", said)
	}
}
