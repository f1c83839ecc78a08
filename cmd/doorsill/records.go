package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"

	"doorsill/internal/backup"
	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/server"
)

// source says which records a command reads: the folder of a server that is
// not running, or one file.
type source struct {
	data string
	file string
	keys openingKeys
}

func (s *source) flags(flags *flag.FlagSet) {
	flags.StringVar(&s.data, "data", "data", "the records are in `DIR`")
	s.keys.flags(flags)
}

func (s *source) path() string {
	if s.file != "" {
		return s.file
	}
	return filepath.Join(s.data, server.RecordsFile)
}

// parseWithFile parses options with one file anywhere among them, or none.
func parseWithFile(flags *flag.FlagSet, con console, args []string) (file string, err error) {
	var help bytes.Buffer
	flags.SetOutput(&help)
	files, err := parseAnywhere(flags, args)
	hint := fmt.Sprintf("\"doorsill %s -h\" lists the options", flags.Name())
	switch {
	case errors.Is(err, flag.ErrHelp):
		_, writeErr := con.out.Write(help.Bytes())
		return "", errors.Join(err, writeErr)
	case err != nil:
		return "", &usageError{err.Error(), hint}
	case len(files) > 1:
		return "", &usageError{fmt.Sprintf("unexpected %q", files[1]), hint}
	case len(files) == 1:
		file = files[0]
	}
	return file, nil
}

// read opens the records for as long as fn runs. Nothing is written. A backup
// is unpacked for that long where the system keeps its temporary files.
func (s *source) read(con console, fn func(db *bolt.DB, path string) error) error {
	path := s.path()
	if _, err := os.Stat(path); errors.Is(err, os.ErrNotExist) {
		return &usageError{fmt.Sprintf("there are no records at %s", path), "say where they are with --data DIR, or name a file"}
	}
	if backup.Is(path) {
		return s.unpacked(con, func(unpacked string) error { return readFile(unpacked, fn) })
	}
	return readFile(path, fn)
}

func readFile(path string, fn func(db *bolt.DB, path string) error) error {
	db, err := bolt.Open(path, bolt.Options{ReadOnly: true})
	if err != nil {
		return inWords(err)
	}
	return errors.Join(fn(db, path), db.Close())
}

func (s *source) unpacked(con console, fn func(path string) error) error {
	identities, err := s.keys.identities(con)
	if err != nil {
		return err
	}
	dir, err := os.MkdirTemp("", "doorsill-")
	if err != nil {
		return fmt.Errorf("unpack backup: %w", err)
	}
	_, err = unpackBackup(s.file, dir, identities)
	if err == nil {
		err = fn(filepath.Join(dir, server.RecordsFile))
	}
	return errors.Join(err, os.RemoveAll(dir))
}

// inWords adds what to do to the errors of opening records.
func inWords(err error) error {
	switch {
	case errors.Is(err, store.ErrInUse):
		return fmt.Errorf("%w\n  A server has these records open. Stop it first, or name a backup file instead: it can be read at any time", err)
	case errors.Is(err, store.ErrForeign):
		return fmt.Errorf("%w\n  The file is not one of records, it was written by a newer version, or its beginning is damaged", err)
	case errors.Is(err, store.ErrDamaged):
		return fmt.Errorf("%w\n  Do not start a server on this file. Keep it as it is, and restore the last backup into a new folder", err)
	}
	return err
}
