package server

import (
	"errors"
	"io"
	"mime"
	"net/http"
	"strconv"

	"doorsill/internal/exactjson"
	"doorsill/internal/validation"
)

// decode reads a small JSON body into v. Errors name the field.
func decode(r *http.Request, v any) error {
	if err := wantType(r, "application/json"); err != nil {
		return err
	}
	data, err := io.ReadAll(r.Body)
	if err != nil {
		return err
	}
	if err := exactjson.Decode(data, v); err != nil {
		return explainJSON(err)
	}
	return nil
}

// wantType also keeps other sites out: a page elsewhere can not send these
// types without the browser asking us first.
func wantType(r *http.Request, want string) error {
	got, _, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	if err != nil || got != want {
		return &refusal{status: http.StatusUnsupportedMediaType, ErrorAnswer: ErrorAnswer{
			Error: "content-type", Message: "The body must be sent as " + want + ".", Field: "Content-Type", Want: want,
		}}
	}
	return nil
}

func explainJSON(err error) error {
	var bad *validation.Error
	switch {
	case errors.As(err, &bad):
		return badJSON(bad.Path, bad.Want)
	case errors.Is(err, exactjson.ErrTrailing):
		return badJSON("", "one JSON object and nothing after it")
	case errors.Is(err, io.EOF):
		return badJSON("", "a JSON object, not an empty body")
	}
	return badJSON("", "a JSON object")
}

func badJSON(field, want string) error {
	message := "The body could not be read: expected " + want + "."
	if field != "" {
		message = "The body could not be read at " + field + ": expected " + want + "."
	}
	return &refusal{status: http.StatusBadRequest, ErrorAnswer: ErrorAnswer{Error: "broken-json", Message: message, Field: field, Want: want}}
}

// number reads a whole number from the query; empty is 0.
func number(r *http.Request, name string) (int64, error) {
	text := r.URL.Query().Get(name)
	if text == "" {
		return 0, nil
	}
	n, err := strconv.ParseInt(text, 10, 64)
	if err != nil || n < 0 {
		return 0, validation.Invalid(name, "a whole number, 0 or more")
	}
	return n, nil
}
