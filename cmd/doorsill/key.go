package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"slices"
	"strings"

	"doorsill/internal/account"
	"doorsill/internal/audit"
	"doorsill/internal/seal"
)

const keyUsage = `Usage: doorsill key VERB [--data DIR]

  list    name the organisation's key and those before it
  rotate  make a new key, to which tablets seal from their next sign-in on; those
          before it are kept to open what was sealed to them

The server must not be running on the same records.
`

// runKey manages the key that tablets seal signed visits to.
func runKey(_ context.Context, args []string, con console) error {
	name := strings.Join(args[:min(1, len(args))], "")
	verbs := map[string]func(data string, con console) error{"list": keyList, "rotate": keyRotate}
	verb, ok := verbs[name]
	switch {
	case slices.Contains([]string{"-h", "--help", "help"}, name):
		_, err := fmt.Fprint(con.out, keyUsage)
		return err
	case !ok:
		return &usageError{fmt.Sprintf("key: there is no verb %q", name), "verbs: list, rotate"}
	}
	flags := flag.NewFlagSet("key "+name, flag.ContinueOnError)
	data := flags.String("data", "data", seal.KeyFile+" is in `DIR`")
	if err := parseOptions(flags, con, args[1:]); err != nil {
		return err
	}
	return verb(*data, con)
}

func keyList(data string, con console) error {
	key, err := seal.ReadKey(data)
	if err != nil {
		return err
	}
	fmt.Fprintf(con.out, "%s  tablets seal to it\n", key.ID())
	for _, id := range key.Earlier() {
		fmt.Fprintf(con.out, "%s  opens what was sealed to it\n", id)
	}
	return nil
}

// keyRotate holds the records meanwhile, so that no server goes on with the key
// of before, and the audit trail says what was done.
func keyRotate(data string, con console) error {
	app, err := openStopped(data)
	if err != nil {
		return err
	}
	key, err := seal.Rotate(data)
	note := audit.Note{Person: account.Console().Person, Action: "rotate organisation key", From: account.Console().Source, Result: audit.OK}
	if err != nil {
		note.Result = audit.Failed
	}
	if err := errors.Join(err, app.Trail.Note(note), app.Close()); err != nil {
		return err
	}
	fmt.Fprintf(con.out, `The organisation's key is %s now; %d before it are kept to open what was sealed to them.

Next:
  1. Start the server. Each tablet seals to the new key from its next sign-in on.
  2. Make a backup. One of before lacks the new key: what is sealed to it can not be
     opened on a server that is restored from such a backup.
`, key.ID(), len(key.Earlier()))
	return nil
}
