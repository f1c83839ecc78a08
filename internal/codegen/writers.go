package codegen

import (
	"fmt"
	"strings"
)

// writeWriters writes AppendJSON for the structs with the directive write and
// what they hold. The bytes are those of encoding/json without escaping HTML.
func writeWriters(f *goFile, p *Package) error {
	structs, err := p.reachable(p.withDirective("write"))
	if err != nil {
		return err
	}
	held, embedded := usesOf(structs)
	f.imports[strictjsonPath] = true
	for _, n := range structs {
		_, root := n.directives["write"]
		if err := writeWriter(f, n, root || held[n.Name], embedded[n.Name]); err != nil {
			return err
		}
	}
	f.imports[messagePath] = strings.Contains(f.body.String(), " *message.")
	f.imports[decimalPath] = strings.Contains(f.body.String(), "decimal.Micro")
	return nil
}

// usesOf names the structs that fields of others hold, and those that others
// embed.
func usesOf(structs []*Named) (held, embedded map[string]bool) {
	held, embedded = map[string]bool{}, map[string]bool{}
	for _, n := range structs {
		fields, err := n.Fields()
		if err != nil {
			continue
		}
		for _, field := range fields {
			if t := field.Type.innermost(); field.Embedded {
				embedded[t.Name] = true
			} else if t.Kind == Struct {
				held[t.Name] = true
			}
		}
	}
	return held, embedded
}

// writeWriter writes the fields in a method of their own when another struct
// embeds them.
func writeWriter(f *goFile, n *Named, whole, embedded bool) error {
	x := receiver(n.Name)
	if x == "b" {
		x = "v"
	}
	if whole {
		f.printf("\n// AppendJSON appends the JSON form.\nfunc (%s *%s) AppendJSON(b []byte) []byte {\n\tb = append(b, '{')\n", x, n.Name)
	}
	if whole && embedded {
		f.printf("\tb = %s.appendFields(b)\n\treturn append(b, '}')\n}\n", x)
	}
	if embedded {
		f.printf("\nfunc (%s *%s) appendFields(b []byte) []byte {\n", x, n.Name)
	}
	fields, err := n.Fields()
	if err != nil {
		return err
	}
	for i := range fields {
		if err := writeField(f, &fields[i], x+"."+fields[i].Name); err != nil {
			return fmt.Errorf("%s.%s: %w", n.Name, fields[i].Name, err)
		}
	}
	if embedded {
		f.printf("\treturn b\n}\n")
	} else {
		f.printf("\treturn append(b, '}')\n}\n")
	}
	return nil
}

func writeField(f *goFile, field *Field, value string) error {
	if field.Embedded {
		f.printf("\tb = %s.appendFields(b)\n", value)
		return nil
	}
	if field.Omit != "" {
		there, err := notZero(field, value)
		if err != nil {
			return err
		}
		f.printf("\tif %s {\n", there)
		defer f.printf("\t}\n")
	}
	t := field.Type
	if fn, basic := appendFunc(t); fn != "" {
		if t.Name != basic {
			value = basic + "(" + value + ")"
		}
		f.printf("\tb = strictjson.%sField(b, %q, %s)\n", fn, field.JSON, value)
		return nil
	}
	f.printf("\tb = strictjson.AppendKey(b, %q)\n", field.JSON)
	if t.Kind != Pointer {
		call, err := appendCall(t, value)
		f.printf("\tb = %s\n", call)
		return err
	}
	target := "*" + value
	if t.Elem.writesItself() {
		target = value
	}
	call, err := appendCall(t.Elem, target)
	if field.Omit != "" {
		f.printf("\tb = %s\n", call)
	} else {
		f.printf("\tif %s != nil {\n\tb = %s\n\t} else {\n\tb = append(b, \"null\"...)\n\t}\n", value, call)
	}
	return err
}

// notZero returns the condition under which a field is written.
func notZero(field *Field, value string) (string, error) {
	switch field.Type.Kind {
	case Pointer:
		return value + " != nil", nil
	case Slice, Map, Raw, Bytes:
		if field.Omit == "omitzero" {
			return value + " != nil", nil
		}
		return "len(" + value + ") > 0", nil
	case String:
		return value + ` != ""`, nil
	case Bool:
		return value, nil
	case Integer, Number, Decimal:
		return value + " != 0", nil
	case Message:
		if field.Omit == "omitzero" {
			return "!" + value + ".Empty()", nil
		}
	}
	return "", fmt.Errorf("%s does not leave out a struct", field.Omit)
}

// appendCall returns the call that appends a value.
func appendCall(t *Type, value string) (string, error) {
	switch t.Kind {
	case String, Bool, Integer, Number:
		fn, basic := appendFunc(t)
		if t.Name != basic {
			value = basic + "(" + value + ")"
		}
		return "strictjson." + fn + "(b, " + value + ")", nil
	case Raw, Struct, Message, Decimal:
		return value + ".AppendJSON(b)", nil
	case Slice:
		if t.Elem.Kind == String {
			return "strictjson.AppendTexts(b, " + value + ")", nil
		}
		target := "*v"
		if t.Elem.writesItself() {
			target = "v"
		}
		elem, err := appendCall(t.Elem, target)
		return fmt.Sprintf("strictjson.AppendSlice(b, %s, func(b []byte, v *%s) []byte { return %s })", value, goType(t.Elem), elem), err
	case Map:
		if fn, basic := appendFunc(t.Elem); t.Elem.Name == basic && fn != "" {
			return "strictjson.AppendMap(b, " + value + ", strictjson." + fn + ")", nil
		}
		elem, err := appendCall(t.Elem, "v")
		return fmt.Sprintf("strictjson.AppendMap(b, %s, func(b []byte, v %s) []byte { return %s })", value, goType(t.Elem), elem), err
	}
	return "", fmt.Errorf("no writer for %s", goType(t))
}

// writesItself reports whether a type has a method AppendJSON.
func (t *Type) writesItself() bool {
	return t.Kind == Raw || t.Kind == Struct || t.Kind == Message || t.Kind == Decimal
}

// appendFunc returns the function of package strictjson for a type, and the
// type that it takes.
func appendFunc(t *Type) (fn, basic string) {
	switch t.Kind {
	case String:
		return "AppendText", "string"
	case Bool:
		return "AppendBool", "bool"
	case Integer:
		return "AppendInteger", "int64"
	case Number:
		return "AppendNumber", "float64"
	}
	return "", ""
}

// goType is how Go code of the package writes a type.
func goType(t *Type) string {
	switch {
	case t.Name != "":
		return t.Name
	case t.Kind == Pointer:
		return "*" + goType(t.Elem)
	case t.Kind == Slice:
		return "[]" + goType(t.Elem)
	case t.Kind == Map:
		return "map[" + goType(t.Key) + "]" + goType(t.Elem)
	}
	return "struct{}"
}
