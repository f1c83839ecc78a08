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
		return ok(BackupState{Why: noBackups}), nil
	}
	if err != nil {
		s.deps.Log.Error("the folder for backups can not be read", "error", err)
		return ok(BackupState{Dir: dir, Why: "The folder for backups can not be read. Whoever runs the server finds the reason in its log."}), nil
	}
	state := BackupState{Dir: dir}
	if last.Name != "" {
		state.Last = &BackupFile{Name: last.Name, Bytes: last.Bytes, At: last.At.Format(time.RFC3339)}
	}
	return ok(state), nil
}
