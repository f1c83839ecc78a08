package codegen

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// writeChecks writes Check, which checks each field by its tag and then calls
// checkTogether, where the struct has one. A struct with a Check of its own gets
// checkFields only.
func writeChecks(f *goFile, p *Package) error {
	f.imports[validationPath] = true
	for _, n := range p.structs() {
		fields, err := n.Fields()
		if err != nil {
			return err
		}
		if !slices.ContainsFunc(fields, func(f Field) bool { return f.Check != nil }) {
			continue
		}
		if err := writeCheck(f, n, fields); err != nil {
			return err
		}
	}
	return nil
}

func writeCheck(f *goFile, n *Named, fields []Field) error {
	x := receiver(n.Name)
	var calls []string
	_, byName := n.directives["set"]
	if byName {
		f.printf("\n// checkField checks one field by its JSON name.\nfunc (%s *%s) checkField(name string) *validation.Error {\n\tswitch name {\n", x, n.Name)
	}
	for i := range fields {
		checks, err := n.fieldChecks(&fields[i], x+"."+fields[i].Name)
		if err != nil {
			return fmt.Errorf("%s.%s: %w", n.Name, fields[i].Name, err)
		}
		if byName && checks != nil {
			f.printf("\tcase %q:\n\t\treturn %s\n", fields[i].JSON, strings.Join(checks, ""))
			checks = []string{fmt.Sprintf("%s.checkField(%q)", x, fields[i].JSON)}
		}
		calls = append(calls, checks...)
	}
	if byName {
		f.printf("\t}\n\treturn nil\n}\n")
	}
	methods := n.pkg.methods[n.Name]
	name := "checkFields"
	if !slices.Contains(methods, "Check") {
		name = "Check"
		f.printf("\n// Check refuses what can not be.\n")
		if slices.Contains(methods, "checkTogether") {
			calls = append(calls, x+".checkTogether()")
		}
	} else {
		f.printf("\n")
	}
	f.printf("func (%s *%s) %s() *validation.Error {\n\treturn validation.First(\n\t\t%s,\n\t)\n}\n", x, n.Name, name, strings.Join(calls, ",\n\t\t"))
	return nil
}

// fieldChecks returns the calls that check a field.
func (n *Named) fieldChecks(field *Field, value string) ([]string, error) {
	if field.Check == nil {
		return nil, nil
	}
	path := strconv.Quote(field.JSON)
	switch t := field.Type; t.Kind {
	case Raw:
		if field.has("required") {
			return []string{fmt.Sprintf("requiredItems(%s, len(%s), %q)", path, value, field.Want)}, nil
		}
		return []string{fmt.Sprintf("checkObject(%s, %s)", path, value)}, nil
	case String:
		call, err := n.textCheck(field, path, value)
		return []string{call}, err
	case Number, Integer:
		call, err := n.numberCheck(field, path, value)
		return []string{call}, err
	case Pointer:
		bounds, err := n.bounds(field, value)
		return []string{fmt.Sprintf("optionalBetween(%s, %s, %s, %q)", path, value, bounds, field.Unit)}, err
	case Struct:
		return []string{fmt.Sprintf("%s.Check().Within(%s)", value, path)}, nil
	case Slice:
		return n.listChecks(field, path, value)
	case Map:
		return n.mapChecks(field, path, value)
	}
	return nil, fmt.Errorf("no check for the type")
}

// formats are the words of the tag check that have a function of their own.
var formats = map[string]string{
	"id": "validation.ID", "date": "validation.Date", "sha256": "validation.SHA256",
	"ref": "checkRef", "site": "checkSite", "item": "checkItem", "sealing": "checkSealing", "wish": "checkWish",
	"kind": "checkKind", "amendable": "checkAmendable", "time": "checkTime", "zone": "checkZone",
	"schema": "checkSchema",
}

func (n *Named) textCheck(field *Field, path, value string) (string, error) {
	if field.Type.Name != "string" {
		value = "string(" + value + ")"
	}
	if words, is := field.option("oneof="); is {
		fn := "validation.OneOf"
		if field.has("optional") {
			fn = "optionalOneOf"
		}
		_, err := n.pkg.Words(words)
		return fmt.Sprintf("%s(%s, %s, %s())", fn, path, value, words), err
	}
	if longest, is := field.option("max="); is {
		if field.has("required") {
			return fmt.Sprintf("validation.Required(%s, %s, %s, %q)", path, value, longest, field.Want), nil
		}
		return fmt.Sprintf("validation.MaxLength(%s, %s, %s)", path, value, longest), nil
	}
	fn := formats[field.Check[0]]
	if fn == "" {
		return "", fmt.Errorf("no check called %s", field.Check[0])
	}
	if field.has("optional") {
		return fmt.Sprintf("optional(%s, %s, %s)", path, value, fn), nil
	}
	return fmt.Sprintf("%s(%s, %s)", fn, path, value), nil
}

func (n *Named) numberCheck(field *Field, path, value string) (string, error) {
	if fn := formats[field.Check[0]]; fn != "" {
		return fmt.Sprintf("%s(%s, %s)", fn, path, value), nil
	}
	if low, high, _ := strings.Cut(field.Check[0], ".."); high == "" {
		return fmt.Sprintf("atLeast(%s, %s, %s)", path, value, low), nil
	}
	bounds, err := n.bounds(field, value)
	switch {
	case field.Type.Kind == Integer:
		return fmt.Sprintf("countBetween(%s, %s, %s)", path, value, bounds), err
	case field.has("zero"):
		return fmt.Sprintf("zeroOrBetween(%s, %s, %s, %q)", path, value, bounds, field.Unit), err
	}
	return fmt.Sprintf("validation.Between(%s, %s, %s, %q)", path, value, bounds, field.Unit), err
}

// bounds returns a range as two arguments. A bound may be a constant or another
// field of the struct.
func (n *Named) bounds(field *Field, value string) (string, error) {
	i := slices.IndexFunc(field.Check, isRange)
	if i < 0 {
		return "", fmt.Errorf("expected a range such as 0..24, got %s", strings.Join(field.Check, ","))
	}
	low, high, _ := strings.Cut(field.Check[i], "..")
	if _, is := n.pkg.number(high); !is {
		high = strings.TrimSuffix(value, field.Name) + high
	}
	return low + ", " + high, nil
}

func isRange(word string) bool { return strings.Contains(word, "..") }

func (n *Named) listChecks(field *Field, path, value string) ([]string, error) {
	var calls []string
	if field.has("required") {
		calls = append(calls, fmt.Sprintf("requiredItems(%s, len(%s), %q)", path, value, field.Want))
	}
	if most, is := field.option("max="); is {
		calls = append(calls, fmt.Sprintf("maxItems(%s, len(%s), %s)", path, value, most))
	}
	if words, is := field.option("oneof="); is {
		if _, err := n.pkg.Words(words); err != nil {
			return nil, err
		}
		calls = append(calls, fmt.Sprintf("eachOneOf(%s, %s, %s())", path, value, words))
	}
	if field.has("each") {
		calls = append(calls, fmt.Sprintf("checkEach(%s, %s, (*%s).Check)", path, value, field.Type.Elem.Name))
	}
	return calls, nil
}

func (n *Named) mapChecks(field *Field, path, value string) ([]string, error) {
	var calls []string
	if field.has("required") {
		calls = append(calls, fmt.Sprintf("requiredItems(%s, len(%s), %q)", path, value, field.Want))
	}
	words, is := field.option("keys=")
	if !is {
		return calls, nil
	}
	key := "checkSiteKey"
	if words != "site" {
		if _, err := n.pkg.Words(words); err != nil {
			return nil, err
		}
		key = fmt.Sprintf("func(path, key string) *validation.Error { return validation.OneOf(path, key, %s()) }", words)
	}
	elem := *field
	elem.Type = field.Type.Elem
	elem.Check = slices.DeleteFunc(slices.Clone(field.Check), func(c string) bool { return c == "required" || strings.HasPrefix(c, "keys=") })
	check, err := n.elemCheck(&elem)
	calls = append(calls, fmt.Sprintf("checkMap(%s, %s, %s, func(path string, v %s) *validation.Error { return %s })", path, value, key, goType(elem.Type), check))
	return calls, err
}

// elemCheck checks an element v at path.
func (n *Named) elemCheck(elem *Field) (string, error) {
	if elem.Type.Kind == Number {
		return n.numberCheck(elem, "path", "v")
	}
	return n.textCheck(elem, "path", "v")
}
