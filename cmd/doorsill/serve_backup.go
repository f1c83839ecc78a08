package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"log/slog"
	"os"
	"sync"
	"time"

	"doorsill/internal/audit"
	"doorsill/internal/backup"
	"doorsill/server"
)

// backupPlan is what a running server was told about its backups.
type backupPlan struct {
	dir   string
	every time.Duration
	keep  int
	keys  makingKeys
}

func (p *backupPlan) flags(flags *flag.FlagSet) {
	flags.StringVar(&p.dir, "backup-dir", "", "put backups into `DIR`, which should be of another disk")
	flags.DurationVar(&p.every, "backup-every", 24*time.Hour, "make a backup so `OFTEN`, and when an admin asks for one")
	flags.IntVar(&p.keep, "backup-keep", 30, "keep the last `NUMBER` of backups; 0 keeps all")
	p.keys.flags(flags)
}

func (p *backupPlan) plan() (backup.Plan, error) {
	recipients, err := p.keys.public()
	if err != nil {
		return backup.Plan{}, err
	}
	if (p.dir == "") != (recipients == nil) {
		return backup.Plan{}, &usageError{"--backup-dir and --for belong together", "\"doorsill backup --new-key FILE\" makes a key and prints what to give as --for; keep FILE where the server is not"}
	}
	if p.dir == "" {
		return backup.Plan{}, nil
	}
	if p.every < time.Second || p.keep < 0 {
		return backup.Plan{}, &usageError{"--backup-every and --backup-keep: expected a second or more and a number from 0", "for example --backup-every 12h --backup-keep 30"}
	}
	if err := os.MkdirAll(p.dir, 0o700); err != nil {
		return backup.Plan{}, fmt.Errorf("make folder for backups: %w", err)
	}
	return backup.Plan{Dir: p.dir, For: recipients, Keep: p.keep}, nil
}

// lookEvery is how often it is looked whether a backup is due. It is short, so
// that one that failed is tried again soon.
const lookEvery = 10 * time.Minute

// run makes backups until the context ends, and ends when the last is done.
func (p *backupPlan) run(ctx context.Context, app *server.App, log *slog.Logger) {
	if p.dir == "" {
		return
	}
	ticker := time.NewTicker(min(p.every, lookEvery))
	defer ticker.Stop()
	for {
		if err := p.look(ctx, app, log); err != nil {
			log.Error("backup failed", "error", err)
		}
		select {
		case <-ticker.C:
		case <-ctx.Done():
			return
		}
	}
}

func (p *backupPlan) look(ctx context.Context, app *server.App, log *slog.Logger) error {
	due, err := app.Backups.Due(p.every)
	if err != nil || !due {
		return err
	}
	made, err := app.Backups.Make(ctx)
	note := audit.Note{Person: "server", Action: "make backup", From: "timer"}
	if err != nil {
		note.Result = audit.Failed
		return errors.Join(err, app.Trail.Note(note))
	}
	log.Info("backup made", "name", made.Name, "bytes", made.Bytes, "head", made.Head)
	return app.Trail.Note(note)
}

// serveWithBackups serves, and makes backups and verifies meanwhile.
func serveWithBackups(ctx context.Context, con console, app *server.App, o serveOptions, log *slog.Logger) error {
	ctx, stop := context.WithCancel(ctx)
	var beside sync.WaitGroup
	beside.Go(func() { o.backups.run(ctx, app, log) })
	beside.Go(func() { verifyOn(ctx, app.Watch, o.verifyEvery, log) })
	err := serveApp(ctx, con, app, o, log)
	stop()
	beside.Wait()
	return err
}
