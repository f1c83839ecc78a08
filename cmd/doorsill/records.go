package main

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"

	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/server"
)

// source says which records a command reads: the folder of a server that is
// not running, or one file.
type source struct {
	data string
	file string
}

func (s *source) flags(flags *flag.FlagSet) {
	flags.StringVar(&s.data, "data", "data", "the records are in `DIR`")
}

func (s *source) path() string {
	if s.file != "" {
		return s.file
	}
	return filepath.Join(s.data, server.RecordsFile)
}

// parseWithFile parses options that may be followed, or preceded, by one file.
func parseWithFile(flags *flag.FlagSet, con console, args []string) (file string, err error) {
	var rest []string
	for i, arg := range args {
		if file == "" && arg != "" && arg[0] != '-' && (i == 0 || !takesValue(flags, args[i-1])) {
			file = arg
			continue
		}
		rest = append(rest, arg)
	}
	return file, parseOptions(flags, con, rest)
}

// takesValue says whether an argument is an option whose value comes next.
func takesValue(flags *flag.FlagSet, arg string) bool {
	if arg == "" || arg[0] != '-' {
		return false
	}
	name := arg[1:]
	if name != "" && name[0] == '-' {
		name = name[1:]
	}
	known := flags.Lookup(name)
	if known == nil {
		return false
	}
	simple, is := known.Value.(interface{ IsBoolFlag() bool })
	return !is || !simple.IsBoolFlag()
}

// read opens the records for as long as fn runs. Nothing is written.
func (s *source) read(fn func(db *bolt.DB, path string) error) error {
	path := s.path()
	if _, err := os.Stat(path); errors.Is(err, os.ErrNotExist) {
		return &usageError{fmt.Sprintf("there are no records at %s", path), "say where they are with --data DIR, or name a file"}
	}
	db, err := bolt.Open(path, bolt.Options{ReadOnly: true})
	if err != nil {
		return inWords(err)
	}
	return errors.Join(fn(db, path), db.Close())
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
