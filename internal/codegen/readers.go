package codegen

import (
	"fmt"
	"go/ast"
	"slices"
)

// writeReaders writes ReadField for every struct that is read: the bodies of
// the table of kinds, those with the directive read, and what they hold.
func writeReaders(f *goFile, p *Package) error {
	roots := p.withDirective("read")
	kinds, err := p.Kinds()
	if err != nil {
		return err
	}
	for _, kind := range kinds {
		roots = append(roots, p.types[kind.Body])
	}
	structs, err := p.reachable(roots)
	if err != nil {
		return err
	}
	if len(structs) > 0 {
		f.imports[strictjsonPath], f.imports[validationPath] = true, true
	}
	held, embedded := usesOf(structs)
	for _, n := range structs {
		if embedded[n.Name] && !held[n.Name] && !slices.Contains(roots, n) {
			continue // its fields are read as those of the structs that embed it
		}
		if err := writeReader(f, n, held[n.Name]); err != nil {
			return err
		}
	}
	return nil
}

func writeReader(f *goFile, n *Named, held bool) error {
	fields, err := n.flatFields()
	if err != nil {
		return err
	}
	x := receiver(n.Name)
	if x == "r" {
		x = "v"
	}
	f.printf("\n// ReadField reads the value of one key; one that it does not know it leaves to r.\n")
	f.printf("func (%s *%s) ReadField(r *strictjson.Reader, key []byte) *validation.Error {\n\tswitch string(key) {\n", x, n.Name)
	for i := range fields {
		read, err := readField(&fields[i], "&"+x+"."+fields[i].Name)
		if err != nil {
			return fmt.Errorf("%s.%s: %w", n.Name, fields[i].Name, err)
		}
		f.printf("\tcase %q:\n\t\treturn %s\n", fields[i].JSON, read)
	}
	f.printf("\t}\n\treturn r.Unknown()\n}\n")
	if held {
		f.printf("\nfunc (%s *%s) readJSON(r *strictjson.Reader) *validation.Error {\n", x, n.Name)
		f.printf("\treturn r.Object(func(key []byte) *validation.Error { return %s.ReadField(r, key) })\n}\n", x)
	}
	return nil
}

// readField returns the call that reads the value of a field into dst. Unlike an
// element of a list, a field may stand twice or be null.
func readField(field *Field, dst string) (string, error) {
	if field.Type.Kind == Struct {
		return fmt.Sprintf("strictjson.Struct(r, %s, (*%s).readJSON)", dst, field.Type.Name), nil
	}
	return readCall(field.Type, dst, field.JSON)
}

// readCall returns the call that reads a value into dst.
func readCall(t *Type, dst, name string) (string, error) {
	switch t.Kind {
	case String, Bool, Integer, Number, Raw:
		method, basic := readMethod(t)
		if t.Name != basic {
			dst = "(*" + basic + ")(" + dst + ")"
		}
		return "r." + method + "(" + dst + ")", nil
	case Struct:
		return "(" + dst + ").readJSON(r)", nil
	case Slice:
		if t.Elem.Kind == String {
			return "strictjson.Texts(r, " + dst + ")", nil
		}
		value, err := readFunc(t.Elem)
		return fmt.Sprintf("strictjson.Slice(r, %s, %q, %s)", dst, "a list of "+name, value), err
	case Map, Pointer:
		value, err := readFunc(t.Elem)
		helper := map[Form]string{Map: "Map", Pointer: "Pointer"}[t.Kind]
		return fmt.Sprintf("strictjson.%s(r, %s, %s)", helper, dst, value), err
	}
	return "", fmt.Errorf("no reader for %s", t.Name)
}

// readFunc returns a function that reads an element.
func readFunc(t *Type) (string, error) {
	if method, basic := readMethod(t); t.Name == basic && method != "" {
		return "r." + method, nil
	}
	if t.Name == "" || !ast.IsExported(t.Name) {
		return "", fmt.Errorf("no reader for an element without an exported name")
	}
	call, err := readCall(t, "v", "")
	return fmt.Sprintf("func(v *%s) *validation.Error { return %s }", t.Name, call), err
}

// readMethod returns the method of a Reader for a type, and the type that it
// reads into.
func readMethod(t *Type) (method, basic string) {
	switch {
	case t.Kind == String:
		return "Text", "string"
	case t.Kind == Bool:
		return "Bool", "bool"
	case t.Kind == Integer && t.Name == "int":
		return "Count", "int"
	case t.Kind == Integer:
		return "Integer", "int64"
	case t.Kind == Number:
		return "Number", "float64"
	case t.Kind == Raw:
		return "Raw", "[]byte"
	}
	return "", ""
}
