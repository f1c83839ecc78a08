package authoring

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	"doorsill/internal/checklist"
)

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
func Parse(name string, data []byte) (*checklist.Definition, error) {
	definition, _, err := parse(name, data)
	return definition, err
}

// Check is Parse for whoever writes a definition. It also returns what is
// allowed but probably not meant, in the order of the file.
func Check(name string, data []byte) (*checklist.Definition, []Warning, error) {
	definition, lines, err := parse(name, data)
	if err != nil {
		return nil, nil, err
	}
	return definition, lint(name, definition, lines), nil
}

// parse checks every value and then reads the definition as the program in the
// browser reads it, so that both hold the same.
func parse(name string, data []byte) (*checklist.Definition, lines, error) {
	problems := &problems{file: name}
	root, ok := (&tree{data: data, found: problems.add}).read()
	if !ok {
		return nil, nil, problems.sorted()
	}
	p := &parser{problems: problems, lines: lines{}, seen: map[string]int{}}
	p.definition(root)
	if len(problems.found) > 0 {
		return nil, nil, problems.sorted()
	}
	sum := sha256.Sum256(data)
	definition, err := checklist.Read(data, hex.EncodeToString(sum[:]))
	if err != nil {
		return nil, nil, fmt.Errorf("read %s, which was found to be right: %w", name, err)
	}
	return definition, p.lines, nil
}

// lines says where each section and item begins, by "section CODE" or "item ID".
type lines map[string]int

// parser holds what is shared while the sections are checked.
type parser struct {
	*problems
	lines lines
	// seen says where an item id or section code was first used.
	seen map[string]int
	// help is true when an item needs the levels that help items share.
	help bool
	// format is the definition's own, or empty.
	format string
}

func (p *parser) definition(root value) {
	o, ok := p.object(root, "", []string{"format", "id", "version", "title", "note", "help", "sections"})
	if !ok {
		return
	}
	p.format = o.choice("format", checklist.Formats(), true)
	o.id("id")
	o.match("version", versionPattern, "a version of letters, digits, dots and hyphens, at most 40")
	o.text("title", maxTitle, true)
	o.text("note", maxNote, false)
	for i, v := range o.list("sections", 1, maxSections, true) {
		p.section(v, at("sections", i))
	}
	if p.help || o.has("help") {
		o.levels("help", checklist.Levels(checklist.TypeHelp), true)
	}
}

func (p *parser) section(v value, field string) {
	o, ok := p.object(v, field, []string{"code", "title", "items"})
	if !ok {
		return
	}
	code := o.id("code")
	o.text("title", maxTitle, true)
	p.once(o, "code", "section "+code, "section code")
	p.lines["section "+code] = v.line
	for i, each := range o.list("items", 1, maxItems, true) {
		p.item(each, at(join(field, "items"), i))
	}
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

// levels wants exactly these levels in their order.
func (o object) levels(name string, want []string, named bool) {
	list := o.list(name, len(want), len(want), true)
	if len(list) != len(want) {
		return
	}
	for i, v := range list {
		o.level(v, at(join(o.field, name), i), want[i], named)
	}
}

func (o object) level(v value, field, want string, named bool) {
	known := []string{"level", "text"}
	if named {
		known = []string{"level", "name", "text"}
	}
	each, ok := o.object(v, field, known)
	if !ok {
		return
	}
	each.text("text", maxText, true)
	if named {
		each.text("name", maxTitle, true)
	}
	wanted := checklist.Quote(want) + ", as levels run from best to worst"
	text, ok := each.get("level", kindText, wanted, true)
	if ok && text.text != want {
		each.wrong("level", wanted, text.shown())
	}
}
