package codegen

import (
	"fmt"
	"slices"
	"strings"
)

// Group is a closed list of words, such as the kinds of event.
type Group struct {
	// Name is the exported constant, Type the union of its words.
	Name, Type string
	Values     []string
}

// TypeScript is a module of declarations under way.
type TypeScript struct {
	out   strings.Builder
	seen  map[string]*Named
	queue []*Named
	err   error
	// usesMessage says that some type holds a message.Message.
	usesMessage bool
}

// NewTypeScript begins a module.
func NewTypeScript() *TypeScript {
	w := &TypeScript{seen: map[string]*Named{}}
	w.out.WriteString("// " + header + "\n")
	return w
}

// Types declares types and every type that they reach. The order is that of the
// arguments, so that equal input gives equal bytes.
func (w *TypeScript) Types(types []*Named) {
	for _, n := range types {
		w.want(n)
	}
	for len(w.queue) > 0 && w.err == nil {
		next := w.queue[0]
		w.queue = w.queue[1:]
		w.declare(next)
	}
	if w.usesMessage {
		w.out.WriteString(messageType)
	}
}

// messageType is the JSON form of message.Message, which is written by hand.
const messageType = `
export type MessageArg = number | null | string | readonly string[] | Message | readonly Message[];

export interface Message {
  readonly code: string;
  readonly args?: Readonly<Record<string, MessageArg>>;
  readonly text?: string;
}
`

// Text returns the module.
func (w *TypeScript) Text() (string, error) { return w.out.String(), w.err }

// want puts a named type in the queue once and returns its name.
func (w *TypeScript) want(n *Named) string {
	had, ok := w.seen[n.Name]
	if !ok {
		w.seen[n.Name] = n
		w.queue = append(w.queue, n)
	} else if had != n {
		w.fail(fmt.Errorf("two types are called %s: in %s and %s", n.Name, had.pkg.path, n.pkg.path))
	}
	return n.Name
}

func (w *TypeScript) fail(err error) {
	if w.err == nil {
		w.err = fmt.Errorf("write types: %w", err)
	}
}

func (w *TypeScript) declare(n *Named) {
	t, err := n.resolve(n.expr)
	if err != nil {
		w.fail(fmt.Errorf("%s: %w", n.Name, err))
		return
	}
	if t.Kind != Struct {
		fmt.Fprintf(&w.out, "\nexport type %s = %s;\n", n.Name, w.form(t))
		return
	}
	var parents string
	for _, f := range t.fields {
		if f.Embedded {
			parents += ", " + w.want(f.Type.Named)
		}
	}
	if parents != "" {
		parents = " extends" + parents[1:]
	}
	fmt.Fprintf(&w.out, "\nexport interface %s%s {\n%s}\n", n.Name, parents, w.fields(t.fields))
}

func (w *TypeScript) fields(fields []Field) string {
	var lines strings.Builder
	for _, f := range fields {
		if f.Embedded {
			continue
		}
		optional := ""
		if f.Omit != "" {
			optional = "?"
		}
		fmt.Fprintf(&lines, "  readonly %s%s: %s;\n", f.JSON, optional, w.ref(f.Type, f.Omit != ""))
	}
	return lines.String()
}

// ref says how a field of type t is written. A pointer may be null unless the
// field is left out when it is nil.
func (w *TypeScript) ref(t *Type, optional bool) string {
	switch {
	case t.Kind == Raw:
		return "unknown"
	case t.Kind == Pointer && optional:
		return w.ref(t.Elem, false)
	case t.Kind == Pointer:
		return w.ref(t.Elem, false) + " | null"
	case t.Named != nil:
		return w.want(t.Named)
	}
	return w.form(t)
}

func (w *TypeScript) form(t *Type) string {
	switch t.Kind {
	case String, Bytes: // bytes travel as base64 text
		return "string"
	case Bool:
		return "boolean"
	case Integer, Number, Decimal:
		return "number"
	case Message:
		w.usesMessage = true
		return "Message"
	case Map:
		return fmt.Sprintf("Readonly<Record<%s, %s>>", w.ref(t.Key, false), w.ref(t.Elem, false))
	case Struct:
		return "{\n" + w.fields(t.fields) + "}"
	}
	elem := w.ref(t.Elem, false)
	if strings.ContainsAny(elem, " |") {
		elem = "(" + elem + ")"
	}
	return "readonly " + elem + "[]"
}

// Group declares a list of words and their union.
func (w *TypeScript) Group(g Group) {
	fmt.Fprintf(&w.out, "\nexport const %s = [\n", g.Name)
	for _, v := range g.Values {
		fmt.Fprintf(&w.out, "  '%s',\n", v)
	}
	fmt.Fprintf(&w.out, "] as const;\nexport type %s = (typeof %s)[number];\n", g.Type, g.Name)
}

// Constant declares a text.
func (w *TypeScript) Constant(name, value string) {
	fmt.Fprintf(&w.out, "\nexport const %s = '%s';\n", name, value)
}

// Limit is a number under the name that TypeScript gives it.
type Limit struct {
	Name  string
	Value int64
}

// Limits declares numbers by their names.
func (w *TypeScript) Limits(name string, limits []Limit) {
	fmt.Fprintf(&w.out, "\nexport const %s = {\n", name)
	for _, l := range limits {
		fmt.Fprintf(&w.out, "  %s: %d,\n", l.Name, l.Value)
	}
	w.out.WriteString("} as const;\n")
}

// KindTable declares what an event of each kind is about, whether an amendment
// may carry it and who may write it.
func (w *TypeScript) KindTable(rows []KindRow) {
	w.out.WriteString("\nexport const kindTable: Readonly<Record<Kind, {\n  readonly subject: Subject;\n  readonly amendable: boolean;\n  readonly roles: readonly Role[];\n}>> = {\n")
	for _, row := range rows {
		roles := make([]string, len(row.Roles))
		for i, role := range row.Roles {
			roles[i] = "'" + role + "'"
		}
		fmt.Fprintf(&w.out, "  '%s': { subject: '%s', amendable: %t, roles: [%s] },\n", row.Name, row.Subject, row.Amendable, strings.Join(roles, ", "))
	}
	w.out.WriteString("};\n")
}

// Op is something that can be asked of a program, with the types of question and
// answer. Without Answer it is answered null.
type Op struct {
	Name, Question, Answer string
	// OrNull says that the answer may be null too.
	OrNull bool
}

// Ops declares the types of question and answer by op.
func (w *TypeScript) Ops(ops []Op) {
	w.out.WriteString("\n/** What can be asked of the tablet's program, as [question, answer]. */\nexport interface ProgramOps {\n")
	for _, op := range ops {
		answer := "null"
		switch {
		case op.OrNull:
			answer = op.Answer + " | null"
		case op.Answer != "":
			answer = op.Answer
		}
		fmt.Fprintf(&w.out, "  readonly '%s': readonly [%s, %s];\n", op.Name, op.Question, answer)
	}
	w.out.WriteString("}\nexport type Op = keyof ProgramOps;\n")
}

// Ranges declares the ranges and units of numbers and the lengths of texts, by
// kind of event and field. A range that ends at another field has no end here.
func (w *TypeScript) Ranges(p *Package, rows []KindRow) {
	w.out.WriteString("\nexport interface NumberRange {\n  readonly low: number;\n  readonly high?: number;\n  readonly unit?: string;\n}\n\nexport const ranges = {\n")
	var lengths strings.Builder
	for _, row := range rows {
		fields, err := p.types[row.Body].Fields()
		if err != nil {
			w.fail(err)
			return
		}
		w.rangesOf(p, row.Name, fields)
		lengthsOf(&lengths, p, row.Name, fields)
	}
	w.out.WriteString("} as const satisfies Readonly<Partial<Record<Kind, Readonly<Record<string, NumberRange>>>>>;\n")
	w.out.WriteString("\nexport const lengths = {\n" + lengths.String() + "} as const satisfies Readonly<Partial<Record<Kind, Readonly<Record<string, number>>>>>;\n")
}

func (w *TypeScript) rangesOf(p *Package, kind string, fields []Field) {
	var lines []string
	for _, f := range fields {
		i := slices.IndexFunc(f.Check, isRange)
		if i < 0 {
			continue
		}
		low, high, _ := strings.Cut(f.Check[i], "..")
		line := "low: " + low
		if high, is := p.number(high); is {
			line += ", high: " + high
		}
		if unit, _, _ := strings.Cut(f.Unit, ","); unit != "" {
			line += ", unit: '" + unit + "'"
		}
		lines = append(lines, fmt.Sprintf("    %s: { %s },\n", f.JSON, line))
	}
	writeBlock(&w.out, kind, lines)
}

func lengthsOf(out *strings.Builder, p *Package, kind string, fields []Field) {
	var lines []string
	for _, f := range fields {
		if longest, is := f.option("max="); is {
			longest, _ = p.number(longest)
			lines = append(lines, fmt.Sprintf("    %s: %s,\n", f.JSON, longest))
		}
	}
	writeBlock(out, kind, lines)
}

func writeBlock(out *strings.Builder, kind string, lines []string) {
	if lines != nil {
		fmt.Fprintf(out, "  '%s': {\n%s  },\n", kind, strings.Join(lines, ""))
	}
}

// Named returns types by "package.Name", the package by its path below
// internal, or server.
func (s *Source) Named(names ...string) ([]*Named, error) {
	var types []*Named
	for _, name := range names {
		at := strings.LastIndexByte(name, '.')
		path := "doorsill/internal/" + name[:at]
		if name[:at] == "server" {
			path = "doorsill/server"
		}
		p, err := s.Package(path)
		if err != nil {
			return nil, err
		}
		if p.types[name[at+1:]] == nil {
			return nil, fmt.Errorf("%s has no type %s", path, name[at+1:])
		}
		types = append(types, p.types[name[at+1:]])
	}
	return types, nil
}
