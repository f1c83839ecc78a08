package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"

	"doorsill/internal/checklist"
	"doorsill/internal/checklist/authoring"
	"doorsill/internal/engine"
	"doorsill/internal/model"
	"doorsill/internal/phrase"
)

// maxVisitFile is how large a visit file may be.
const maxVisitFile = 4 << 20

// runScore reads one visit from a file, or from standard input for "-", and
// says what it means. The file is described in VISIT-FILE.md beside this one.
func runScore(_ context.Context, args []string, con console) error {
	flags := flag.NewFlagSet("score", flag.ContinueOnError)
	asJSON := flags.Bool("json", false, "print the canonical result as one line of JSON, exactly the bytes that are hashed and signed (no line end follows); internal/engine/RESULT.md describes it")
	own := flags.String("checklist", "", "score by the checklist in this `FILE` instead of the standard one")
	name, err := parseOneFile(flags, con, args, "doorsill score FILE [--json], or - for standard input")
	if err != nil {
		return err
	}
	definition, result, err := scoreFile(name, *own, con.in)
	if err != nil {
		return err
	}
	if *asJSON {
		_, err = con.out.Write(result.AppendJSON(nil))
	} else {
		words := resultPrinter{wordPrinter{out: con.out}, phrase.NewWriter(phrase.English(), definition)}
		err = words.result(&result)
	}
	if err != nil {
		return fmt.Errorf("write result: %w", err)
	}
	return nil
}

// scoreFile reads, checks and scores one visit by the checklist in the file own,
// or by the version of the standard one that the visit names.
func scoreFile(name, own string, in io.Reader) (*checklist.Definition, model.Result, error) {
	definition, err := ownChecklist(own)
	if err != nil {
		return nil, model.Result{}, err
	}
	data, shown, err := readVisitFile(name, in)
	if err != nil {
		return nil, model.Result{}, err
	}
	visit, err := parseVisitFile(shown, data)
	if err != nil {
		return nil, model.Result{}, err
	}
	if definition == nil {
		definition = standardFor(visit.Checklist)
	}
	if err := checkPinned(shown, visit.Checklist, definition); err != nil {
		return nil, model.Result{}, err
	}
	result, err := engine.New(definition).Score(&visit)
	if err != nil {
		return nil, model.Result{}, refusedVisit(shown, err)
	}
	return definition, result, nil
}

// standardFor returns the version of the standard checklist that a visit names,
// and the present one when there is no such version.
func standardFor(ref model.ChecklistRef) *checklist.Definition {
	for _, version := range authoring.StandardVersions() {
		if version.ID == ref.ID && version.Version == ref.Version {
			return version
		}
	}
	return authoring.Standard()
}

// ownChecklist reads a team's own checklist, or returns nil without a file.
func ownChecklist(file string) (*checklist.Definition, error) {
	if file == "" {
		return nil, nil
	}
	data, err := os.ReadFile(file)
	if err != nil {
		return nil, fmt.Errorf("read checklist: %w", err)
	}
	definition, err := authoring.Parse(file, data)
	if err != nil {
		return nil, fmt.Errorf("read checklist: %w", err)
	}
	return definition, nil
}

// readVisitFile returns the bytes of the file and the name to use in messages.
func readVisitFile(name string, in io.Reader) (data []byte, shown string, err error) {
	shown = name
	if name == "-" {
		shown = "standard input"
	} else {
		file, err := os.Open(name)
		if err != nil {
			return nil, shown, fmt.Errorf("read visit: %w", err)
		}
		defer file.Close()
		in = file
	}
	data, err = io.ReadAll(io.LimitReader(in, maxVisitFile+1))
	if err != nil {
		return nil, shown, fmt.Errorf("read visit: %w", err)
	}
	if len(data) > maxVisitFile {
		return nil, shown, fmt.Errorf("%s: expected at most %d MiB, got more", shown, maxVisitFile>>20)
	}
	return data, shown, nil
}

// errVisitFile is wrapped by every error about what stands in a visit file.
var errVisitFile = errors.New("not a visit that can be scored")
