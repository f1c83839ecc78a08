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

// fieldChecks returns the calls that check a field. A word of the tag that means
// nothing for the kind of field is a mistake: a check that was meant would be
// missing.
func (n *Named) fieldChecks(field *Field, value string) ([]string, error) {
	if field.Check == nil {
		return nil, nil
	}
	words := checkWords(slices.Clone(field.Check))
	calls, err := n.kindChecks(field, &words, value)
	if err == nil {
		err = words.used()
	}
	return calls, err
}

func (n *Named) kindChecks(field *Field, words *checkWords, value string) ([]string, error) {
	path := strconv.Quote(field.JSON)
	switch t := field.Type; t.Kind {
	case Raw:
		if words.take("required") {
			return []string{fmt.Sprintf("requiredItems(%s, len(%s), %q)", path, value, field.Want)}, nil
		}
		if !words.take("object") {
			return nil, words.missing("required or object")
		}
		return []string{fmt.Sprintf("checkObject(%s, %s)", path, value)}, nil
	case String:
		call, err := n.textCheck(field, words, path, value)
		return []string{call}, err
	case Number, Integer:
		call, err := n.numberCheck(field, words, path, value)
		return []string{call}, err
	case Pointer:
		bounds, err := n.bounds(field, words, value)
		return []string{fmt.Sprintf("validation.OptionalBetween(%s, %s, %s, %q)", path, value, bounds, field.Unit)}, err
	case Struct:
		if !words.take("each") {
			return nil, words.missing("each")
		}
		return []string{fmt.Sprintf("%s.Check().Within(%s)", value, path)}, nil
	case Slice:
		return n.listChecks(field, words, path, value)
	case Map:
		return n.mapChecks(field, words, path, value)
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

func (n *Named) textCheck(field *Field, words *checkWords, path, value string) (string, error) {
	if field.Type.Name != "string" {
		value = "string(" + value + ")"
	}
	if list, is := words.option("oneof="); is {
		fn := "validation.OneOf"
		if words.take("optional") {
			fn = "optionalOneOf"
		}
		_, err := n.pkg.Words(list)
		return fmt.Sprintf("%s(%s, %s, %s())", fn, path, value, list), err
	}
	if longest, is := words.option("max="); is {
		if words.take("required") {
			return fmt.Sprintf("validation.Required(%s, %s, %s, %q)", path, value, longest, field.Want), nil
		}
		return fmt.Sprintf("validation.MaxLength(%s, %s, %s)", path, value, longest), nil
	}
	fn := words.format()
	if fn == "" {
		return "", words.missing("oneof=, max= or a format")
	}
	if words.take("optional") {
		return fmt.Sprintf("optional(%s, %s, %s)", path, value, fn), nil
	}
	return fmt.Sprintf("%s(%s, %s)", fn, path, value), nil
}

func (n *Named) numberCheck(field *Field, words *checkWords, path, value string) (string, error) {
	if fn := words.format(); fn != "" {
		return fmt.Sprintf("%s(%s, %s)", fn, path, value), nil
	}
	if low, is := words.least(); is {
		words.take("named") // which the schema looks at
		return fmt.Sprintf("atLeast(%s, %s, %s)", path, value, low), nil
	}
	bounds, err := n.bounds(field, words, value)
	switch {
	case field.Type.Kind == Integer:
		return fmt.Sprintf("countBetween(%s, %s, %s)", path, value, bounds), err
	case words.take("zero"):
		return fmt.Sprintf("zeroOrBetween(%s, %s, %s, %q)", path, value, bounds, field.Unit), err
	}
	return fmt.Sprintf("validation.Between(%s, %s, %s, %q)", path, value, bounds, field.Unit), err
}

// bounds returns a range as two arguments. A bound may be a constant or another
// field of the struct.
func (n *Named) bounds(field *Field, words *checkWords, value string) (string, error) {
	low, high, is := words.between()
	if !is {
		return "", words.missing("a range such as 0..24")
	}
	if _, is := n.pkg.number(high); !is {
		high = strings.TrimSuffix(value, field.Name) + high
	}
	return low + ", " + high, nil
}

func (n *Named) listChecks(field *Field, words *checkWords, path, value string) ([]string, error) {
	var calls []string
	if words.take("required") {
		calls = append(calls, fmt.Sprintf("requiredItems(%s, len(%s), %q)", path, value, field.Want))
	}
	if most, is := words.option("max="); is {
		calls = append(calls, fmt.Sprintf("maxItems(%s, len(%s), %s)", path, value, most))
	}
	if list, is := words.option("oneof="); is {
		if _, err := n.pkg.Words(list); err != nil {
			return nil, err
		}
		calls = append(calls, fmt.Sprintf("eachOneOf(%s, %s, %s())", path, value, list))
	}
	if words.take("each") {
		calls = append(calls, fmt.Sprintf("checkEach(%s, %s, (*%s).Check)", path, value, field.Type.Elem.Name))
	}
	return calls, nil
}

func (n *Named) mapChecks(field *Field, words *checkWords, path, value string) ([]string, error) {
	var calls []string
	if words.take("required") {
		calls = append(calls, fmt.Sprintf("requiredItems(%s, len(%s), %q)", path, value, field.Want))
	}
	list, is := words.option("keys=")
	if !is {
		return calls, nil
	}
	key := "checkSiteKey"
	if list != "site" {
		if _, err := n.pkg.Words(list); err != nil {
			return nil, err
		}
		key = fmt.Sprintf("func(path, key string) *validation.Error { return validation.OneOf(path, key, %s()) }", list)
	}
	elem := *field
	elem.Type = field.Type.Elem
	check, err := n.elemCheck(&elem, words)
	calls = append(calls, fmt.Sprintf("checkMap(%s, %s, %s, func(path string, v %s) *validation.Error { return %s })", path, value, key, goType(elem.Type), check))
	return calls, err
}

// elemCheck checks an element v at path.
func (n *Named) elemCheck(elem *Field, words *checkWords) (string, error) {
	switch elem.Type.Kind {
	case Number:
		return n.numberCheck(elem, words, "path", "v")
	case String:
		return n.textCheck(elem, words, "path", "v")
	}
	return "", fmt.Errorf("no check for the elements")
}
