package main

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"doorsill/internal/account"
	"doorsill/internal/audit"
	"doorsill/internal/backup"
	"doorsill/internal/folder"
	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/server"
)

// restoreOptions say what is restored and where to.
type restoreOptions struct {
	data   string
	faulty bool
	keys   openingKeys
}

// runRestore makes a data folder from a backup: under a new log id, so that
// tablets notice and send again what the backup does not have.
func runRestore(ctx context.Context, args []string, con console) error {
	var o restoreOptions
	flags := flag.NewFlagSet("restore", flag.ContinueOnError)
	flags.StringVar(&o.data, "data", "data", "make the folder `DIR`, which must not exist or be empty")
	flags.BoolVar(&o.faulty, "despite-faults", false, "restore even when what is in the backup does not fit together")
	o.keys.flags(flags)
	file, err := parseWithFile(flags, con, args)
	if err != nil {
		return err
	}
	if file == "" {
		return &usageError{"expected the backup FILE to restore", "for example doorsill restore doorsill.age --data /srv/doorsill --key-file KEY"}
	}
	return o.restore(ctx, con, file)
}

// restore works in a folder beside the one asked for, so that what is there at
// the end is whole.
func (o *restoreOptions) restore(ctx context.Context, con console, file string) error {
	entries, err := os.ReadDir(o.data)
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		return fmt.Errorf("restore into %s: %w", o.data, err)
	}
	if len(entries) > 0 {
		return &usageError{fmt.Sprintf("%s is not empty, and restoring does not overwrite", o.data), "name a new folder with --data; move the old one away and keep it until all tablets have sent"}
	}
	identities, err := o.keys.identities(con)
	if err != nil {
		return err
	}
	parent := filepath.Dir(filepath.Clean(o.data))
	if err := os.MkdirAll(parent, 0o700); err != nil {
		return fmt.Errorf("restore: %w", err)
	}
	dir, err := os.MkdirTemp(parent, ".restoring-")
	if err != nil {
		return fmt.Errorf("restore: %w", err)
	}
	about, err := unpackBackup(file, dir, identities)
	if err == nil {
		err = o.check(ctx, con, dir)
	}
	var ended int
	if err == nil {
		ended, err = renew(ctx, dir)
	}
	if err != nil {
		return errors.Join(err, os.RemoveAll(dir))
	}
	if err := moveInto(dir, o.data); err != nil {
		return err
	}
	return tellAfterRestore(con, o.data, about, ended)
}

// check verifies what was unpacked.
func (o *restoreOptions) check(ctx context.Context, con console, dir string) error {
	err := readFile(filepath.Join(dir, server.RecordsFile), func(db *bolt.DB, path string) error {
		return verifyFile(ctx, con, db, path)
	})
	if errors.Is(err, errDiffers) && o.faulty {
		return nil
	}
	if errors.Is(err, errDiffers) {
		return fmt.Errorf("%w: nothing was restored\n  Try an older backup. If there is none, --despite-faults restores this one as it is", err)
	}
	return err
}

// renew gives the log a new name and ends all sessions: some may have been
// ended, or their people's accounts closed, after the backup was made.
func renew(ctx context.Context, dir string) (ended int, err error) {
	db, err := bolt.Open(filepath.Join(dir, server.RecordsFile), bolt.Options{})
	if err != nil {
		return 0, inWords(err)
	}
	err = db.Update(ctx, func(w store.Writer) error {
		id := make([]byte, 16)
		_, _ = rand.Read(id) // never fails
		var err error
		if ended, err = w.RemoveSessionsExpired("9999"); err != nil {
			return err
		}
		return w.SetLogID(hex.EncodeToString(id))
	})
	if err == nil {
		trail := audit.New(db, time.Now)
		console := account.Console()
		err = trail.Note(audit.Note{Person: console.Person, Action: "restore records", From: console.Source})
		trail.Close()
	}
	return ended, errors.Join(err, db.Close())
}

// moveInto puts the folder in its place, which does not exist or is empty.
func moveInto(dir, place string) error {
	if err := os.Remove(place); err != nil && !errors.Is(err, os.ErrNotExist) {
		return fmt.Errorf("restore: what was restored is in %s: %w", dir, err)
	}
	if err := os.Rename(dir, place); err != nil {
		return fmt.Errorf("restore: what was restored is in %s: %w", dir, err)
	}
	if err := folder.Sync(filepath.Dir(place)); err != nil {
		return fmt.Errorf("restore: %w", err)
	}
	return nil
}

func tellAfterRestore(con console, data string, about backup.About, ended int) error {
	_, err := fmt.Fprintf(con.out, `
Restored into %[1]s: the records as of %[2]s.

Next:
  1. Start the server: doorsill serve --data %[1]s
  2. Everybody signs in again (%[3]d sessions were ended). Tablets notice by themselves
     that the server was restored, and send again what the backup does not have.
     Do not clear a tablet before it says that the server has everything.
  3. What was done on the server itself after %[2]s is not on
     any tablet: accounts, passwords and roles, assignments, notes on entries set
     aside, withdrawn tablets, the audit trail. Do those again, closed accounts
     and withdrawn tablets first.
  4. Keep what is left of the lost server until all tablets have sent.
`, data, about.At, ended)
	return err
}
