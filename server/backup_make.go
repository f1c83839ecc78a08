package server

import (
	"context"
	"errors"
	"net/http"

	"doorsill/internal/account"
	"doorsill/internal/backup"
)

// backupMake makes a backup now, into the folder and for the keys that the
// server was started with. Nothing of it leaves by this way.
func backupMake(s *server, r *http.Request, c account.Caller) (answer, error) {
	if !c.Admin {
		return answer{}, account.ErrNotAllowed
	}
	// A large one takes longer than a browser waits, and is made all the same.
	made, err := s.deps.Backups.Make(context.WithoutCancel(r.Context()))
	if errors.Is(err, backup.ErrNone) {
		return answer{}, &refusal{status: http.StatusConflict, cause: err, ErrorAnswer: ErrorAnswer{Error: "no-backups", Message: noBackups}}
	}
	return answer{status: http.StatusCreated, body: made}, err
}

// noBackups is for whoever runs the server.
const noBackups = "No backups are set up: this server was started without a folder for them. Whoever runs it starts it with --backup-dir and --for."
