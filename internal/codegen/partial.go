package codegen

import (
	"errors"
	"fmt"
	"slices"
)

// writePartial writes what structs need whose fields are stated one by one.
// The directive "partial NAME" gives a list NAME of the fields that are no maps,
// Empty, Merge, Unset and Clone; the directive "set NAME" gives Set, which sets
// one of the texts that the list NAME names.
func writePartial(f *goFile, p *Package) error {
	for _, n := range p.structs() {
		fields, err := n.Fields()
		if err != nil {
			return err
		}
		if list, is := n.directives["partial"]; is {
			for i := range fields {
				if err := partialField(&fields[i]); err != nil {
					return fmt.Errorf("%s.%s: %w", n.Name, fields[i].Name, err)
				}
			}
			writePartialMethods(f, n, fields, list)
		}
		if list, is := n.directives["set"]; is {
			words, err := p.Words(list)
			if err != nil {
				return err
			}
			writeSet(f, n, fields, words)
		}
	}
	return nil
}

// partialField refuses a field that cannot be left out, and a number that would
// be taken without a check.
func partialField(field *Field) error {
	switch t := field.Type; {
	case t.Kind == String || t.Kind == Map:
		return nil
	case t.Kind != Pointer:
		return errors.New("expected a text, a map or a pointer, which can be left out")
	case (t.Elem.Kind == Number || t.Elem.Kind == Integer) && len(field.Check) == 0:
		return errors.New(`expected a range such as check:"0..24" for a number`)
	}
	return nil
}

func writePartialMethods(f *goFile, n *Named, fields []Field, list string) {
	x := receiver(n.Name)
	f.printf("\n// %s returns the fields of %s that hold one word or number.\nfunc %s() []string {\n\treturn []string{\n", list, n.Name, list)
	for _, field := range fields {
		if field.Type.Kind != Map {
			f.printf("\t\t%q,\n", field.JSON)
		}
	}
	f.printf("\t}\n}\n\n// Empty reports whether nothing is stated.\nfunc (%s *%s) Empty() bool {\n\treturn ", x, n.Name)
	for i := range fields {
		if i > 0 {
			f.printf(" &&\n\t\t")
		}
		f.printf("%s", isEmpty(&fields[i], x+"."+fields[i].Name))
	}
	f.printf("\n}\n\n// Merge takes what said states; the rest stays. An empty text takes its key out\n// of a map.\nfunc (%s *%s) Merge(said *%s) {\n", x, n.Name, n.Name)
	for i := range fields {
		to, from := x+"."+fields[i].Name, "said."+fields[i].Name
		if fields[i].Type.Kind == Map {
			f.printf("\tmergeTexts(&%s, %s)\n", to, from)
		} else {
			f.printf("\tif !(%s) {\n\t\t%s = %s\n\t}\n", isEmpty(&fields[i], from), to, from)
		}
	}
	f.printf("}\n")
	writeUnset(f, n, fields)
	f.imports["maps"] = true
	f.printf("\n// Clone returns a copy that shares no map.\nfunc (%s *%s) Clone() %s {\n\tcopied := *%s\n", x, n.Name, n.Name, x)
	for _, field := range fields {
		if field.Type.Kind == Map {
			f.printf("\tcopied.%s = maps.Clone(%s.%s)\n", field.Name, x, field.Name)
		}
	}
	f.printf("\treturn copied\n}\n")
}

func isEmpty(field *Field, value string) string {
	switch field.Type.Kind {
	case Pointer:
		return value + " == nil"
	case Map:
		return "len(" + value + ") == 0"
	}
	return value + ` == ""`
}

func writeUnset(f *goFile, n *Named, fields []Field) {
	x := receiver(n.Name)
	f.imports["strings"] = true
	f.printf("\n// Unset makes a field not known again: one of the fields, or the name of a map,\n// a point and a key.\n")
	f.printf("func (%s *%s) Unset(name string) {\n\tname, key, _ := strings.Cut(name, \".\")\n\tswitch name {\n", x, n.Name)
	for _, field := range fields {
		f.printf("\tcase %q:\n", field.JSON)
		switch field.Type.Kind {
		case Pointer:
			f.printf("\t\t%s.%s = nil\n", x, field.Name)
		case Map:
			f.printf("\t\tdelete(%s.%s, key)\n", x, field.Name)
		default:
			f.printf("\t\t%s.%s = \"\"\n", x, field.Name)
		}
	}
	f.printf("\t}\n}\n")
}

func writeSet(f *goFile, n *Named, fields []Field, words []string) {
	x := receiver(n.Name)
	f.printf("\n// Set sets a field by its JSON name and reports whether it may be set.\n")
	f.printf("func (%s *%s) Set(name, value string) bool {\n\tswitch name {\n", x, n.Name)
	for _, field := range fields {
		if slices.Contains(words, field.JSON) {
			f.printf("\tcase %q:\n\t\t%s = value\n", field.JSON, fmt.Sprintf("%s.%s", x, field.Name))
		}
	}
	f.printf("\tdefault:\n\t\treturn false\n\t}\n\treturn true\n}\n")
}
