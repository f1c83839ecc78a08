package server

import (
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"doorsill/internal/backup"
)

func backupSite(t *testing.T) (s *site, dir string) {
	t.Helper()
	public, _, err := backup.NewKey()
	if err != nil {
		t.Fatal(err)
	}
	recipients, err := backup.Recipients(public)
	if err != nil {
		t.Fatal(err)
	}
	dir = filepath.Join(t.TempDir(), "backups")
	if err := os.Mkdir(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	return newSite(t, Options{Backups: backup.Plan{Dir: dir, For: recipients}}), dir
}

func TestAnAdminMakesABackupAndSeesTheLast(t *testing.T) {
	s, dir := backupSite(t)
	var state BackupState
	s.ask(t, admin, "GET", "/api/v1/backup", "").into(t, &state)
	if state.Dir != dir || state.Last != nil || state.Why != "" {
		t.Errorf("before the first: %+v", state)
	}
	for range 2 {
		s.clock.turn(time.Second)
		if got := s.ask(t, admin, "POST", "/api/v1/backup", ""); got.Code != http.StatusCreated {
			t.Fatalf("%d %s", got.Code, got.Body)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, "doorsill-zzz.age"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	s.ask(t, admin, "GET", "/api/v1/backup", "").into(t, &state)
	if state.Last == nil {
		t.Fatal("the backup is not seen")
	}
	file, err := os.Stat(filepath.Join(dir, state.Last.Name))
	if err != nil || file.Size() != state.Last.Bytes || state.Last.At != s.clock.Now().Format("2006-01-02T15:04:05Z") {
		t.Errorf("%+v is not the second backup (%v)", state.Last, err)
	}
}

func TestWhyThereAreNoBackupsIsSaid(t *testing.T) {
	var state BackupState
	newSite(t, Options{}).ask(t, admin, "GET", "/api/v1/backup", "").into(t, &state)
	if !strings.Contains(state.Why, "--backup-dir") || state.Dir != "" {
		t.Errorf("without a folder: %+v", state)
	}
	s, dir := backupSite(t)
	if err := os.RemoveAll(dir); err != nil {
		t.Fatal(err)
	}
	s.ask(t, admin, "GET", "/api/v1/backup", "").into(t, &state)
	if !strings.Contains(state.Why, "can not be read") {
		t.Errorf("with a folder that is gone: %+v", state)
	}
}
