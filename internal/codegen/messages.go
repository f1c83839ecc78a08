package codegen

// writeMessages writes EachMessage for the structs with the directive write
// that hold messages, directly or in what they hold.
func writeMessages(f *goFile, p *Package) error {
	structs, err := p.reachable(p.withDirective("write"))
	if err != nil {
		return err
	}
	for _, n := range structs {
		if !holdsMessage(n, nil) {
			continue
		}
		f.imports[messagePath] = true
		x := receiver(n.Name)
		if x == "f" {
			x = "v"
		}
		f.printf("\n// EachMessage calls f with every message, in the order of the fields.\n")
		f.printf("func (%s *%s) EachMessage(f func(*message.Message)) {\n", x, n.Name)
		fields, err := n.Fields()
		if err != nil {
			return err
		}
		for _, field := range fields {
			if field.Type.hasMessage(nil) {
				visitMessages(f, field.Type, x+"."+field.Name, 0)
			}
		}
		f.printf("}\n")
	}
	return nil
}

func (t *Type) hasMessage(under []string) bool {
	in := t.innermost()
	return in.Kind == Message || in.Kind == Struct && in.Named != nil && holdsMessage(in.Named, under)
}

// holdsMessage reports whether a struct holds a message; under are the structs
// that are being looked at.
func holdsMessage(n *Named, under []string) bool {
	for _, name := range under {
		if name == n.Name {
			return false
		}
	}
	fields, err := n.Fields()
	if err != nil {
		return false
	}
	for _, field := range fields {
		if field.Type.hasMessage(append(under, n.Name)) {
			return true
		}
	}
	return false
}

// visitMessages writes the statements that visit one value, nested so deep.
func visitMessages(f *goFile, t *Type, value string, depth int) {
	switch t.Kind {
	case Message:
		f.printf("\tf(&%s)\n", value)
	case Struct:
		f.printf("\t%s.EachMessage(f)\n", value)
	case Pointer:
		f.printf("\tif %s != nil {\n", value)
		if t.Elem.Kind == Message {
			f.printf("\tf(%s)\n", value)
		} else {
			visitMessages(f, t.Elem, value, depth)
		}
		f.printf("\t}\n")
	case Slice:
		i := string(rune('i' + depth))
		f.printf("\tfor %s := range %s {\n", i, value)
		visitMessages(f, t.Elem, value+"["+i+"]", depth+1)
		f.printf("\t}\n")
	default: // the values of a map have no address
		f.printf("\t#%s: messages in a map can not be visited\n", value)
	}
}
