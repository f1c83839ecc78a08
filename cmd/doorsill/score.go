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
	"doorsill/internal/engine/visittext"
)

// maxVisitFile is how large a visit file may be.
const maxVisitFile = 4 << 20

// runScore reads one visit from a file, or from standard input for "-", and
// says what it means. The file is described in
// internal/engine/visittext/VISIT-FILE.md.
func runScore(_ context.Context, args []string, con console) error {
	flags := flag.NewFlagSet("score", flag.ContinueOnError)
	asJSON := flags.Bool("json", false, "print the result as JSON")
	asText := flags.Bool("text", false, "print the result as the engine's own lines, as stored and signed")
	own := flags.String("checklist", "", "score by the checklist in this `FILE` instead of the standard one")
	name, err := parseOneFile(flags, con, args, "doorsill score FILE [--json], or - for standard input")
	if err != nil {
		return err
	}
	result, err := scoreFile(name, *own, con.in)
	if err != nil {
		return err
	}
	switch {
	case *asText:
		_, err = con.out.Write(result)
	case *asJSON:
		err = readResult(result).writeJSON(con.out)
	default:
		err = readResult(result).writeWords(con.out)
	}
	if err != nil {
		return fmt.Errorf("write result: %w", err)
	}
	return nil
}

// scoreFile reads, checks and scores one visit.
func scoreFile(name, own string, in io.Reader) ([]byte, error) {
	definition, err := definitionFor(own)
	if err != nil {
		return nil, err
	}
	data, shown, err := readVisitFile(name, in)
	if err != nil {
		return nil, err
	}
	visit, err := parseVisitFile(shown, data)
	if err != nil {
		return nil, err
	}
	if err := checkVisitFile(shown, visit, definition); err != nil {
		return nil, err
	}
	result, err := engine.Score(definition, visittext.Encode(visit))
	if err != nil {
		return nil, fmt.Errorf("score %s: %w", shown, err)
	}
	return result, nil
}

// definitionFor returns the checklist to score by.
func definitionFor(file string) (*checklist.Definition, error) {
	if file == "" {
		return authoring.Standard(), nil
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
