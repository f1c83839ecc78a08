// Package codegen writes what follows from the structs of package model: Go
// code that reads, writes and checks them, the types and tables of the front
// end, and JSON Schemas. It reads source text and not compiled types, so that it
// works while generated code is missing or out of date.
package codegen

import (
	"fmt"
	"go/ast"
	"go/constant"
	"go/parser"
	"go/token"
	"maps"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"time"
)

// Source finds packages of one module and keeps what it has read.
type Source struct {
	root, module string
	packages     map[string]*Package
}

// NewSource reads packages of a module whose go.mod lies in root.
func NewSource(root, module string) *Source {
	return &Source{root, module, map[string]*Package{}}
}

// Package is the part of a package that generators need.
type Package struct {
	source *Source
	path   string
	// types are all named types, order their names as they stand in the files.
	types map[string]*Named
	order []string
	// consts hold the values of constants that are texts or numbers, lists the
	// words of functions and variables that are a list of texts.
	consts map[string]string
	lists  map[string][]string
	// methods are the names of methods by type.
	methods map[string][]string
	// vars are the values of package variables.
	vars map[string]ast.Expr
}

// Named is a named type.
type Named struct {
	Name string
	Doc  string
	pkg  *Package
	file *ast.File
	expr ast.Expr
	// directives are the lines "//codegen:" of its comment, by their first word.
	directives map[string]string
}

// Package reads a package by its import path.
func (s *Source) Package(path string) (*Package, error) {
	if had := s.packages[path]; had != nil {
		return had, nil
	}
	dir := filepath.Join(s.root, filepath.FromSlash(strings.TrimPrefix(path, s.module)))
	names, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil {
		return nil, err
	}
	p := &Package{source: s, path: path, types: map[string]*Named{}, consts: map[string]string{},
		lists: map[string][]string{}, methods: map[string][]string{}, vars: map[string]ast.Expr{}}
	var files []*ast.File
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") || strings.HasSuffix(name, "_gen.go") {
			continue
		}
		text, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, text, parser.ParseComments)
		if err != nil {
			return nil, fmt.Errorf("parse %s: %w", name, err)
		}
		files = append(files, file)
	}
	if len(files) == 0 {
		return nil, fmt.Errorf("no Go files of %s in %s", path, dir)
	}
	p.read(files)
	s.packages[path] = p
	return p, nil
}

// read takes constants first, as lists are made of them.
func (p *Package) read(files []*ast.File) {
	for _, file := range files {
		for _, decl := range file.Decls {
			if gen, is := decl.(*ast.GenDecl); is {
				p.readGeneral(file, gen)
			}
		}
	}
	for name, value := range p.vars {
		if words, ok := p.words(value); ok {
			p.lists[name] = words
		}
	}
	for _, file := range files {
		for _, decl := range file.Decls {
			if fn, is := decl.(*ast.FuncDecl); is {
				p.readFunc(fn)
			}
		}
	}
}

func (p *Package) readGeneral(file *ast.File, decl *ast.GenDecl) {
	for _, spec := range decl.Specs {
		switch spec := spec.(type) {
		case *ast.TypeSpec:
			doc := spec.Doc
			if doc == nil {
				doc = decl.Doc
			}
			p.types[spec.Name.Name] = &Named{Name: spec.Name.Name, Doc: text(doc), pkg: p, file: file, expr: spec.Type, directives: directives(doc)}
			p.order = append(p.order, spec.Name.Name)
		case *ast.ValueSpec:
			for i, name := range spec.Names {
				if i >= len(spec.Values) {
					continue
				}
				if value, ok := p.constant(spec.Values[i]); ok && decl.Tok == token.CONST {
					p.consts[name.Name] = value
				} else if decl.Tok == token.VAR {
					p.vars[name.Name] = spec.Values[i]
				}
			}
		}
	}
}

// readFunc keeps the name of a method, and the words of a function that returns
// nothing but a list of them.
func (p *Package) readFunc(fn *ast.FuncDecl) {
	if fn.Recv != nil {
		t := fn.Recv.List[0].Type
		if star, is := t.(*ast.StarExpr); is {
			t = star.X
		}
		if name, is := t.(*ast.Ident); is {
			p.methods[name.Name] = append(p.methods[name.Name], fn.Name.Name)
		}
		return
	}
	if fn.Body == nil || len(fn.Body.List) != 1 {
		return
	}
	if ret, is := fn.Body.List[0].(*ast.ReturnStmt); is && len(ret.Results) == 1 {
		if words, ok := p.words(ret.Results[0]); ok {
			p.lists[fn.Name.Name] = words
		}
	}
}

// constant returns the value of a literal or of a constant that was read.
func (p *Package) constant(expr ast.Expr) (string, bool) {
	switch e := expr.(type) {
	case *ast.BasicLit:
		if e.Kind != token.STRING {
			return strings.ReplaceAll(e.Value, "_", ""), true
		}
		value, err := strconv.Unquote(e.Value)
		return value, err == nil
	case *ast.Ident:
		value, ok := p.consts[e.Name]
		return value, ok
	case *ast.BinaryExpr:
		return p.computed(e)
	}
	return "", false
}

// computed returns the whole number that two make, such as 4 << 20 and
// 5 * time.Minute, which is in nanoseconds.
func (p *Package) computed(e *ast.BinaryExpr) (string, bool) {
	x, y := p.whole(e.X), p.whole(e.Y)
	if x.Kind() != constant.Int || y.Kind() != constant.Int {
		return "", false
	}
	if e.Op == token.SHL {
		by, exact := constant.Uint64Val(y)
		return constant.Shift(x, token.SHL, uint(by)).ExactString(), exact && by < 64
	}
	if e.Op != token.ADD && e.Op != token.SUB && e.Op != token.MUL {
		return "", false
	}
	return constant.BinaryOp(x, e.Op, y).ExactString(), true
}

var durations = map[string]time.Duration{"Second": time.Second, "Minute": time.Minute, "Hour": time.Hour}

func (p *Package) whole(expr ast.Expr) constant.Value {
	if of, is := expr.(*ast.SelectorExpr); is && isIdent(of.X, "time") {
		if d, known := durations[of.Sel.Name]; known {
			return constant.MakeInt64(int64(d))
		}
	}
	text, ok := p.constant(expr)
	if !ok {
		return constant.MakeUnknown()
	}
	return constant.MakeFromLiteral(text, token.INT, 0)
}

// words returns the words of a list of texts.
func (p *Package) words(expr ast.Expr) ([]string, bool) {
	list, is := expr.(*ast.CompositeLit)
	if !is {
		return nil, false
	}
	if array, is := list.Type.(*ast.ArrayType); !is || !isIdent(array.Elt, "string") {
		return nil, false
	}
	words := []string{}
	for _, elt := range list.Elts {
		word, ok := p.constant(elt)
		if !ok {
			return nil, false
		}
		words = append(words, word)
	}
	return words, true
}

// Words returns the list of texts that a function or variable holds.
func (p *Package) Words(name string) ([]string, error) {
	if words, ok := p.lists[name]; ok {
		return words, nil
	}
	return nil, fmt.Errorf("%s has no list of words called %s", p.path, name)
}

// Constant returns the value of a constant that is a text.
func (p *Package) Constant(name string) (string, error) {
	if value, ok := p.consts[name]; ok {
		return value, nil
	}
	return "", fmt.Errorf("%s has no constant text called %s", p.path, name)
}

// Number returns the value of a constant that is a whole number; a duration is
// in nanoseconds.
func (p *Package) Number(name string) (int64, error) {
	n, err := strconv.ParseInt(p.consts[name], 10, 64)
	if err != nil {
		return 0, fmt.Errorf("%s has no whole number called %s", p.path, name)
	}
	return n, nil
}

// number returns the number that a text is, or the constant that it names.
func (p *Package) number(text string) (string, bool) {
	if value, is := p.consts[text]; is {
		text = value
	}
	_, err := strconv.ParseFloat(text, 64)
	return text, err == nil
}

func isIdent(expr ast.Expr, name string) bool {
	id, is := expr.(*ast.Ident)
	return is && id.Name == name
}

func text(doc *ast.CommentGroup) string {
	return strings.Join(strings.Fields(doc.Text()), " ")
}

func directives(doc *ast.CommentGroup) map[string]string {
	found := map[string]string{}
	if doc == nil {
		return found
	}
	for _, line := range doc.List {
		if rest, is := strings.CutPrefix(line.Text, "//codegen:"); is {
			word, arg, _ := strings.Cut(rest, " ")
			found[word] = arg
		}
	}
	return found
}

// Field is one field of a struct.
type Field struct {
	// Name is the Go name, JSON the name on the wire.
	Name, JSON string
	// Omit is "omitempty", "omitzero" or empty.
	Omit     string
	Doc      string
	Embedded bool
	Type     *Type
	// Check, Want and Unit are the tags.
	Check      []string
	Want, Unit string
}

// has reports whether a word stands in the tag check.
func (f *Field) has(word string) bool { return slices.Contains(f.Check, word) }

// option returns what stands after a word such as "max=" in the tag check.
func (f *Field) option(word string) (string, bool) {
	for _, c := range f.Check {
		if rest, is := strings.CutPrefix(c, word); is {
			return rest, true
		}
	}
	return "", false
}

// Fields returns the fields that have a JSON form.
func (n *Named) Fields() ([]Field, error) {
	list, is := n.expr.(*ast.StructType)
	if !is {
		return nil, fmt.Errorf("%s is not a struct", n.Name)
	}
	return n.fieldsOf(list)
}

// flatFields returns the fields with those of embedded structs in their places.
func (n *Named) flatFields() ([]Field, error) {
	fields, err := n.Fields()
	if err != nil {
		return nil, err
	}
	var flat []Field
	for _, field := range fields {
		inner := []Field{field}
		if field.Embedded {
			of := n.pkg.types[field.Type.Name]
			if of == nil {
				return nil, fmt.Errorf("%s: no reader for the embedded %s", n.Name, field.Name)
			}
			if inner, err = of.flatFields(); err != nil {
				return nil, err
			}
		}
		flat = append(flat, inner...)
	}
	return flat, nil
}

func (n *Named) fieldsOf(list *ast.StructType) ([]Field, error) {
	var fields []Field
	var shared string // one comment may speak of several fields
	for _, f := range list.Fields.List {
		t, err := n.resolve(f.Type)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", n.Name, err)
		}
		names := f.Names
		if names == nil {
			names = []*ast.Ident{ast.NewIdent(t.Name[strings.LastIndexByte(t.Name, '.')+1:])}
		}
		if f.Doc != nil {
			shared = text(f.Doc)
		}
		for _, name := range names {
			field := Field{Name: name.Name, Embedded: f.Names == nil, Type: t}
			if f.Doc != nil || strings.Contains(shared, name.Name) {
				field.Doc = shared
			}
			if field.readTags(f.Tag) {
				fields = append(fields, field)
			}
		}
	}
	return fields, nil
}

// readTags reports whether the field has a JSON form.
func (f *Field) readTags(lit *ast.BasicLit) bool {
	var tag reflect.StructTag
	if lit != nil {
		tag = reflect.StructTag(strings.Trim(lit.Value, "`"))
	}
	name, options, _ := strings.Cut(tag.Get("json"), ",")
	if !ast.IsExported(f.Name) && !f.Embedded || name == "-" {
		return false
	}
	f.Embedded = f.Embedded && name == ""
	f.JSON = name
	if name == "" {
		f.JSON = f.Name
	}
	for option := range strings.SplitSeq(options, ",") {
		if option == "omitempty" || option == "omitzero" {
			f.Omit = option
		}
	}
	if check := tag.Get("check"); check != "" {
		f.Check = strings.Split(check, ",")
	}
	f.Want, f.Unit = tag.Get("want"), tag.Get("unit")
	return true
}

// structs returns the structs of a package that have a JSON form, in their order.
func (p *Package) structs() []*Named {
	var list []*Named
	for _, name := range p.order {
		if n := p.types[name]; n.hasJSON() {
			list = append(list, n)
		}
	}
	return list
}

func (n *Named) hasJSON() bool {
	list, is := n.expr.(*ast.StructType)
	return is && slices.ContainsFunc(list.Fields.List, func(f *ast.Field) bool {
		return f.Names == nil || f.Tag != nil && strings.Contains(f.Tag.Value, "json:")
	})
}

// reachable returns the structs of the package that roots hold, roots included.
func (p *Package) reachable(roots []*Named) ([]*Named, error) {
	found := map[string]bool{}
	for queue := slices.Clone(roots); len(queue) > 0; queue = queue[1:] {
		n := queue[0]
		if found[n.Name] {
			continue
		}
		found[n.Name] = true
		fields, err := n.Fields()
		if err != nil {
			return nil, err
		}
		for _, f := range fields {
			if t := f.Type.innermost(); t.Kind == Struct && t.Named != nil && t.Named.pkg == p {
				queue = append(queue, t.Named)
			}
		}
	}
	list := p.structs()
	return slices.DeleteFunc(list, func(n *Named) bool { return !found[n.Name] }), nil
}

// withDirective returns the structs that carry a directive.
func (p *Package) withDirective(word string) []*Named {
	return slices.DeleteFunc(p.structs(), func(n *Named) bool {
		return !slices.Contains(slices.Collect(maps.Keys(n.directives)), word)
	})
}
