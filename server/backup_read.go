package server

import (
	"errors"
	"net/http"
	"time"

	"doorsill/internal/account"
	"doorsill/internal/backup"
)

// backupRead says where backups go and which is the last, for admins.
func backupRead(s *server, _ *http.Request, c account.Caller) (answer, error) {
	if !c.Admin {
		return answer{}, account.ErrNotAllowed
	}
	last, dir, err := s.deps.Backups.Last()
	if errors.Is(err, backup.ErrNone) {
		return ok(BackupState{Why: noBackups, Verified: s.verifiedState()}), nil
	}
	if err != nil {
		s.deps.Log.Error("the folder for backups can not be read", "error", err)
		return ok(BackupState{Dir: dir, Why: "The folder for backups can not be read. Whoever runs the server finds the reason in its log.", Verified: s.verifiedState()}), nil
	}
	state := BackupState{Dir: dir, Verified: s.verifiedState()}
	if last.Name != "" {
		state.Last = &BackupFile{Name: last.Name, Bytes: last.Bytes, At: last.At.Format(time.RFC3339)}
	}
	return ok(state), nil
}

// verifiedState is nil where there was no pass yet.
func (s *server) verifiedState() *VerifiedState {
	last := s.deps.Watch.Last()
	if last.At.IsZero() {
		return nil
	}
	return &VerifiedState{At: last.At.UTC().Format(time.RFC3339), Faults: last.Faults()}
}
