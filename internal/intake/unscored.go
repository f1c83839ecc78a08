package intake

import (
	"errors"
	"reflect"
	"strings"

	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// unscored tells whoever listens that a visit could not be scored, in words that
// hold nothing of what was entered.
func (in *Intake) unscored(visit string, err error) {
	why := "fault in the engine"
	var refused *validation.Error
	switch {
	case errors.Is(err, errNoChecklist):
		why = "the checklist is not known"
	case errors.Is(err, store.ErrDamaged):
		why = "its result is damaged"
	case errors.As(err, &refused):
		why = "refused: " + fieldPath(refused.Path)
	}
	in.hooks.Lock()
	defer in.hooks.Unlock()
	for _, fn := range in.onUnscored {
		fn(visit, why)
	}
}

// fieldPath is a path into a visit as far as it names fields of the model: what
// follows is the key of a map, which somebody entered.
func fieldPath(path string) string {
	at := reflect.TypeFor[model.Visit]()
	var known []string
	for _, part := range strings.Split(path, ".") {
		name, _, _ := strings.Cut(part, "[")
		field, ok := fieldNamed(at, name)
		if !ok {
			break
		}
		known = append(known, part)
		for at = field.Type; at.Kind() == reflect.Pointer || at.Kind() == reflect.Slice; {
			at = at.Elem()
		}
	}
	return strings.Join(known, ".")
}

// fieldNamed finds a field of a struct by its name in JSON.
func fieldNamed(t reflect.Type, name string) (reflect.StructField, bool) {
	if t.Kind() != reflect.Struct {
		return reflect.StructField{}, false
	}
	for _, field := range reflect.VisibleFields(t) {
		tag, _, _ := strings.Cut(field.Tag.Get("json"), ",")
		if tag == name && tag != "" {
			return field, true
		}
	}
	return reflect.StructField{}, false
}
