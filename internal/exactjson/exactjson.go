// Package exactjson reads JSON from outside into structs of the server. It is
// encoding/json without its leniency: a field has one name, so that one in other
// capitals is unknown, and unknown fields and fields that are named twice are
// refused. Whoever reads the same bytes in another language then understands the
// same.
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
var ErrTrailing = errors.New("something follows the JSON value")

// Decode reads one value into v, a pointer. The error is a *validation.Error that
// names the field and says what was expected there, ErrTrailing, io.EOF when there
// is nothing, or else one of encoding/json. What v then holds means nothing.
func Decode(data []byte, v any) error {
	dec := json.NewDecoder(bytes.NewReader(data))
	err := dec.Decode(v)
	var other *json.UnmarshalTypeError
	if errors.As(err, &other) {
		return &validation.Error{
			Code: validation.CodeWrongType, Path: pathIn(reflect.TypeOf(v), other.Field), Want: wanted(other.Type.Kind()), Got: found(other.Value),
		}
	}
	if err != nil {
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

// wanted says what a field of a kind takes, in the words of strictjson: whoever
// sends JSON need not read Go.
func wanted(kind reflect.Kind) string {
	switch kind {
	case reflect.String:
		return "a text"
	case reflect.Bool:
		return "true or false"
	case reflect.Slice, reflect.Array:
		return "a list"
	case reflect.Struct, reflect.Map:
		return "an object"
	case reflect.Float32, reflect.Float64:
		return "a number"
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		return "a whole number from 0"
	}
	return "a whole number"
}

// found says what came instead; value is what encoding/json calls it: a kind, or
// "number" and the number.
func found(value string) string {
	switch value {
	case "string":
		return "a text"
	case "bool":
		return "true or false"
	case "array":
		return "a list"
	case "object":
		return "an object"
	case "number":
		return "a number"
	}
	return strings.TrimPrefix(value, "number ")
}

// pathIn is a path of encoding/json without the names of embedded structs, which
// do not stand in the JSON.
func pathIn(t reflect.Type, path string) string {
	var names []string
	for name := range strings.SplitSeq(path, ".") {
		t = structIn(t)
		if t != nil {
			of, known := fieldsOf(t)[name]
			if f, embedded := t.FieldByName(name); !known && embedded && f.Anonymous {
				continue
			}
			t = of
		}
		names = append(names, name)
	}
	return strings.Join(names, ".")
}

// structIn is the struct that a type points to, lists or maps to; nil where there
// is none.
func structIn(t reflect.Type) reflect.Type {
	for t != nil && t.Kind() != reflect.Struct {
		switch t.Kind() {
		case reflect.Pointer, reflect.Slice, reflect.Array, reflect.Map:
			t = t.Elem()
		default:
			return nil
		}
	}
	return t
}

// checkNames refuses fields that t, the type into which the value was read, does
// not have. It may recurse: CheckRepeats has refused what is nested too deep.
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
