package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strconv"
	"time"

	"doorsill/internal/checklist"
	"doorsill/internal/checklist/authoring"
	"doorsill/internal/engine"
	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/phrase"
)

// maxVisitFile is how large a visit file may be.
const maxVisitFile = 4 << 20

// runScore reads one visit from a file, or from standard input for "-", with
// earlier ones where there are any, and says what they mean. The file is described in VISIT-FILE.md beside this one.
func runScore(_ context.Context, args []string, con console) error {
	flags := flag.NewFlagSet("score", flag.ContinueOnError)
	asJSON := flags.Bool("json", false, "print the canonical result as one line of JSON, exactly the bytes that are hashed and signed (no line end follows); internal/engine/RESULT.md describes it")
	overTime := flags.Bool("over-time", false, "print only what the visits of the file say together, with --json as internal/model/trend.schema.json describes it")
	ownFile := flags.String("checklist", "", "score by the checklist in this `FILE` instead of the standard one")
	name, err := parseOneFile(flags, con, args, "doorsill score FILE [--json], or - for standard input")
	if err != nil {
		return err
	}
	own, err := ownChecklist(*ownFile)
	if err != nil {
		return err
	}
	found, err := scoreFile(name, own, con.in)
	if err != nil {
		return err
	}
	if *overTime && found.over == nil {
		return fmt.Errorf("%s: %w: --over-time needs visits in \"earlier\"", name, errVisitFile)
	}
	words := resultPrinter{wordPrinter{out: con.out}, phrase.NewWriter(phrase.English(), found.list)}
	switch {
	case *asJSON && *overTime:
		_, err = con.out.Write(found.over.AppendJSON(nil))
	case *asJSON:
		_, err = con.out.Write(found.result.AppendJSON(nil))
	case *overTime:
		err = words.overTime(found.over)
	default:
		err = words.result(&found.result)
		if err == nil && own == nil {
			err = words.earlierChecklist(found.list, authoring.Standard())
		}
		if err == nil && found.over != nil {
			err = words.overTime(found.over)
		}
	}
	if err != nil {
		return fmt.Errorf("write result: %w", err)
	}
	return nil
}

// scored is what was found in a visit file.
type scored struct {
	result model.Result
	list   *checklist.Definition // the result is by it
	// over is what the visits say together, nil without earlier ones.
	over *model.Trend
}

// scoreFile reads, checks and scores the visits of a file.
func scoreFile(name string, own *checklist.Definition, in io.Reader) (scored, error) {
	data, shown, err := readVisitFile(name, in)
	if err != nil {
		return scored{}, err
	}
	file, err := parseVisitFile(shown, data)
	if err != nil {
		return scored{}, err
	}
	if len(file.earlier) == 0 {
		return scoreVisit(shown, "visit", &file.visit, own)
	}
	return scoreOverTime(shown, &file, own)
}

// scoreOverTime scores the visit and the earlier ones, and asks what they say
// together.
func scoreOverTime(shown string, file *visitFile, own *checklist.Definition) (scored, error) {
	visits := append(file.earlier, file.visit)
	results := make([]model.Result, len(visits))
	var last scored
	for i := range visits {
		path := "visit"
		if i < len(file.earlier) {
			path = fmt.Sprintf("earlier[%d]", i)
		}
		if at := visits[i].Started.At; !isTime(at) {
			return scored{}, badFile(shown, 0, path+".started.at", "a time such as 2026-03-01T09:00:00Z, since there are earlier visits", strconv.Quote(at))
		}
		found, err := scoreVisit(shown, path, &visits[i], own)
		if err != nil {
			return scored{}, err
		}
		results[i], last = found.result, found
	}
	question := intake.QuestionOver(visits, results)
	over, err := engine.TrendOf(&question)
	if err != nil {
		return scored{}, fmt.Errorf("%s: %w: visits over time: %w", shown, errVisitFile, err)
	}
	last.over = &over
	return last, nil
}

func isTime(text string) bool {
	_, err := time.Parse(time.RFC3339, text)
	return err == nil
}

// scoreVisit scores the visit at a path of the file by the team's own checklist,
// or by the version of the standard one that it names.
func scoreVisit(shown, path string, visit *model.Visit, own *checklist.Definition) (scored, error) {
	definition := own
	if definition == nil {
		definition = standardFor(visit.Checklist)
	}
	if err := checkPinned(shown, path, visit.Checklist, definition); err != nil {
		return scored{}, err
	}
	result, err := engine.New(definition).Score(visit)
	if err != nil {
		return scored{}, refusedVisit(shown, path, err)
	}
	return scored{result: result, list: definition}, nil
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
