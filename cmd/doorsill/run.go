package main

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
)

// console is what a command reads from and writes to.
type console struct {
	in          io.Reader
	out, errOut io.Writer
}

// usageError is a mistake in how a command was called. Hint says what to do.
type usageError struct{ message, hint string }

// Error is the mistake alone; run prints the hint below it.
func (e *usageError) Error() string { return e.message }

// command is one verb of the program.
type command struct {
	name, summary string
	run           func(context.Context, []string, console) error
}

func commands() []command {
	return []command{
		{"serve", "serve the app and keep its records", runServe},
		{"demo", "serve an invented service to look around in", runDemo},
		{"score", "score one visit from a file and say the result in words", runScore},
		{"check", "say what is wrong with a checklist file", runCheck},
		{"backup", "write everything into one encrypted file", runBackup},
		{"restore", "make a new data folder from a backup", runRestore},
		{"verify", "replay the log and say what does not follow from it", runVerify},
		{"audit", "print the audit trail and check its chain", runAudit},
		{"import", "take in a file that a tablet wrote because it could not send", runImport},
		{"key", "list or rotate the organisation's key", runKey},
		{"account", "manage people, teams and passwords on this machine", runAccount},
		{"version", "print revision, engine and standard checklist", runVersion},
	}
}

// Exit codes: a failed command, and one that was called wrongly.
const (
	exitFailed = 1
	exitUsage  = 2
)

// run finds the command and returns the program's exit code.
func run(ctx context.Context, args []string, in io.Reader, out, errOut io.Writer) int {
	con := console{in: in, out: out, errOut: errOut}
	if len(args) == 0 {
		usage(errOut)
		return exitUsage
	}
	switch args[0] {
	case "help", "-h", "-help", "--help":
		usage(out)
		return 0
	}
	for _, c := range commands() {
		if c.name == args[0] {
			return report(con, c.run(ctx, args[1:], con))
		}
	}
	return report(con, &usageError{fmt.Sprintf("there is no command %q", args[0]), `"doorsill help" lists them`})
}

// report prints an error and returns the exit code for it.
func report(con console, err error) int {
	var wrong *usageError
	switch {
	case err == nil, errors.Is(err, flag.ErrHelp):
		return 0
	case errors.As(err, &wrong):
		fmt.Fprintf(con.errOut, "doorsill: %s\n  %s\n", wrong.message, wrong.hint)
		return exitUsage
	}
	fmt.Fprintf(con.errOut, "doorsill: %v\n", err)
	return exitFailed
}

func usage(w io.Writer) {
	fmt.Fprint(w, "Usage: doorsill COMMAND [options]\n\n")
	for _, c := range commands() {
		fmt.Fprintf(w, "  %-9s %s\n", c.name, c.summary)
	}
	fmt.Fprint(w, "\n\"doorsill COMMAND -h\" lists a command's options.\n")
}

// parseOptions parses a command's options and refuses anything after them.
func parseOptions(flags *flag.FlagSet, con console, args []string) error {
	var help bytes.Buffer
	flags.SetOutput(&help)
	if err := flags.Parse(args); errors.Is(err, flag.ErrHelp) {
		_, writeErr := con.out.Write(help.Bytes())
		return errors.Join(err, writeErr)
	} else if err != nil {
		return &usageError{err.Error(), fmt.Sprintf("\"doorsill %s -h\" lists the options", flags.Name())}
	}
	if flags.NArg() > 0 {
		return &usageError{fmt.Sprintf("unexpected %q", flags.Arg(0)), fmt.Sprintf("\"doorsill %s -h\" lists the options", flags.Name())}
	}
	return nil
}
