package checklist

import "doorsill/internal/checklist/rules"

// Most that a definition can hold.
const (
	maxSections = 40
	maxItems    = 100 // in one section
	maxTitle    = 60
	maxText     = 400
	maxNote     = 1000
)

// Parse reads a definition. The error is of type Problems and names everything
// that is wrong, each with its line and field; name is the file's name in it.
// A file that is not JSON, larger than 1 MiB or nested too deep has a single
// problem.
func Parse(name string, data []byte) (*Definition, error) {
	p := &problems{file: name}
	root, ok := (&tree{data: data, found: p.add}).read()
	if !ok {
		return nil, p.sorted()
	}
	d := p.definition(root)
	if len(p.found) > 0 {
		return nil, p.sorted()
	}
	d.seal(name, data)
	return d, nil
}

// parser holds what is shared while the sections are read.
type parser struct {
	*problems
	d *Definition
	// seen says where an item id or section code was first used.
	seen map[string]int
	help bool
}

func (p *problems) definition(root value) *Definition {
	d := &Definition{lines: map[string]int{}}
	o, ok := p.object(root, "", []string{"format", "id", "version", "title", "note", "help", "sections"})
	if !ok {
		return d
	}
	d.Format = o.choice("format", []string{Format}, true)
	d.ID = o.id("id")
	d.Version = o.match("version", versionPattern, "a version of letters, digits, dots and hyphens, at most 40")
	d.Title = o.text("title", maxTitle, true)
	d.Note = o.text("note", maxNote, false)
	ps := &parser{problems: p, d: d, seen: map[string]int{}}
	for i, v := range o.list("sections", 1, maxSections, true) {
		d.Sections = append(d.Sections, ps.section(v, at("sections", i)))
	}
	if ps.help || o.has("help") {
		d.Help = o.levels("help", rules.Levels(rules.Help), true)
	}
	return d
}

func (p *parser) section(v value, field string) Section {
	o, ok := p.object(v, field, []string{"code", "title", "items"})
	if !ok {
		return Section{}
	}
	s := Section{Code: o.id("code"), Title: o.text("title", maxTitle, true)}
	p.once(o, "code", "section "+s.Code, "section code")
	p.d.lines["section "+s.Code] = v.line
	for i, each := range o.list("items", 1, maxItems, true) {
		s.Items = append(s.Items, p.item(each, at(join(field, "items"), i)))
	}
	return s
}

// once reports a name that was used before.
func (p *parser) once(o object, name, key, what string) {
	if !o.has(name) {
		return
	}
	if before, used := p.seen[key]; used {
		o.wrong(name, "each "+what+" once", o.value.member(name).value.shown()+" again, first on line "+itoa(before))
		return
	}
	p.seen[key] = o.line(name)
}

// levels reads exactly the wanted levels in their order.
func (o object) levels(name string, want []string, named bool) []Level {
	list := o.list(name, len(want), len(want), true)
	if len(list) != len(want) {
		return nil
	}
	levels := make([]Level, len(list))
	for i, v := range list {
		levels[i] = o.level(v, at(join(o.field, name), i), want[i], named)
	}
	return levels
}

func (o object) level(v value, field, want string, named bool) Level {
	known := []string{"level", "text"}
	if named {
		known = []string{"level", "name", "text"}
	}
	each, ok := o.object(v, field, known)
	if !ok {
		return Level{}
	}
	level := Level{Text: each.text("text", maxText, true)}
	if named {
		level.Name = each.text("name", maxTitle, true)
	}
	wanted := quote(want) + ", as levels run from best to worst"
	text, ok := each.get("level", kindText, wanted, true)
	if ok && text.text != want {
		each.wrong("level", wanted, text.shown())
	}
	level.Level = want
	return level
}
