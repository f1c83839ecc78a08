package main

import (
	"context"
	"errors"
	"flag"
	"fmt"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/store/bolt"
	"doorsill/internal/verify"
)

// errDiffers is returned when records do not fit together; what differs has
// been printed.
var errDiffers = errors.New("the records do not fit together")

// runVerify replays the log and says what does not follow from it.
func runVerify(ctx context.Context, args []string, con console) error {
	var from source
	flags := flag.NewFlagSet("verify", flag.ContinueOnError)
	from.flags(flags)
	file, err := parseWithFile(flags, con, args)
	if err != nil {
		return err
	}
	from.file = file
	return from.read(con, func(db *bolt.DB, path string) error {
		return errors.Join(verifyFile(ctx, con, db, path), from.noted(db))
	})
}

// noted is what is wrong with the note of a data folder's newest commit. A copy of
// the records that is named as a file has none beside it.
func (s *source) noted(db *bolt.DB) error {
	if s.file != "" {
		return nil
	}
	if err := db.Noted(); err != nil {
		return fmt.Errorf("%w\n  Compare the head of the audit trail above with one that was kept. The server makes the note anew when it starts next, and says so in its log", err)
	}
	return nil
}

// verifyFile looks at the pages first: what lies on pages that do not hang
// together can not be compared.
func verifyFile(ctx context.Context, con console, db *bolt.DB, path string) error {
	faults, err := bolt.Inspect(path)
	if err != nil {
		return err
	}
	if len(faults) > 0 {
		fmt.Fprintf(con.out, "The file %s is damaged. What it holds was not compared.\n", path)
		for _, fault := range faults {
			fmt.Fprintf(con.out, "  %s\n", fault)
		}
		return errDiffers
	}
	report, err := verify.Store(ctx, db, authoring.StandardVersions())
	if err != nil {
		return inWords(err)
	}
	return printReport(con, &report)
}

// printSignatures says what was signed: each signature holds the hash of the
// result that was shown.
func printSignatures(out *wordPrinter, s verify.Signatures) {
	if all := s.Result + s.Evidence + s.Other + s.Unknown; all > 0 {
		out.line(fmt.Sprintf("%d visits are signed: %d signatures match the result, %d match a result that is kept of an earlier version.", all, s.Result, s.Evidence))
	}
	if s.Other > 0 {
		out.line(fmt.Sprintf("%d signatures match neither; the caseload marks these visits.", s.Other))
	}
	if s.Unknown > 0 {
		out.line(fmt.Sprintf("%d signatures are of an earlier version, and the visits were amended since: whether they matched was noted then.", s.Unknown))
	}
}

func printReport(con console, r *verify.Report) error {
	out := &wordPrinter{out: con.out}
	out.line(fmt.Sprintf("Log %s: %d entries of %d tablets, %d set aside, %d clients, %d visits, %d people, %d lines of audit trail.",
		r.Log, r.Entries, r.Tablets, r.Quarantined, r.Clients, r.Visits, r.People, r.Trail))
	out.line(fmt.Sprintf("Head of the audit trail: %d:%s", r.Trail, r.TrailHead))
	printSignatures(out, r.Signatures)
	if r.OtherFormat > 0 {
		out.line(fmt.Sprintf("%d results are in the form of an earlier version of Doorsill; the server computes them anew when it starts next, and keeps them beside the new ones.", r.OtherFormat))
	}
	if r.OtherEngine > 0 {
		out.line(fmt.Sprintf("%d results were computed by another version of Doorsill's engine. They stand as they were given, each names its version, and they were not computed again; a visit that changes is.", r.OtherEngine))
	}
	if r.Unpinned > 0 {
		out.line(fmt.Sprintf("%d visits are by a checklist that is not known here; they were not scored again.", r.Unpinned))
	}
	for _, fault := range r.Faults {
		out.line(fmt.Sprintf("  %s: %s", fault.Where, fault.What))
	}
	if r.More > 0 {
		out.line(fmt.Sprintf("  … and %d more.", r.More))
	}
	if r.Clean() {
		out.line("Everything that is stored follows from the log.")
		return out.err
	}
	return errors.Join(out.err, errDiffers)
}
