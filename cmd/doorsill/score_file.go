package main

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"strconv"
	"unicode/utf8"

	"doorsill/internal/checklist"
	"doorsill/internal/model"
	"doorsill/internal/strictjson"
	"doorsill/internal/validation"
)

const visitFormat = "doorsill-visit/1"

// fileError says where a visit file is wrong and what was expected there.
type fileError struct {
	file string
	// line counts from 1; 0 when the mistake has no place of its own.
	line int
	bad  validation.Error
}

func (e *fileError) Error() string {
	place := e.file
	if e.line > 0 {
		place += fmt.Sprintf(":%d", e.line)
	}
	return place + ": " + e.bad.Error()
}

func (e *fileError) Unwrap() error { return errVisitFile }

func badFile(name string, line int, path, want, got string) error {
	return &fileError{name, line, validation.Error{Code: validation.CodeInvalid, Path: path, Want: want, Got: got}}
}

// visitFile is what a visit file holds.
type visitFile struct {
	visit model.Visit
	// earlier are visits of the same client before it.
	earlier []model.Visit
}

// parseVisitFile reads the JSON of a visit file. Fields that a visit does not
// have are refused by name.
func parseVisitFile(name string, data []byte) (visitFile, error) {
	if len(bytes.TrimSpace(data)) == 0 {
		return visitFile{}, badFile(name, 0, "", "a visit as JSON", "an empty file")
	}
	if !utf8.Valid(data) {
		return visitFile{}, badFile(name, 0, "", "text in UTF-8", "other bytes")
	}
	r := strictjson.NewReader(data)
	r.LooseIntegers, r.RefuseRepeats, r.RefuseUnknown = true, true, true
	file, err := readParts(r)
	if err != nil {
		return visitFile{}, &fileError{name, lineAt(data, r.Offset()), *err}
	}
	nameParts(&file.visit)
	for i := range file.earlier {
		nameParts(&file.earlier[i])
	}
	return file, nil
}

// readParts refuses another format as soon as it is named, before fields that
// only that one has.
func readParts(r *strictjson.Reader) (file visitFile, err *validation.Error) {
	var format string
	rightFormat := func() *validation.Error {
		if format == visitFormat {
			return nil
		}
		return &validation.Error{Code: validation.CodeInvalid, Want: strconv.Quote(visitFormat), Got: strconv.Quote(format)}
	}
	err = r.Object(func(key []byte) *validation.Error {
		switch string(key) {
		case "format":
			return validation.First(r.Text(&format), rightFormat())
		case "visit":
			return r.Object(func(key []byte) *validation.Error { return file.visit.ReadField(r, key) })
		case "earlier":
			return r.List("a list of visits", func() *validation.Error {
				var visit model.Visit
				err := r.Object(func(key []byte) *validation.Error { return visit.ReadField(r, key) })
				file.earlier = append(file.earlier, visit)
				return err
			})
		}
		return r.Unknown()
	})
	if err == nil {
		err = validation.First(r.End(), rightFormat().Within("format"))
	}
	return file, err
}

// nameParts names controls and places without a name by their id: tablets ask
// for names, but no result depends on one.
func nameParts(v *model.Visit) {
	for i := range v.Kit {
		v.Kit[i].Name = cmp.Or(v.Kit[i].Name, v.Kit[i].ID)
	}
	for i := range v.Places {
		v.Places[i].Name = cmp.Or(v.Places[i].Name, v.Places[i].Place)
	}
}

// lineAt returns the line of a byte.
func lineAt(data []byte, offset int) int {
	return 1 + bytes.Count(data[:offset], []byte("\n"))
}

// checkPinned refuses a visit that was made with another checklist.
func checkPinned(name, path string, ref model.ChecklistRef, definition *checklist.Definition) error {
	if ref.ID == definition.ID && ref.Version == definition.Version && (ref.Hash == "" || ref.Hash == definition.Hash()) {
		return nil
	}
	return badFile(name, 0, path+".checklist", fmt.Sprintf("%s %s (%.12s)", definition.ID, definition.Version, definition.Hash()),
		fmt.Sprintf("%s %s (%.12s); --checklist FILE scores by another one", ref.ID, ref.Version, ref.Hash))
}

// refusedVisit says where in the file the engine found what cannot be.
func refusedVisit(name, path string, err error) error {
	var refusal *validation.Error
	if !errors.As(err, &refusal) {
		return fmt.Errorf("%s: %w: %w", name, errVisitFile, err)
	}
	return &fileError{file: name, bad: *refusal.Within(path)}
}
