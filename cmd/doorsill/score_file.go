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
	"doorsill/internal/record"
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

// checkVisitFile holds a visit to the same rules as what tablets send: every
// part as an event of its kind, every answer by the checklist.
func checkVisitFile(name string, v model.Visit, definition *checklist.Definition) error {
	ref := v.Checklist
	if ref.ID != definition.ID || ref.Version != definition.Version || ref.Hash != "" && ref.Hash != definition.Hash() {
		return &fileError{file: name, field: "visit.checklist", want: fmt.Sprintf("%s %s (%.12s), got %s %s (%.12s); --checklist FILE scores by another one",
			definition.ID, definition.Version, definition.Hash(), ref.ID, ref.Version, ref.Hash)}
	}
	c := visitCheck{name: name}
	for i, answer := range v.Answers {
		for h, head := range answer.Heads {
			where := fmt.Sprintf("visit.answers[%d].heads[%d]", i, h)
			c.event(where, model.KindAnswerGiven, head.AnswerGiven)
			if bad := definition.CheckAnswer(head.AnswerGiven); bad != nil {
				c.refusedAt(where, "body", bad.Within("body"))
			}
			if head.Item != answer.Item && c.err == nil {
				c.err = &fileError{file: name, field: where + ".item", want: fmt.Sprintf("%q as in its answer, got %q", answer.Item, head.Item)}
			}
		}
	}
	for i, reading := range v.Readings {
		c.event(fmt.Sprintf("visit.readings[%d]", i), model.KindReadingTaken, reading.ReadingTaken)
	}
	for i, run := range v.Runs {
		c.event(fmt.Sprintf("visit.runs[%d]", i), model.KindRunTimed, run.RunTimed)
	}
	if v.Setup != nil {
		c.event("visit.setup", model.KindSetupChosen, v.Setup.SetupChosen)
	}
	if v.Override != nil {
		c.event("visit.override", model.KindOverrideMade, v.Override.OverrideMade)
	}
	c.home(v)
	return c.err
}

// visitCheck keeps the first thing that is wrong.
type visitCheck struct {
	name string
	err  error
}

// home checks kit, needs, chair and passages.
func (c *visitCheck) home(v model.Visit) {
	for i, control := range v.Kit {
		c.part(fmt.Sprintf("visit.kit[%d]", i), "body.controls[0]", model.KindKitPacked, model.KitPacked{Controls: []model.PackedControl{control}})
	}
	if v.Needs != nil {
		c.event("visit.needs", model.KindNeedsNoted, v.Needs.NeedsNoted)
	}
	if v.Chair != nil {
		c.event("visit.chair", model.KindChairMeasured, v.Chair.ChairMeasured)
	}
	for i, place := range v.Places {
		c.event(fmt.Sprintf("visit.places[%d]", i), model.KindPlaceMeasured, place.PlaceMeasured)
	}
}

func (c *visitCheck) event(where, kind string, body any) { c.part(where, "body", kind, body) }

// part checks one part of the visit; at is where in the body it stands.
func (c *visitCheck) part(where, at, kind string, body any) {
	if c.err != nil {
		return
	}
	raw, err := json.Marshal(body)
	if err != nil {
		c.err = fmt.Errorf("%s: %s: %w: %w", c.name, where, errVisitFile, err)
		return
	}
	c.refusedAt(where, at, record.CheckBody(model.Event{Kind: kind, Schema: model.SchemaNow, Body: raw}))
}

func (c *visitCheck) refusedAt(where, at string, err error) {
	var refusal *validation.Error
	switch {
	case err == nil || c.err != nil:
	case errors.As(err, &refusal):
		want := refusal.Want
		if refusal.Got != "" {
			want += ", got " + refusal.Got
		}
		c.err = &fileError{file: c.name, field: where + strings.TrimPrefix(refusal.Path, at), want: want}
	default:
		c.err = fmt.Errorf("%s: %s: %w: %w", c.name, where, errVisitFile, err)
	}
}
