// Package exactjson reads JSON from outside into structs of the server. It is
// encoding/json, but a field has one name: one that differs in its capitals is
// unknown, and unknown fields and those that are named twice are refused. Readers
// in other languages then understand the same.
package exactjson

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"reflect"
	"strings"

	"doorsill/internal/strictjson"
	"doorsill/internal/validation"
)

// ErrTrailing is returned when something follows the value.
var ErrTrailing = errors.New("something follows the value")

// Decode reads one value into v. The error is one of encoding/json, ErrTrailing, or
// a *validation.Error that names the field.
func Decode(data []byte, v any) error {
	dec := json.NewDecoder(bytes.NewReader(data))
	if err := dec.Decode(v); err != nil {
		return err
	}
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		return ErrTrailing
	}
	if repeated := strictjson.CheckRepeats(data); repeated != nil {
		return repeated
	}
	r := strictjson.NewReader(data)
	r.RefuseUnknown = true
	if unknown := checkNames(r, reflect.TypeOf(v)); unknown != nil {
		return unknown
	}
	return nil
}

// checkNames refuses fields that the type which a value was read into does not
// have. It may recurse: CheckRepeats has refused what is nested too deep.
func checkNames(r *strictjson.Reader, t reflect.Type) *validation.Error {
	for t != nil && t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	switch {
	case t == nil || readsItself(t):
		return r.Skip()
	case t.Kind() == reflect.Struct && r.Peek() == '{':
		fields := fieldsOf(t)
		return r.Object(func(key []byte) *validation.Error {
			of, known := fields[string(key)]
			if !known {
				return r.Unknown()
			}
			return checkNames(r, of)
		})
	case t.Kind() == reflect.Map && r.Peek() == '{':
		return r.Object(func([]byte) *validation.Error { return checkNames(r, t.Elem()) })
	case (t.Kind() == reflect.Slice || t.Kind() == reflect.Array) && r.Peek() == '[':
		return r.List("a list", func() *validation.Error { return checkNames(r, t.Elem()) })
	}
	return r.Skip()
}

// readsItself says whether a type has its own way to be read.
func readsItself(t reflect.Type) bool {
	return reflect.PointerTo(t).Implements(reflect.TypeFor[json.Unmarshaler]())
}

// fieldsOf are the types of a struct's fields by the names that they have in JSON,
// those of embedded structs among them.
func fieldsOf(t reflect.Type) map[string]reflect.Type {
	fields := make(map[string]reflect.Type)
	for _, f := range reflect.VisibleFields(t) {
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		switch {
		case name == "-" || !f.IsExported() || f.Anonymous && name == "":
			continue
		case name == "":
			name = f.Name
		}
		fields[name] = f.Type
	}
	return fields
}
