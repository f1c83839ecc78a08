package codegen

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
)

// object is a JSON object whose keys stay in order.
type object []member

type member struct {
	key   string
	value any
}

// MarshalJSON writes the members in their order.
func (o object) MarshalJSON() ([]byte, error) {
	var out bytes.Buffer
	out.WriteByte('{')
	for i, m := range o {
		if i > 0 {
			out.WriteByte(',')
		}
		key, err := json.Marshal(m.key)
		if err != nil {
			return nil, err
		}
		out.Write(key)
		out.WriteByte(':')
		value := &bytes.Buffer{}
		enc := json.NewEncoder(value)
		enc.SetEscapeHTML(false)
		if err := enc.Encode(m.value); err != nil {
			return nil, err
		}
		out.Write(bytes.TrimSpace(value.Bytes()))
	}
	out.WriteByte('}')
	return out.Bytes(), nil
}

// Schemas writes JSON Schemas for authors of other clients: of events as a client
// should write them, and of what is written here, which is all with the
// directive write, but for "write inside": that no other client sees. The reader of events is more lenient in one thing: it takes
// null for what is absent.
func Schemas(p *Package) (map[string][]byte, error) {
	events, err := eventSchema(p)
	if err != nil {
		return nil, err
	}
	files := map[string][]byte{}
	if files["event.schema.json"], err = indent(events); err != nil {
		return nil, err
	}
	for _, n := range p.withDirective("write") {
		if n.directives["write"] == "inside" {
			continue
		}
		s := &schema{p: p, written: true}
		ref := s.named(n)
		doc := object{{"$schema", dialect}, {"$id", "urn:doorsill:" + strings.ToLower(n.Name) + ":1"}, {"title", n.Name}, {"$comment", header}}
		doc = append(append(doc, ref...), member{"$defs", s.defs})
		if s.err != nil {
			return nil, fmt.Errorf("%s: %w", n.Name, s.err)
		}
		if files[strings.ToLower(n.Name)+".schema.json"], err = indent(doc); err != nil {
			return nil, err
		}
	}
	return files, nil
}

const dialect = "https://json-schema.org/draft/2020-12/schema"

func indent(doc object) ([]byte, error) {
	text, err := json.Marshal(doc)
	if err != nil {
		return nil, err
	}
	var plain bytes.Buffer
	enc := json.NewEncoder(&plain)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	err = enc.Encode(json.RawMessage(text))
	return plain.Bytes(), err
}

// eventSchema ties the form of the body to the kind. An event of a kind that is
// not in the table is of a later version and is valid.
func eventSchema(p *Package) (object, error) {
	rows, err := p.Kinds()
	if err != nil {
		return nil, err
	}
	s := &schema{p: p}
	event := s.named(p.types["Event"])
	cases := s.kindCases(rows, "body", func(KindRow) bool { return true })
	for i, m := range s.defs {
		if m.key == "AmendmentMade" {
			changes := s.kindCases(rows, "change", func(row KindRow) bool { return row.Amendable })
			s.defs[i].value = append(m.value.(object), member{"allOf", changes})
		}
	}
	doc := object{{"$schema", dialect}, {"$id", "urn:doorsill:event:1"}, {"title", "Event"}, {"$comment", header}}
	return append(append(doc, event...), member{"allOf", cases}, member{"$defs", s.defs}), s.err
}

// kindCases tie the form of a field to the kind beside it.
func (s *schema) kindCases(rows []KindRow, field string, which func(KindRow) bool) []any {
	newest, _ := s.p.number("SchemaNow")
	var cases []any
	for _, row := range rows {
		if which(row) {
			cases = append(cases, object{
				{"if", object{{"properties", object{{"kind", object{{"const", row.Name}}}, {"schema", object{{"maximum", json.Number(newest)}}}}}}},
				{"then", object{{"properties", object{{field, s.named(s.p.types[row.Body])}}}}},
			})
		}
	}
	return cases
}

// schema is a set of definitions under way.
type schema struct {
	p    *Package
	defs object
	// written tells what the program writes, where every field stands that is
	// never left out, from what it reads, where a field may be absent unless its
	// check refuses that.
	written bool
	err     error
}

// named returns a reference to the definition of a struct.
func (s *schema) named(n *Named) object {
	ref := object{{"$ref", "#/$defs/" + n.Name}}
	if slices.ContainsFunc(s.defs, func(m member) bool { return m.key == n.Name }) {
		return ref
	}
	at := len(s.defs)
	s.defs = append(s.defs, member{n.Name, nil})
	fields, err := n.flat()
	if err != nil {
		s.err = err
		return ref
	}
	properties, required := object{}, []string{}
	ownCheck := slices.Contains(n.pkg.methods[n.Name], "Check") // which decides what must be there
	for i := range fields {
		f := &fields[i]
		if s.written && f.Omit == "" || !s.written && !ownCheck && f.refusesAbsent() {
			required = append(required, f.JSON)
		}
		properties = append(properties, member{f.JSON, s.field(f)})
	}
	s.defs[at].value = object{{"description", n.Doc}, {"type", "object"}, {"properties", properties}, {"required", required}}
	return ref
}

// flat returns the fields with those of embedded structs in their place.
func (n *Named) flat() ([]Field, error) {
	fields, err := n.Fields()
	if err != nil {
		return nil, err
	}
	var list []Field
	for _, f := range fields {
		if !f.Embedded {
			list = append(list, f)
			continue
		}
		inner, err := f.Type.Named.flat()
		if err != nil {
			return nil, err
		}
		list = append(list, inner...)
	}
	return list, nil
}

// refusesAbsent reports whether a check refuses what an absent field reads as.
func (f *Field) refusesAbsent() bool {
	if f.Check == nil || f.has("optional") || f.has("zero") || f.Type.Kind == Pointer {
		return false
	}
	if i := slices.IndexFunc(f.Check, isRange); i >= 0 && f.Type.Kind != Map {
		return !strings.HasPrefix(f.Check[i], "0..") && !strings.HasPrefix(f.Check[i], "-") || f.has("named")
	}
	if f.has("required") {
		return true
	}
	_, oneOf := f.option("oneof=")
	return f.Type.Kind == String && (oneOf || formats[f.Check[0]] != "") || f.Type.Kind == Raw || f.Type.Kind == Struct || f.has("schema")
}

func (s *schema) field(f *Field) object {
	var form object
	if f.Doc != "" {
		form = append(form, member{"description", f.Doc})
	}
	if unit, _, _ := strings.Cut(f.Unit, ","); unit != "" {
		form = append(form, member{"$comment", "in " + unit})
	}
	return append(form, s.form(f.Type, f)...)
}

// form is the schema of a type with the limits of a field's tags.
func (s *schema) form(t *Type, f *Field) object {
	switch t.Kind {
	case String, Bytes:
		if t.Name == "Ref" {
			return append(object{{"type", "string"}}, patterns["ref"]...)
		}
		return append(object{{"type", "string"}}, s.textLimits(f)...)
	case Bool:
		return object{{"type", "boolean"}}
	case Integer, Number:
		kind := map[Form]string{Integer: "integer", Number: "number"}[t.Kind]
		return append(object{{"type", kind}}, s.numberLimits(f)...)
	case Decimal:
		return object{{"type", "number"}}
	case Raw:
		return object{{"type", "object"}}
	case Message:
		return s.message()
	case Pointer:
		return s.form(t.Elem, f)
	case Slice:
		return append(s.orNull("array", f), append(object{{"items", s.form(t.Elem, f.element())}}, s.sizeLimits(f, "Items")...)...)
	case Map:
		form := s.orNull("object", f)
		if words, is := f.option("keys="); is {
			if words == "site" {
				words = "Sites"
			}
			list, _ := s.p.Words(words)
			form = append(form, member{"propertyNames", object{{"enum", list}}})
		}
		return append(append(form, member{"additionalProperties", s.form(t.Elem, f.element())}), s.sizeLimits(f, "Properties")...)
	}
	return s.named(t.Named)
}

// orNull is the type of a list or map, which is written as null when there is
// none.
func (s *schema) orNull(kind string, f *Field) object {
	if s.written && f.Omit == "" {
		return object{{"type", []string{kind, "null"}}}
	}
	return object{{"type", kind}}
}

// element is a field as its elements see it: without what counts them.
func (f *Field) element() *Field {
	elem := *f
	elem.Omit = "omitempty"
	elem.Check = slices.DeleteFunc(slices.Clone(f.Check), func(c string) bool {
		return c == "required" || strings.HasPrefix(c, "keys=") || f.Type.Kind == Slice && strings.HasPrefix(c, "max=")
	})
	return &elem
}

func (s *schema) sizeLimits(f *Field, what string) object {
	var limits object
	if f.has("required") {
		limits = append(limits, member{"min" + what, 1})
	}
	if most, is := f.option("max="); is && f.Type.Kind == Slice {
		limits = append(limits, member{"max" + what, json.Number(most)})
	}
	return limits
}

// patterns say in a schema what the formats of the tag check say in Go.
var patterns = map[string]object{
	"id":      {{"pattern", "^[A-Za-z0-9_-]{1,64}$"}},
	"date":    {{"format", "date"}},
	"time":    {{"format", "date-time"}, {"pattern", "Z$"}},
	"sha256":  {{"pattern", "^[0-9a-f]{64}$"}},
	"ref":     {{"pattern", "^[A-Za-z0-9_-]{1,64}:[1-9][0-9]*$"}},
	"item":    {{"pattern", "^[a-z][a-z0-9-]{0,63}$"}},
	"kind":    {{"pattern", "^[a-z0-9-]{1,40}$"}},
	"zone":    {{"minLength", 1}, {"maxLength", 64}},
	"sealing": {{"pattern", "^(IP[X0-6][X0-9][A-Z]{0,2})?$"}},
	"wish":    {{"pattern", "^(class:[a-z-]+|[A-Za-z0-9_-]{1,64})?$"}},
}

func (s *schema) textLimits(f *Field) object {
	var limits object
	words, oneOf := f.option("oneof=")
	if f.has("amendable") {
		return object{{"enum", s.amendable()}}
	}
	if f.has("site") {
		words, oneOf = "Sites", true
	}
	if oneOf {
		list, err := s.p.Words(words)
		if err != nil {
			s.err = err
		}
		if f.has("optional") {
			list = append(slices.Clone(list), "")
		}
		return object{{"enum", list}}
	}
	if f.has("required") {
		limits = append(limits, member{"minLength", 1})
	}
	if longest, is := f.option("max="); is {
		longest, _ = s.p.number(longest)
		return append(limits, member{"maxLength", json.Number(longest)})
	}
	switch {
	case len(f.Check) == 0:
		return limits
	case f.has("optional"):
		return object{{"anyOf", []any{object{{"const", ""}}, patterns[f.Check[0]]}}}
	}
	return patterns[f.Check[0]]
}

func (s *schema) amendable() []string {
	rows, err := s.p.Kinds()
	if err != nil {
		s.err = err
	}
	var names []string
	for _, row := range rows {
		if row.Amendable {
			names = append(names, row.Name)
		}
	}
	return names
}

func (s *schema) numberLimits(f *Field) object {
	if f.has("schema") {
		return object{{"minimum", 1}}
	}
	i := slices.IndexFunc(f.Check, isRange)
	if i < 0 {
		return nil
	}
	low, high, _ := strings.Cut(f.Check[i], "..")
	limits := object{{"minimum", json.Number(low)}}
	if high, is := s.p.number(high); is {
		limits = append(limits, member{"maximum", json.Number(high)})
	}
	if f.has("zero") {
		return object{{"anyOf", []any{object{{"const", 0}}, limits}}}
	}
	return limits
}

// message defines message.Message, whose JSON form is written by hand.
func (s *schema) message() object {
	const name = "Message"
	ref := object{{"$ref", "#/$defs/" + name}}
	if !slices.ContainsFunc(s.defs, func(m member) bool { return m.key == name }) {
		arg := object{{"anyOf", []any{
			object{{"type", []string{"number", "null", "string"}}},
			object{{"type", "array"}, {"items", object{{"anyOf", []any{object{{"type", "string"}}, ref}}}}},
			ref,
		}}}
		s.defs = append(s.defs, member{name, object{
			{"description", "A statement: a code of the catalogue of messages with its arguments. A number that is too large, or none, is null."},
			{"type", "object"},
			{"properties", object{{"code", object{{"type", "string"}}}, {"args", object{{"type", "object"}, {"additionalProperties", arg}}}, {"text", object{{"type", "string"}}}}},
			{"required", []string{"code"}},
		}})
	}
	return ref
}
