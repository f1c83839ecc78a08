package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"filippo.io/age"

	"doorsill/internal/backup"
	"doorsill/internal/seal"
	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/server"
)

// backupOptions say what is backed up, where to, and who can open it.
type backupOptions struct {
	data, file, newKey string
	keys               makingKeys
}

// runBackup writes a backup of a server that is not running.
func runBackup(_ context.Context, args []string, con console) error {
	var o backupOptions
	flags := flag.NewFlagSet("backup", flag.ContinueOnError)
	flags.StringVar(&o.data, "data", "data", "the records are in `DIR`")
	flags.StringVar(&o.newKey, "new-key", "", "make a key for backups, keep its secret in `FILE`, print its public half, and do nothing else")
	flags.StringVar(&o.keys.passphraseFile, "passphrase-file", "", "whoever knows the passphrase in `FILE` can open it; without --for either it is asked for")
	o.keys.flags(flags)
	file, err := parseWithFile(flags, con, args)
	if err != nil {
		return err
	}
	if o.newKey != "" {
		return newBackupKey(con, o.newKey)
	}
	if file == "" {
		return &usageError{"expected the FILE to write, or - for standard output", "for example doorsill backup /media/safe/doorsill.age --for age1…"}
	}
	o.file = file
	return o.make(con)
}

func (o *backupOptions) make(con console) error {
	recipients, err := o.recipients(con)
	if err != nil {
		return err
	}
	path := filepath.Join(o.data, server.RecordsFile)
	if _, err := os.Stat(path); errors.Is(err, os.ErrNotExist) {
		return &usageError{fmt.Sprintf("there are no records at %s", path), "say where they are with --data DIR"}
	}
	db, err := bolt.Open(path, bolt.Options{ReadOnly: true})
	if errors.Is(err, store.ErrInUse) {
		return fmt.Errorf("%w\n  A server is running on these records. It makes backups itself when it is started with --backup-dir and --for; an admin can ask for one at any time: POST /api/v1/backup", err)
	}
	if err != nil {
		return inWords(err)
	}
	about, err := o.write(con, db, recipients)
	if err := errors.Join(err, db.Close()); err != nil {
		return err
	}
	fmt.Fprintf(con.errOut, "Copied log %s up to position %d. Keep the file where the server is not, and the key or passphrase where the file is not.\n", about.Log, about.Head)
	return nil
}

func (o *backupOptions) recipients(con console) ([]age.Recipient, error) {
	recipients, err := o.keys.public()
	if err != nil || recipients != nil {
		return recipients, err
	}
	text, err := passphrase(con, o.keys.passphraseFile, true)
	if err != nil {
		return nil, err
	}
	recipient, _, err := backup.Passphrase(text, 0)
	return []age.Recipient{recipient}, err
}

func (o *backupOptions) write(con console, db *bolt.DB, recipients []age.Recipient) (about backup.About, err error) {
	key := func() ([]byte, error) { return backup.KeyIn(o.data) }
	write := func(out io.Writer) (err error) {
		about, err = backup.Copy(out, db, key, time.Now(), recipients...)
		return err
	}
	if o.file == "-" {
		return about, write(con.out)
	}
	return about, backup.File(o.file, write)
}

// newBackupKey makes a key pair; the secret is only ever in its file.
func newBackupKey(con console, path string) error {
	public, secret, err := backup.NewKey()
	if err != nil {
		return err
	}
	text := fmt.Sprintf("# Opens the backups that are made for %s.\n# Keep it where the server and the backups are not; without it they can not be opened.\n%s\n", public, secret)
	file, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return fmt.Errorf("keep backup key: %w", err)
	}
	_, err = file.WriteString(text)
	if err := errors.Join(err, file.Sync(), file.Close()); err != nil {
		return fmt.Errorf("keep backup key: %w", err)
	}
	_, err = fmt.Fprintln(con.out, public)
	return err
}

// unpackBackup opens a backup into a folder.
func unpackBackup(path, dir string, identities []age.Identity) (about backup.About, err error) {
	file, err := os.Open(path)
	if err != nil {
		return about, fmt.Errorf("open backup: %w", err)
	}
	about, err = backup.Unpack(file, dir, server.RecordsFile, identities...)
	err = errors.Join(err, file.Close())
	if err == nil {
		if _, keyErr := seal.ReadKey(dir); keyErr != nil && !errors.Is(keyErr, os.ErrNotExist) {
			err = keyErr
		}
	}
	return about, err
}
