package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"doorsill/internal/account"
	"doorsill/internal/audit"
	"doorsill/internal/intake"
	"doorsill/internal/seal"
	"doorsill/internal/store"
	"doorsill/internal/validation"
	"doorsill/server"
)

// mostImportLine is the longest line of a file of envelopes.
const mostImportLine = 8 << 20

// runImport takes in a file that a tablet wrote because it could not send: one
// sealed envelope a line. It can be repeated.
func runImport(ctx context.Context, args []string, con console) error {
	flags := flag.NewFlagSet("import", flag.ContinueOnError)
	data := flags.String("data", "data", "the records and "+seal.KeyFile+" are in `DIR`")
	name, err := parseOneFile(flags, con, args, "doorsill import FILE [--data DIR]; the server must not be running on the same records")
	if err != nil {
		return err
	}
	file, err := os.Open(name)
	if err != nil {
		return fmt.Errorf("read %s: %w", name, err)
	}
	defer file.Close()
	app, err := openStopped(*data)
	if err != nil {
		return err
	}
	im := importing{app: app, con: con, name: name, quarantined: map[int64]bool{}}
	return errors.Join(im.all(ctx, file), app.Close())
}

// openStopped opens records that are there and that no server has; a wrong folder
// is not filled.
func openStopped(data string) (*server.App, error) {
	if _, err := os.Stat(filepath.Join(data, seal.KeyFile)); err != nil {
		return nil, &usageError{fmt.Sprintf("%s has no %s", data, seal.KeyFile), "give the server's data folder with --data DIR"}
	}
	app, err := server.Open(data, server.Options{})
	if errors.Is(err, store.ErrInUse) {
		return nil, fmt.Errorf("%w: stop the server first", err)
	}
	return app, err
}

// importing is one file being taken in.
type importing struct {
	app  *server.App
	con  console
	name string
	// stored and known count entries by verdict.
	stored, known int
	// quarantined has what was set aside by ID, as one entry can lie in several
	// envelopes, and whether it waits for its author's word.
	quarantined map[int64]bool
}

// all takes every line; one that can not be taken does not keep the others out.
func (im *importing) all(ctx context.Context, in io.Reader) error {
	lines := bufio.NewScanner(in)
	lines.Buffer(nil, mostImportLine)
	envelopes, failed := 0, 0
	for number := 1; lines.Scan(); number++ {
		line := bytes.TrimSpace(lines.Bytes())
		if len(line) == 0 {
			continue
		}
		envelopes++
		if err := im.one(ctx, line); err != nil {
			failed++
			fmt.Fprintf(im.con.errOut, "%s:%d: %v\n", im.name, number, err)
		}
	}
	if err := lines.Err(); err != nil {
		return fmt.Errorf("read %s: %w", im.name, err)
	}
	im.report(envelopes)
	switch {
	case envelopes == 0:
		return fmt.Errorf("%s holds no envelope", im.name)
	case failed > 0:
		return fmt.Errorf("%d of %s not taken in; keep the file", failed, counted(envelopes, "envelope was", "envelopes were"))
	}
	return nil
}

// report says what became of the entries.
func (im *importing) report(envelopes int) {
	fmt.Fprintf(im.con.out, "%s: %s stored, %d known already, %d set aside for the lead.\n",
		counted(envelopes, "envelope", "envelopes"), counted(im.stored, "entry", "entries"), im.known, len(im.quarantined))
	unsigned := 0
	for _, waits := range im.quarantined {
		if waits {
			unsigned++
		}
	}
	if unsigned > 0 {
		fmt.Fprintf(im.con.out, "Set aside because no tablet of their author signed them: %s. What is set aside so counts once the author has confirmed it in the app, or the lead where the author is gone.\n",
			counted(unsigned, "entry", "entries"))
	}
}

// counted is a number with the word for what it counts.
func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprint(n, " ", many)
}

// one takes one envelope in and leaves a line in the audit trail either way.
func (im *importing) one(ctx context.Context, line []byte) error {
	e, err := seal.Parse(line)
	if err != nil {
		return err
	}
	receipt, err := im.take(ctx, e)
	note := audit.Note{Person: account.Console().Person, Action: "import events", Subject: e.Tablet, From: account.Console().Source, Result: audit.OK}
	if err != nil {
		note.Result = audit.Failed
	}
	if trailErr := im.app.Trail.Note(note); trailErr != nil || err != nil {
		return errors.Join(err, trailErr)
	}
	if left := e.To - e.From + 1 - int64(len(receipt.Verdicts)); left > 0 {
		err = fmt.Errorf("%d of its entries were not taken in, because too many of this tablet or person are set aside; settle some and import the file again", left)
	}
	for _, v := range receipt.Verdicts {
		switch v.Verdict {
		case intake.Stored:
			im.stored++
		case intake.Known:
			im.known++
		default:
			im.quarantined[v.Entry] = v.Code == validation.CodeUnsigned
		}
	}
	return err
}

func (im *importing) take(ctx context.Context, e seal.Envelope) (intake.PushAnswer, error) {
	who, err := im.app.Accounts.OnBehalf(ctx, account.Console(), e.Person)
	if errors.Is(err, account.ErrNotFound) {
		return intake.PushAnswer{}, fmt.Errorf("nobody here has the id %s, whose entries these are", e.Person)
	}
	if err != nil {
		return intake.PushAnswer{}, err
	}
	return im.app.Envelopes.Import(ctx, who, e)
}
