package main

import (
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"

	"doorsill/internal/checklist/authoring"
)

// maxChecklistFile is read of a file; one byte more than the parser takes, so
// that it is the parser that refuses what is too large.
const maxChecklistFile = 1<<20 + 1

// checkReport is what "doorsill check --json" prints.
type checkReport struct {
	File     string              `json:"file"`
	OK       bool                `json:"ok"`
	ID       string              `json:"id,omitempty"`
	Version  string              `json:"version,omitempty"`
	Hash     string              `json:"hash,omitempty"`
	Sections int                 `json:"sections,omitempty"`
	Items    int                 `json:"items,omitempty"`
	Problems authoring.Problems  `json:"problems"`
	Warnings []authoring.Warning `json:"warnings"`
}

// runCheck reads a checklist file and says what is wrong with it, a line each.
// The error is nil when the file can be used, with or without warnings.
func runCheck(_ context.Context, args []string, con console) error {
	flags := flag.NewFlagSet("check", flag.ContinueOnError)
	flags.SetOutput(con.errOut)
	asJSON := flags.Bool("json", false, "print the findings as JSON")
	which := flags.String("print", "", "print the `standard` checklist, or the JSON schema, and check nothing")
	files, err := parseAnywhere(flags, args)
	if err != nil {
		return err
	}
	if *which != "" {
		return printChecklist(con.out, *which)
	}
	if len(files) != 1 {
		return fmt.Errorf("check: expected one FILE, got %d", len(files))
	}
	report, err := checkFile(files[0])
	if err != nil {
		return err
	}
	if err := report.write(con.out, *asJSON); err != nil {
		return fmt.Errorf("write findings: %w", err)
	}
	if !report.OK {
		return fmt.Errorf("%s cannot be used as a checklist: problems found: %d", report.File, len(report.Problems))
	}
	return nil
}

// parseOneFile parses flags with exactly one file among them; hint says how the
// command is called.
func parseOneFile(flags *flag.FlagSet, con console, args []string, hint string) (string, error) {
	flags.SetOutput(con.errOut)
	files, err := parseAnywhere(flags, args)
	if err != nil {
		return "", err
	}
	if len(files) != 1 {
		return "", &usageError{fmt.Sprintf("%s: expected one FILE, got %d", flags.Name(), len(files)), hint}
	}
	return files[0], nil
}

// parseAnywhere parses flags that may also stand after the file names.
func parseAnywhere(flags *flag.FlagSet, args []string) ([]string, error) {
	var files []string
	for {
		if err := flags.Parse(args); err != nil {
			return nil, err
		}
		if flags.NArg() == 0 {
			return files, nil
		}
		files = append(files, flags.Arg(0))
		args = flags.Args()[1:]
	}
}

func printChecklist(out io.Writer, which string) error {
	content := map[string][]byte{"standard": authoring.Standard().Raw(), "schema": authoring.Schema()}[which]
	if content == nil {
		return fmt.Errorf("check: --print: expected standard or schema, got %q", which)
	}
	_, err := out.Write(content)
	return err
}

// checkFile reads one file. The error is about reading it; what is wrong with
// its content is in the report.
func checkFile(name string) (checkReport, error) {
	report := checkReport{File: name, Problems: authoring.Problems{}, Warnings: []authoring.Warning{}}
	file, err := os.Open(name)
	if err != nil {
		return report, fmt.Errorf("check: %w", err)
	}
	defer file.Close()
	content, err := io.ReadAll(io.LimitReader(file, maxChecklistFile))
	if err != nil {
		return report, fmt.Errorf("check: %w", err)
	}
	definition, warnings, err := authoring.Check(name, content)
	if errors.As(err, &report.Problems) {
		return report, nil
	}
	if err != nil {
		return report, fmt.Errorf("check: %w", err)
	}
	report.OK = true
	report.ID, report.Version, report.Hash = definition.ID, definition.Version, definition.Hash()
	report.Sections, report.Items = len(definition.Sections), definition.Count()
	report.Warnings = append(report.Warnings, warnings...)
	return report, nil
}

func (r checkReport) write(out io.Writer, asJSON bool) error {
	if asJSON {
		enc := json.NewEncoder(out)
		enc.SetEscapeHTML(false)
		enc.SetIndent("", "  ")
		return enc.Encode(r)
	}
	for _, problem := range r.Problems {
		if _, err := fmt.Fprintln(out, problem); err != nil {
			return err
		}
	}
	for _, warning := range r.Warnings {
		if _, err := fmt.Fprintln(out, warning); err != nil {
			return err
		}
	}
	if !r.OK {
		return nil
	}
	_, err := fmt.Fprintf(out, "%s: ok: checklist %s %s, sections: %d, items: %d, warnings: %d\nsha256 %s\n",
		r.File, r.ID, r.Version, r.Sections, r.Items, len(r.Warnings), r.Hash)
	return err
}
