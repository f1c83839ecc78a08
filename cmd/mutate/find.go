package main

import (
	"fmt"
	"go/ast"
	"go/token"
	"go/types"
	"path/filepath"
	"slices"
	"strings"
)

// mutant is one change. Its number is its place in the list.
type mutant struct {
	// file and line are for the reader, fn and what also name it in known/.
	file string
	line int
	fn   string
	what string
	// unreached: no test comes to where it would make a difference.
	unreached bool
}

// finder collects the changes that can be made to a package.
type finder struct {
	*source
	only    string
	mutants []mutant
	edits   map[string][]edit
	// file and fn are where the finder is.
	file *file
	fn   string
	// wanted are conditions whose changes depend on what stands around them,
	// bare constants of which a bound leaves one side, and what is left alone.
	wanted map[ast.Expr]changes
	bound  map[ast.Expr]int
	skip   map[ast.Node]bool
}

// find lists the changes in functions whose name contains only, or in files that it
// names, with the edits that put them behind their numbers.
func find(s *source, only string) *finder {
	f := &finder{source: s, only: only, edits: map[string][]edit{},
		wanted: map[ast.Expr]changes{}, bound: map[ast.Expr]int{}, skip: map[ast.Node]bool{}}
	for i := range s.files {
		f.file = &s.files[i]
		for _, decl := range f.file.tree.Decls {
			f.fn = nameOf(decl)
			ast.Inspect(decl, f.visit)
		}
	}
	return f
}

func nameOf(decl ast.Decl) string {
	switch d := decl.(type) {
	case *ast.FuncDecl:
		if d.Recv == nil {
			return d.Name.Name
		}
		return strings.TrimPrefix(types.ExprString(d.Recv.List[0].Type), "*") + "." + d.Name.Name
	case *ast.GenDecl:
		if v, ok := d.Specs[0].(*ast.ValueSpec); ok {
			return v.Names[0].Name
		}
	}
	return ""
}

// asked says whether changes are asked for where the finder is: by the name of a
// function, or of files, with commas between.
func (f *finder) asked() bool {
	if !strings.HasSuffix(f.only, ".go") {
		return strings.Contains(f.fn, f.only)
	}
	return slices.Contains(strings.Split(f.only, ","), filepath.Base(f.file.path))
}

// add notes a change and returns its number, which is -1, and on never, when
// the change is not asked for.
func (f *finder) add(at ast.Node, format string, args ...any) int {
	if !f.asked() {
		return -1
	}
	f.mutants = append(f.mutants, mutant{file: f.file.path, line: f.fset.Position(at.Pos()).Line, fn: f.fn, what: fmt.Sprintf(format, args...)})
	return len(f.mutants) - 1
}

// wrap puts text before and after a node.
func (f *finder) wrap(n ast.Node, before, after string) {
	list := f.edits[f.file.path]
	from, to := f.offset(n.Pos()), f.offset(n.End())
	order := len(list) + 1
	f.edits[f.file.path] = append(list, edit{from, from, before, order}, edit{to, to, after, -order})
}

func (f *finder) replace(pos token.Pos, length int, text string) {
	from := f.offset(pos)
	f.edits[f.file.path] = append(f.edits[f.file.path], edit{from, from + length, text, 0})
}

func (f *finder) offset(pos token.Pos) int { return f.fset.Position(pos).Offset }

// code is the source of a node in one line.
func (f *finder) code(n ast.Node) string {
	const most = 90
	text := strings.Join(strings.Fields(string(f.file.text[f.offset(n.Pos()):f.offset(n.End())])), " ")
	if len(text) > most {
		text = text[:most] + "…"
	}
	return text
}

// visit handles one node and says whether to go on below it.
func (f *finder) visit(n ast.Node) bool {
	if n == nil || f.skip[n] {
		return false
	}
	switch n := n.(type) {
	case *ast.GenDecl:
		return n.Tok == token.VAR
	case *ast.ArrayType, *ast.StructType, *ast.InterfaceType, *ast.FuncType, *ast.MapType:
		return false
	case *ast.BlockStmt:
		f.statements(n.List)
	case *ast.CommClause:
		f.statements(n.Body)
	case *ast.CaseClause:
		f.statements(n.Body)
	case *ast.CompositeLit:
		f.skipKeys(n)
	case *ast.ReturnStmt:
		f.errors(n)
	case *ast.CallExpr:
		if len(n.Args) == 3 && isMake(n) {
			f.skip[n.Args[2]] = true // how much room to begin with
		}
	}
	f.conditions(n)
	if e, ok := n.(ast.Expr); ok {
		return f.expression(e)
	}
	return true
}

// skipKeys leaves the places of an array and the fields of a struct alone, which
// must be constant.
func (f *finder) skipKeys(lit *ast.CompositeLit) {
	if _, isMap := f.types.TypeOf(lit).Underlying().(*types.Map); isMap {
		return
	}
	for _, e := range lit.Elts {
		if pair, ok := e.(*ast.KeyValueExpr); ok {
			f.skip[pair.Key] = true
		}
	}
}

// expression handles an expression and says whether to go on below it.
func (f *finder) expression(e ast.Expr) bool {
	known := f.types.Types[e]
	if known.IsType() {
		return false
	}
	if known.Value != nil {
		f.constant(e, known)
		return false
	}
	if b, ok := e.(*ast.BinaryExpr); ok {
		f.binary(b)
	}
	return true
}
