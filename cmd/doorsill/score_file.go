package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
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
	line        int
	field, want string
}

func (e *fileError) Error() string {
	place := e.file
	if e.line > 0 {
		place += fmt.Sprintf(":%d", e.line)
	}
	if e.field != "" {
		place += ": " + e.field
	}
	return place + ": expected " + e.want
}

func (e *fileError) Unwrap() error { return errVisitFile }

// parseVisitFile reads the JSON of a visit file. Fields that a visit does not
// have are refused by name.
func parseVisitFile(name string, data []byte) (model.Visit, error) {
	if len(bytes.TrimSpace(data)) == 0 {
		return model.Visit{}, &fileError{file: name, want: "a visit as JSON, got an empty file"}
	}
	var file visitFile
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&file); err != nil {
		return model.Visit{}, jsonError(name, data, err)
	}
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		return model.Visit{}, &fileError{file: name, line: lineAt(data, dec.InputOffset()), want: "one visit and nothing after it"}
	}
	if file.Format != visitFormat {
		return model.Visit{}, &fileError{name, lineOf(data, "format"), "format", fmt.Sprintf("%q, got %q", visitFormat, file.Format)}
	}
	return file.Visit, nil
}

// jsonError turns what encoding/json says into line, field and what was
// expected.
func jsonError(name string, data []byte, err error) error {
	var syntax *json.SyntaxError
	var wrong *json.UnmarshalTypeError
	switch {
	case errors.As(err, &syntax):
		return &fileError{name, lineAt(data, syntax.Offset), "", "JSON, got a mistake: " + syntax.Error()}
	case errors.As(err, &wrong):
		return &fileError{name, lineAt(data, wrong.Offset), jsonPath(wrong.Field), kindWords(wrong.Type.Kind().String()) + ", got " + wrong.Value}
	case errors.Is(err, io.ErrUnexpectedEOF):
		return &fileError{name, lineAt(data, int64(len(data))), "", "more, got the end of the file: the JSON is not complete"}
	}
	if field, ok := strings.CutPrefix(err.Error(), "json: unknown field "); ok {
		field = strings.Trim(field, `"`)
		return &fileError{name, lineOf(data, field), field, "a field of a visit, got one that it does not have"}
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
	return &fileError{file: name, field: "visit.checklist", want: fmt.Sprintf("%s %s (%.12s), got %s %s (%.12s); --checklist FILE scores by another one",
		definition.ID, definition.Version, definition.Hash(), ref.ID, ref.Version, ref.Hash)}
}

// refusedVisit says where in the file the engine found what cannot be.
func refusedVisit(name string, err error) error {
	var refusal *validation.Error
	if !errors.As(err, &refusal) {
		return fmt.Errorf("%s: %w: %w", name, errVisitFile, err)
	}
	want := refusal.Want
	if refusal.Got != "" {
		want += ", got " + refusal.Got
	}
	return &fileError{file: name, field: refusal.Within("visit").Path, want: want}
}
