package main

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"doorsill/internal/checklist"
	"doorsill/internal/model"
	"doorsill/internal/validation"
)

const visitFormat = "doorsill-visit/1"

// visitFile is a visit on its own.
type visitFile struct {
	Format string      `json:"format"`
	Visit  model.Visit `json:"visit"`
}

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

// parseVisitFile reads the JSON of a visit file. Fields that a visit does not
// have are refused by name.
func parseVisitFile(name string, data []byte) (model.Visit, error) {
	if len(bytes.TrimSpace(data)) == 0 {
		return model.Visit{}, badFile(name, 0, "", "a visit as JSON", "an empty file")
	}
	var file visitFile
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&file); err != nil {
		return model.Visit{}, jsonError(name, data, err)
	}
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		return model.Visit{}, badFile(name, lineAt(data, dec.InputOffset()), "", "one visit and nothing after it", "")
	}
	if file.Format != visitFormat {
		return model.Visit{}, badFile(name, lineOf(data, "format"), "format", strconv.Quote(visitFormat), strconv.Quote(file.Format))
	}
	nameParts(&file.Visit)
	return file.Visit, nil
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

// jsonError turns what encoding/json says into line, field and what was
// expected.
func jsonError(name string, data []byte, err error) error {
	var syntax *json.SyntaxError
	var wrong *json.UnmarshalTypeError
	switch {
	case errors.As(err, &syntax):
		return badFile(name, lineAt(data, syntax.Offset), "", "JSON", "a mistake: "+syntax.Error())
	case errors.As(err, &wrong):
		return badFile(name, lineAt(data, wrong.Offset), jsonPath(wrong.Field), kindWords(wrong.Type.Kind().String()), wrong.Value)
	case errors.Is(err, io.ErrUnexpectedEOF):
		return badFile(name, lineAt(data, int64(len(data))), "", "more", "the end of the file: the JSON is not complete")
	}
	if field, ok := strings.CutPrefix(err.Error(), "json: unknown field "); ok {
		field = strings.Trim(field, `"`)
		return badFile(name, lineOf(data, field), field, "a field of a visit", "one that it does not have")
	}
	return fmt.Errorf("%s: %w: %w", name, errVisitFile, err)
}

// jsonPath drops the names of embedded structs, which do not stand in the file.
func jsonPath(field string) string {
	var path []string
	for _, name := range strings.Split(field, ".") {
		if name != "" && (name[0] < 'A' || name[0] > 'Z') {
			path = append(path, name)
		}
	}
	return strings.Join(path, ".")
}

func kindWords(kind string) string {
	switch kind {
	case "string":
		return "a text"
	case "float64", "ptr":
		return "a number"
	case "int", "int64":
		return "a whole number"
	case "bool":
		return "true or false"
	case "slice":
		return "a list"
	}
	return "an object"
}

// lineAt returns the line of a byte.
func lineAt(data []byte, offset int64) int {
	return 1 + bytes.Count(data[:min(max(offset, 0), int64(len(data)))], []byte("\n"))
}

// lineOf returns the line on which a key first stands, or 0.
func lineOf(data []byte, key string) int {
	at := bytes.Index(data, []byte(`"`+key+`"`))
	if at < 0 {
		return 0
	}
	return lineAt(data, int64(at))
}

// checkPinned refuses a visit that was made with another checklist.
func checkPinned(name string, ref model.ChecklistRef, definition *checklist.Definition) error {
	if ref.ID == definition.ID && ref.Version == definition.Version && (ref.Hash == "" || ref.Hash == definition.Hash()) {
		return nil
	}
	return badFile(name, 0, "visit.checklist", fmt.Sprintf("%s %s (%.12s)", definition.ID, definition.Version, definition.Hash()),
		fmt.Sprintf("%s %s (%.12s); --checklist FILE scores by another one", ref.ID, ref.Version, ref.Hash))
}

// refusedVisit says where in the file the engine found what cannot be.
func refusedVisit(name string, err error) error {
	var refusal *validation.Error
	if !errors.As(err, &refusal) {
		return fmt.Errorf("%s: %w: %w", name, errVisitFile, err)
	}
	return &fileError{file: name, bad: *refusal.Within("visit")}
}
